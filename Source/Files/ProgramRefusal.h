// SPDX-License-Identifier: GPL-3.0-or-later
// What a program file is refused with: one sentence that names the file, the trouble and the remedy.
#pragma once

#include "Files/Errors.h"

#include <string>

namespace headland::files {

[[noreturn]] inline void refuseProgram(const std::string& path, const std::string& whatAndRemedy) {
    throw InputError('"' + path + "\" " + whatAndRemedy);
}

/// `kind`: "WAV"; `why`: what of its header is amiss.
[[noreturn]] inline void refuseDamagedHeader(const std::string& path, const std::string& kind,
                                             const std::string& why) {
    refuseProgram(path, "begins like a file of the kind " + kind
                            + ", but its header is damaged or unfinished (" + why + "): export it again.");
}

[[noreturn]] inline void refuseContradiction(const std::string& path, const std::string& which) {
    refuseProgram(path, "has a header that contradicts itself (" + which + "): export it again.");
}

} // namespace headland::files
