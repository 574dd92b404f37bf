// SPDX-License-Identifier: GPL-3.0-or-later
// A program file heard once from beginning to end, before it is cut. Memory does not grow with the file but for the profile,
// 12 bytes for each 400th of a turn. One thread.
#pragma once

#include "Cut/CutSettings.h"
#include "Plan/Profile.h"

#include <functional>
#include <memory>
#include <string>

namespace headland::files {

/// The profile of the program in this file, heard with these settings. `goOn` is told how much has been heard, 0 to 1; null when it
/// returns false. Throws InputError when the file cannot be read, std::invalid_argument with the problems when the settings are not
/// valid for its rate, and whatever `goOn` throws.
std::shared_ptr<const plan::Profile> rehearseProgram(const std::string& path,
                                                     const cut::CutSettings& settings,
                                                     const std::function<bool(double)>& goOn);

} // namespace headland::files
