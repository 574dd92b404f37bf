// SPDX-License-Identifier: GPL-3.0-or-later
// The colours of the tool's pictures, told apart by most people: those of Okabe and Ito (2008), from memory. What is
// drawn in them also differs in width, dashes or shape.
#pragma once

#include <string_view>

namespace headland::console {

inline constexpr std::string_view blue = "#0072b2";
inline constexpr std::string_view orange = "#e69f00";
inline constexpr std::string_view skyBlue = "#56b4e9";
inline constexpr std::string_view vermilion = "#d55e00";
inline constexpr std::string_view green = "#009e73";
inline constexpr std::string_view grey = "#8c8c8c";
inline constexpr std::string_view black = "#000000";
inline constexpr std::string_view white = "#ffffff";

} // namespace headland::console
