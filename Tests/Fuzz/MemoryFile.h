// SPDX-License-Identifier: GPL-3.0-or-later
// Bytes as a regular file that has a path and no place on a disk (Linux). Goes with its object.
#pragma once

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <sys/mman.h>
#include <unistd.h>

namespace headland::fuzz {

class MemoryFile {
public:
    MemoryFile(const std::uint8_t* data, std::size_t size_bytes)
        : descriptor(::memfd_create("fuzz", MFD_CLOEXEC)) {
        if (descriptor < 0 || ::write(descriptor, data, size_bytes) != static_cast<ssize_t>(size_bytes))
            std::abort(); // no fault of what is tested
    }
    ~MemoryFile() { ::close(descriptor); }
    MemoryFile(const MemoryFile&) = delete;
    MemoryFile& operator=(const MemoryFile&) = delete;

    /// Leads to the bytes while this object lives.
    std::string path() const { return "/proc/self/fd/" + std::to_string(descriptor); }

private:
    int descriptor;
};

} // namespace headland::fuzz
