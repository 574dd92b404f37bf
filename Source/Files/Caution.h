// SPDX-License-Identifier: GPL-3.0-or-later
// Said wherever commands to a lathe are made: after every cut, in --help and in the window. Constant text; any thread.
#pragma once

#include <string_view>

namespace headland::files {

/// Commands to a lathe can hurt people, lacquers and cutter heads.
inline constexpr std::string_view caution = "Caution: these commands are not a safety system. Limits, travel "
                                            "stops and the emergency lift are the lathe's own; "
                                            "lacquer swarf burns fiercely and sustained treble burns out "
                                            "cutter heads, so follow the lathe maker's and the "
                                            "workshop's rules.";

} // namespace headland::files
