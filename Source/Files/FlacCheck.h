// SPDX-License-Identifier: GPL-3.0-or-later
// Is a FLAC file whole? Decodes it once from end to end with libFLAC before it is used, which checks every frame's
// checksum and that of all the sound: what reads on behind a damaged place says nothing of it. Times in s. Any thread.
#pragma once

#include "Files/InputFile.h"

#include <optional>
#include <string>

namespace headland::files {

/// Takes about as long as decoding does. Returns nothing if all is there; otherwise what is wrong, to be put after the
/// file's name: "is damaged at 12.3 s".
std::optional<std::string> faultInFlac(InputFile& file);

} // namespace headland::files
