// SPDX-License-Identifier: GPL-3.0-or-later
// Tells other programs how the cut stands, over OSC (UDP): one bundle a call, with pitch, depth, radius, state and what is
// left. Sends only; nothing is ever received. Service thread.
#pragma once

#include "HandOff/LiveEvents.h"

#include <juce_osc/juce_osc.h>

#include <string>

namespace headland::plugin {

class OscOut {
public:
    /// Sends the status to `host`:`port`; connects anew when they have changed. Failures are kept for trouble().
    void send(const handoff::LiveStatus& status, const std::string& host, int port);
    /// Ends the connection.
    void stop();

    /// Why nothing arrives, as far as this end knows, one sentence; empty when nothing is known to be wrong.
    const std::string& trouble() const noexcept { return trouble_; }

private:
    bool connectTo(const std::string& host, int port);

    juce::OSCSender sender;
    std::string host_;
    int port_ = 0; ///< 0: not connected
    std::string trouble_;
};

/// What is sent for a status. Pitch and depth in µm, as the lathe moves, 0 while the stylus is up; radius in mm, and what
/// is left in mm of radius and in minutes, only of a cut that is under way.
juce::OSCBundle oscBundle(const handoff::LiveStatus& status);

} // namespace headland::plugin
