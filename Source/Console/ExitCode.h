// SPDX-License-Identifier: GPL-3.0-or-later
// What the tool's exit codes mean: documented in --help, written into the JSON, relied upon by scripts.
#pragma once

#include <array>
#include <string_view>

namespace headland::console {

enum class ExitCode : int {
    done = 0,
    ourFault = 1,
    badInput = 2,
    cannotBeCut = 3,
    outputFailed = 4,
    stopped = 130
};

struct ExitMeaning {
    ExitCode code;
    std::string_view meaning;
};

inline constexpr std::array exitMeanings{
    ExitMeaning{ExitCode::done, "the side can be cut"},
    ExitMeaning{ExitCode::ourFault, "a fault in headland itself; please report it"},
    ExitMeaning{ExitCode::badInput, "bad input or settings"},
    ExitMeaning{ExitCode::cannotBeCut, "the side cannot be cut: it overcuts, lifts, or does not fit"},
    ExitMeaning{ExitCode::outputFailed, "an output could not be written"},
    ExitMeaning{ExitCode::stopped, "stopped by the user (Ctrl-C)"},
};

/// What a code means, in words.
constexpr std::string_view meaningOf(ExitCode code) noexcept {
    for (const auto& row : exitMeanings)
        if (row.code == code)
            return row.meaning;
    return "";
}

} // namespace headland::console
