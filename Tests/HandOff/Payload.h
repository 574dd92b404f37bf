// SPDX-License-Identifier: GPL-3.0-or-later
// A value too large to be copied in one piece, which shows when it was torn: every word follows from its number, and
// the last one is their sum.
#pragma once

#include <array>
#include <cstdint>

namespace headland::test {

struct Payload {
    std::uint64_t number = 0;
    std::array<std::uint64_t, 30> words{};
    std::uint64_t sum = 0;
};

inline Payload payload(std::uint64_t number) {
    Payload made;
    made.number = number;
    made.sum = number;
    for (auto& word : made.words) {
        number = number * 6364136223846793005u + 1442695040888963407u; // neighbours look unlike
        word = number;
        made.sum += word;
    }
    return made;
}

inline bool isWhole(const Payload& got) {
    const auto expected = payload(got.number);
    return got.words == expected.words && got.sum == expected.sum;
}

} // namespace headland::test
