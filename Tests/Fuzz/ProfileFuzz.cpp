// SPDX-License-Identifier: GPL-3.0-or-later
// Profiles: any bytes are refused in a sentence that steers no terminal, or give a profile of finite figures that, written,
// reads back to the same.

#include "Files/Errors.h"
#include "Files/ProfileFile.h"
#include "Text/Safe.h"

#include <cmath>
#include <cstdint>
#include <cstdlib>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size_bytes) {
    using namespace headland;
    try {
        const auto profile =
            files::profileFromBytes({reinterpret_cast<const char*>(data), size_bytes}, "fuzzed");
        if (!std::isfinite(profile.made.turn_s + profile.made.disc_level_db + profile.length_s))
            std::abort();
        if (files::profileFromBytes(files::profileBytes(profile), "written") != profile)
            std::abort();
    } catch (const files::InputError& error) {
        const std::string sentence = error.what();
        if (sentence.empty() || text::printable(sentence) != sentence)
            std::abort();
    }
    return 0;
}
