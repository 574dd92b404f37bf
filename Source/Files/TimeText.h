// SPDX-License-Identifier: GPL-3.0-or-later
// A place in the program as a person types it. Any thread but the audio thread.
#pragma once

#include <optional>
#include <string_view>

namespace headland::files {

/// "3:21.5", "201.5" or "-0:01" as seconds; nothing when it is no such time.
std::optional<double> timeFromText(std::string_view text);

} // namespace headland::files
