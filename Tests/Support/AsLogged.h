// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Log/FrameList.h"

namespace headland::test {

/// A frame as the log and the window keep it: to the last decimal of each figure.
inline cut::CutFrame asLogged(const cut::CutFrame& frame) {
    log::FrameList list;
    list.push_back(frame);
    return list.back();
}

} // namespace headland::test
