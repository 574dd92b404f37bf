// SPDX-License-Identifier: GPL-3.0-or-later
// Is a compressed file whole? Goes through it once with the codec's own library before it is used, because JUCE's
// readers put silence in the place of what they cannot decode and do not say so. Times in s. Any thread.

#pragma once

#include <optional>
#include <string>

namespace headland::files {

/// Decodes a FLAC file from end to end with libFLAC, which checks every frame's checksum, and compares the number of
/// samples with what the header promises. Returns nothing if all is there; otherwise what is wrong, to be put after the
/// file's name ("is damaged at 12.3 s").
std::optional<std::string> faultInFlac(const std::string& path);

/// Goes through the pages of an Ogg file with libogg: every checksum and page number, one stream only, and a last page
/// that ends it. Does not decode. Returns nothing if all is there; otherwise what is wrong, as above.
std::optional<std::string> faultInOgg(const std::string& path);

} // namespace headland::files
