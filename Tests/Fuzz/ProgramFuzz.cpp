// SPDX-License-Identifier: GPL-3.0-or-later
// Program files: any bytes are refused with an InputError, or read to their end with as many frames as were announced.

#include "Files/Errors.h"
#include "Files/ProgramFile.h"
#include "Tests/Fuzz/MemoryFile.h"

#include <array>
#include <cstdlib>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size_bytes) {
    using headland::files::ProgramFile;
    const headland::fuzz::MemoryFile file(data, size_bytes);
    try {
        auto program = ProgramFile::open(file.path());
        std::array<float, 4096> left{}, right{};
        std::int64_t read_frames = 0;
        while (const int got_frames = program.read(left.data(), right.data(), static_cast<int>(left.size())))
            read_frames += got_frames;
        if (read_frames != program.length_frames())
            std::abort();
    } catch (const headland::files::InputError&) {
    }
    return 0;
}
