// SPDX-License-Identifier: GPL-3.0-or-later
#include "Log/CutEndText.h"

namespace headland::log {

std::string describe(handoff::CutEnd reason) {
    switch (reason) {
    case handoff::CutEnd::finished:
        return "finished";
    case handoff::CutEnd::discEnded:
        return "ended as a fault: the disc ended before the program";
    case handoff::CutEnd::lifted:
        return "lifted";
    case handoff::CutEnd::rateChanged:
        return "ended as a fault: the sample rate changed with the stylus down";
    case handoff::CutEnd::stopped:
        return "ended as a fault: the host stopped the processor with the stylus down";
    case handoff::CutEnd::bypassed:
        return "ended as a fault: the processor was bypassed with the stylus down";
    }
    return {};
}

bool isFault(handoff::CutEnd reason) noexcept {
    return reason != handoff::CutEnd::finished && reason != handoff::CutEnd::lifted;
}

} // namespace headland::log
