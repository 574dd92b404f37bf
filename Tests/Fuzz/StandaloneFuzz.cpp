// SPDX-License-Identifier: GPL-3.0-or-later
// The standalone's settings file: any text is refused in words, or read as choices that come back as they were when they are
// written and read again.

#include "Assembly/KeptChoices.h"

#include <cstddef>
#include <cstdint>
#include <cstdlib>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size_bytes) {
    using namespace headland::assembly;
    try {
        const auto choices = choicesFromText({reinterpret_cast<const char*>(data), size_bytes});
        if (choicesFromText(textOf(choices)) != choices)
            std::abort();
    } catch (const NoChoices&) {
    }
    return 0;
}
