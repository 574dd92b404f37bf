// SPDX-License-Identifier: GPL-3.0-or-later
// A program file heard once from beginning to end, before it is cut. Memory does not grow with the file but for the profile,
// 12 bytes for each 400th of a turn. One thread.
#pragma once

#include "Cut/CutSettings.h"
#include "Files/CutRun.h"
#include "Plan/Profile.h"

#include <memory>
#include <string>

namespace headland::files {

/// The profile of the program in this file, heard with these settings. Throws InputError when the file cannot be read,
/// std::invalid_argument with the problems when the settings are not valid for its rate, and whatever `between` throws.
std::shared_ptr<const plan::Profile>
rehearseProgram(const std::string& path, const cut::CutSettings& settings, const BetweenBlocks& between);

} // namespace headland::files
