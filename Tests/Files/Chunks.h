// SPDX-License-Identifier: GPL-3.0-or-later
// Headers of sound files put together by hand, right or wrong, for tests of what is refused.
#pragma once

#include <algorithm>
#include <cstdint>
#include <string>

namespace headland::test {

inline std::string little(std::uint64_t value, int size) {
    std::string bytes;
    for (int i = 0; i < size; ++i)
        bytes += static_cast<char>(value >> (8 * i));
    return bytes;
}

inline std::string big(std::uint64_t value, int size) {
    auto bytes = little(value, size);
    std::reverse(bytes.begin(), bytes.end());
    return bytes;
}

/// A chunk of RIFF that claims to be as long as it is.
inline std::string chunk(const std::string& id, const std::string& content) {
    return id + little(content.size(), 4) + content + std::string(content.size() % 2, '\0');
}

/// The format chunk of PCM, with a block align of its own where `frame_bytes` is given.
inline std::string pcmFormat(int channels, int bits, int frame_bytes = 0, int rate_hz = 44100) {
    const auto align = frame_bytes != 0 ? frame_bytes : channels * bits / 8;
    return chunk("fmt ",
                 little(1, 2) + little(static_cast<std::uint64_t>(channels), 2)
                     + little(static_cast<std::uint64_t>(rate_hz), 4)
                     + little(static_cast<std::uint64_t>(rate_hz) * static_cast<std::uint64_t>(align), 4)
                     + little(static_cast<std::uint64_t>(align), 2)
                     + little(static_cast<std::uint64_t>(bits), 2));
}

inline std::string wav(const std::string& chunks) {
    return "RIFF" + little(4 + chunks.size(), 4) + "WAVE" + chunks;
}

/// A chunk of CAF or, with a size of four bytes, of AIFF.
inline std::string bigChunk(const std::string& id, const std::string& content, int sizeSize) {
    return id + big(content.size(), sizeSize) + content
           + std::string(sizeSize == 4 ? content.size() % 2 : 0, '\0');
}

/// 16 bit stereo at 44.1 kHz, with `more` behind the description of the sound.
inline std::string caf(const std::string& more, int frames = 1000) {
    const std::string rate("\x40\xE5\x88\x80\0\0\0\0", 8); // 44100 as an IEEE double
    return "caff" + big(1, 2) + big(0, 2)
           + bigChunk("desc", rate + "lpcm" + big(0, 4) + big(4, 4) + big(1, 4) + big(2, 4) + big(16, 4), 8)
           + more + bigChunk("data", std::string(4 + 4 * static_cast<size_t>(frames), '\0'), 8);
}

inline std::string aiff(const std::string& more, int frames = 1000, int promised_frames = -1) {
    const std::string rate("\x40\x0E\xAC\x44\0\0\0\0\0\0", 10); // 44100 in 80 bits
    const auto promised = static_cast<std::uint64_t>(promised_frames < 0 ? frames : promised_frames);
    const auto chunks = "AIFF" + bigChunk("COMM", big(2, 2) + big(promised, 4) + big(16, 2) + rate, 4) + more
                        + bigChunk("SSND", std::string(8 + 4 * static_cast<size_t>(frames), '\0'), 4);
    return "FORM" + big(chunks.size(), 4) + chunks;
}

} // namespace headland::test
