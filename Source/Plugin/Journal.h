// SPDX-License-Identifier: GPL-3.0-or-later
// Who is told of every cut from its first frame to its end: the log. Service thread; may take its time.
#pragma once

#include "HandOff/LiveEvents.h"
#include "Plugin/LiveCut.h"

#include <string>

namespace headland::plugin {

class Journal {
public:
    virtual ~Journal() = default;

    virtual void begin(const LiveSetup& setup) = 0;
    virtual void frame(const cut::CutFrame& frame) = 0;
    /// `framesLost`: of this cut, for want of room on the way.
    virtual void end(handoff::CutEnd reason, std::uint64_t framesLost) = 0;
    /// What is wrong with the log, one sentence; empty when nothing is.
    virtual std::string trouble() const = 0;
};

} // namespace headland::plugin
