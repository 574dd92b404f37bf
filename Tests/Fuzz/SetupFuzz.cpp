// SPDX-License-Identifier: GPL-3.0-or-later
// Bytes become a set-up, by way of the settings table, and the seed of a short program; the engine cuts it. What is
// promised of every valid set-up holds: the land, frames that are finite, a radius above 0, and an end within so much time of
// the processor: libFuzzer's own limit is of the clock, and would be passed on a machine that has other work.
#include "Tests/Support/LandPromise.h"
#include "Tests/Support/RandomMusic.h"
#include "Tests/Support/RandomSetup.h"

#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <ctime>

using namespace headland;

namespace {

/// Two bytes a number; 0 when there are no more.
class Bytes {
public:
    Bytes(const std::uint8_t* data, std::size_t size) : at(data), end(data + size) {}

    double unit() {
        if (end - at < 2)
            return 0;
        const auto value = at[0] + 256 * at[1];
        at += 2;
        return value / 65536.0;
    }

private:
    const std::uint8_t *at, *end;
};

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    constexpr double rate_hz = 44100;
    constexpr double longest_s = 20; // under the sanitizers; a set-up that is too dear takes minutes
    Bytes bytes(data, size);
    test::Random random(static_cast<unsigned>(bytes.unit() * 65536));
    const auto settings = test::madeValid(test::drawSetup([&] { return bytes.unit(); }), rate_hz);
    if (!settings)
        return 0;
    const auto program = test::randomMusic(random, 2.5 * settings->turn_s(), rate_hz);
    const auto before = std::clock();
    const auto promise = test::cutForPromise(*settings, program);
    const auto took_s = static_cast<double>(std::clock() - before) / CLOCKS_PER_SEC;
    if (promise.worstLack_um <= test::landPromise_um && promise.allFinite && promise.leastRadius_mm > 0
        && took_s < longest_s)
        return 0;
    std::fprintf(stderr,
                 "land %.3f um below what was promised at %.3f s, least radius %.3f mm, %s, %.1f s: %s\n",
                 promise.worstLack_um, promise.worst.time_s, promise.leastRadius_mm,
                 promise.allFinite ? "all finite" : "not finite", took_s, test::asOptions(*settings).c_str());
    std::abort();
}
