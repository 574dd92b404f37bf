// SPDX-License-Identifier: GPL-3.0-or-later
// The profile of a rehearsed side as a file: two items of CBOR (RFC 8949) behind each other (RFC 8742), written and read by
// nlohmann-json. First a map of what it was made with, then a byte string with three 16-bit figures a bin.
// docs/reference/profile.md has the layout. Any thread but the audio thread.
#pragma once

#include "Files/KeptFiles.h"
#include "Plan/Profile.h"

#include <cstdint>
#include <string>
#include <string_view>

namespace headland::files {

inline constexpr int profileVersion = 1; ///< of the files this tool writes and reads
/// A file of more bytes is not read: 7 hours at 33 1/3.
inline constexpr std::int64_t profileSizeMax_bytes = 32 << 20;

/// The bytes of a profile file. An excursion is told in steps of 0.1 µm, the least that is not below it, and at most 6553.5 µm; what
/// is no number is told as that. Read back and written again, the bytes are the same.
std::string profileBytes(const plan::Profile& profile);

/// The profile in these bytes. Throws InputError, one sentence that names `path`: no profile, cut short, of a newer version,
/// with figures that no side has, more or fewer bins than its length, too large.
plan::Profile profileFromBytes(std::string_view bytes, const std::string& path);

/// Writes a profile to a file, which is there whole or not at all; an older file of the name is replaced, but none that is
/// kept. Throws OutputError.
void writeProfile(const std::string& path, const plan::Profile& profile, const KeptFiles& kept);

/// Reads a profile from a file. Throws InputError as profileFromBytes() does, and when there is no such file or it cannot be
/// read.
plan::Profile readProfile(const std::string& path);

} // namespace headland::files
