// SPDX-License-Identifier: GPL-3.0-or-later
// Books: any bytes are refused in a sentence or reviewed, and are left as they are.

#include "Tests/Fuzz/Book.h"

#include <cstdint>
#include <fstream>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size_bytes) {
    const auto book = headland::fuzz::folder() + "/book.headland";
    for (const auto* beside : {"", "-wal", "-shm", "-journal"})
        std::filesystem::remove(book + beside);
    std::ofstream(book, std::ios::binary)
        .write(reinterpret_cast<const char*>(data), static_cast<std::streamsize>(size_bytes));
    headland::fuzz::reviewAll(book);
    return 0;
}
