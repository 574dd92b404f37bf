// SPDX-License-Identifier: GPL-3.0-or-later
#include "Files/SoundCoding.h"

#include "Files/HeaderBytes.h"
#include "Files/ProgramRefusal.h"
#include "Text/Safe.h"

#include <array>
#include <cstdio>
#include <string>
#include <string_view>

namespace headland::files {

namespace {

[[noreturn]] void refuseCoding(const InputFile& file, const std::string& coding) {
    refuseProgram(file.path(), "holds sound that is coded as " + coding
                                   + ", which is not read: save it as 16 or 24 bit PCM or 32 bit float.");
}

/// The names of the codings of WAV that are met (mmreg.h of Microsoft's SDK, from memory).
std::string waveName(int tag) {
    switch (tag) {
    case 0x02:
        return "Microsoft ADPCM";
    case 0x06:
        return "A-law";
    case 0x07:
        return "µ-law";
    case 0x11:
        return "IMA ADPCM";
    case 0x31:
        return "GSM 6.10";
    case 0x50:
    case 0x55:
        return "MPEG (MP3)";
    default:
        break;
    }
    std::array<char, 32> text{};
    std::snprintf(text.data(), text.size(), "WAV kind 0x%04x", static_cast<unsigned>(tag));
    return text.data();
}

SoundCoding checked(const InputFile& file, SoundCoding coding) {
    const auto bits = coding.bits;
    const bool isReadable =
        coding.isFloat ? bits == 32 || bits == 64 : bits == 8 || bits == 16 || bits == 24 || bits == 32;
    if (!isReadable)
        refuseCoding(file, std::to_string(bits) + (coding.isFloat ? " bit floating point" : " bit integers"));
    if (coding.channels < 1)
        refuseContradiction(file.path(), "it has no channels");
    const auto frame_bytes = std::int64_t{coding.channels} * (bits / 8);
    if (coding.frame_bytes == 0)
        coding.frame_bytes = frame_bytes;
    if (coding.frame_bytes != frame_bytes)
        refuseContradiction(file.path(), std::to_string(bits) + " bit samples on "
                                             + std::to_string(coding.channels)
                                             + (coding.channels == 1 ? " channel" : " channels") + " take "
                                             + std::to_string(frame_bytes) + " bytes a frame, and it says "
                                             + std::to_string(coding.frame_bytes));
    return coding;
}

} // namespace

SoundCoding waveCoding(InputFile& file, std::int64_t start_bytes, std::int64_t size_bytes) {
    constexpr int extensible = 0xfffe;
    constexpr std::string_view restOfGuid("\0\0\0\0\x10\0\x80\0\0\xAA\0\x38\x9B\x71", 14);
    if (size_bytes < 16)
        refuseDamagedHeader(file.path(), "WAV", "its format chunk is too short");
    const HeaderBytes bytes(file, start_bytes, false);
    auto tag = bytes.small(0, 2);
    if (tag == extensible && size_bytes >= 40) {
        if (bytes.text(26, 14) != restOfGuid)
            refuseCoding(file, "an unknown kind of extensible WAV");
        tag = bytes.small(24, 2);
        if (bytes.small(18, 2) > bytes.small(14, 2))
            refuseContradiction(file.path(), std::to_string(bytes.small(18, 2)) + " valid bits in samples of "
                                                 + std::to_string(bytes.small(14, 2)));
    }
    if (tag != 1 && tag != 3)
        refuseCoding(file, waveName(tag));
    return checked(file, {.channels = bytes.small(2, 2),
                          .bits = bytes.small(14, 2),
                          .isFloat = tag == 3,
                          .frame_bytes = bytes.small(12, 2),
                          .sampleRate_hz = static_cast<double>(bytes.number(4, 4)),
                          .length_frames = {}});
}

SoundCoding aiffCoding(InputFile& file, std::int64_t start_bytes, std::int64_t size_bytes, bool isAifc) {
    if (size_bytes < (isAifc ? 22 : 18))
        refuseDamagedHeader(file.path(), "AIFF", "its COMM chunk is too short");
    const HeaderBytes bytes(file, start_bytes, true);
    SoundCoding coding{.channels = bytes.small(0, 2),
                       .bits = bytes.small(6, 2),
                       .isFloat = false,
                       .frame_bytes = 0,
                       .sampleRate_hz = 0,
                       .length_frames = static_cast<std::int64_t>(bytes.number(2, 4))};
    const auto type = isAifc ? bytes.text(18, 4) : "NONE";
    if (type == "fl32" || type == "FL32" || type == "fl64" || type == "FL64") {
        coding.isFloat = true;
        coding.bits = type[2] == '3' ? 32 : 64;
    } else if (type != "NONE" && type != "twos" && type != "sowt")
        refuseCoding(file, "AIFF-C kind \"" + text::printable(std::string(type)) + '"');
    return checked(file, coding);
}

SoundCoding cafCoding(InputFile& file, std::int64_t start_bytes, std::int64_t size_bytes) {
    if (size_bytes < 32)
        refuseDamagedHeader(file.path(), "CAF", "its desc chunk is too short");
    const HeaderBytes bytes(file, start_bytes, true);
    if (bytes.text(8, 4) != "lpcm")
        refuseCoding(file, "CAF kind \"" + text::printable(std::string(bytes.text(8, 4))) + '"');
    if (bytes.number(20, 4) != 1)
        refuseContradiction(file.path(), "linear PCM in packets of several frames");
    return checked(file, {.channels = bytes.small(24, 4),
                          .bits = bytes.small(28, 4),
                          .isFloat = (bytes.number(12, 4) & 1) != 0,
                          .frame_bytes = static_cast<std::int64_t>(bytes.number(16, 4)),
                          .sampleRate_hz = 0,
                          .length_frames = {}});
}

} // namespace headland::files
