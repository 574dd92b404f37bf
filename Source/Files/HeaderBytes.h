// SPDX-License-Identifier: GPL-3.0-or-later
// A few bytes of a file's header as numbers and letters, in the order of bytes that the file has. Any thread.
#pragma once

#include "Files/InputFile.h"

#include <array>
#include <cstdint>
#include <string_view>

namespace headland::files {

class HeaderBytes {
public:
    /// Reads 64 bytes from `start_bytes` on; what lies behind the end of the file reads as 0.
    HeaderBytes(InputFile& file, std::int64_t start_bytes, bool isBigEndian) : isBigEndian(isBigEndian) {
        file.readAt(start_bytes, bytes.data(), static_cast<std::int64_t>(bytes.size()));
    }

    /// An unsigned number of `size` bytes, up to 8, the first of them at `at`.
    std::uint64_t number(int at, int size) const {
        std::uint64_t value = 0;
        for (int i = 0; i < size; ++i)
            value = value << 8 | bytes[static_cast<size_t>(at + (isBigEndian ? i : size - 1 - i))];
        return value;
    }
    int small(int at, int size) const { return static_cast<int>(number(at, size)); }
    /// Of no use once the object is gone.
    std::string_view text(int at, int size) const {
        return {reinterpret_cast<const char*>(bytes.data()) + at, static_cast<size_t>(size)};
    }

private:
    std::array<unsigned char, 64> bytes{};
    bool isBigEndian;
};

} // namespace headland::files
