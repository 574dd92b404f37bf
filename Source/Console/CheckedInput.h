// SPDX-License-Identifier: GPL-3.0-or-later
// What a command is asked for, checked before any work is done: program, settings and output names together, so that
// everything that is wrong is said at once. Main thread.
#pragma once

#include "Console/ProgramRequest.h"
#include "Cut/CutSettings.h"
#include "Files/KeptFiles.h"
#include "Files/ProgramFile.h"

#include <string>
#include <vector>

namespace headland::console {

/// The program, open at its beginning, and settings that are valid for it.
struct CheckedInput {
    files::ProgramFile program;
    cut::CutSettings settings; ///< with the file's length as side_length_s unless the person gave one
    files::KeptFiles kept;     ///< no output may take the place of these
};

/// Throws one InputError with all problems, a line each, if there are any.
void refuse(const std::vector<std::string>& problems);

/// Opens the program and merges the settings. Throws one InputError with all that is wrong with either, with the names
/// of the outputs, and `others` (problems the command itself has found), a line each.
CheckedInput checkInput(const ProgramRequest& request, const std::vector<std::string>& others = {});

} // namespace headland::console
