// SPDX-License-Identifier: GPL-3.0-or-later
// Which flags spoil a side, so that it cannot be cut; the others are cautions. Any thread.
#pragma once

#include "Cut/CutFrame.h"

#include <cstdint>

namespace headland::cut {

/// Of flags as a frame has them: whether one among them does.
constexpr bool spoils(std::uint16_t flags) noexcept {
    constexpr auto spoiling = static_cast<unsigned>(Flag::overcut) | static_cast<unsigned>(Flag::lifted)
                              | static_cast<unsigned>(Flag::tooDeep) | static_cast<unsigned>(Flag::pastEnd)
                              | static_cast<unsigned>(Flag::discEnd);
    return (flags & spoiling) != 0;
}

constexpr bool spoils(Flag flag) noexcept {
    return spoils(static_cast<std::uint16_t>(flag));
}

} // namespace headland::cut
