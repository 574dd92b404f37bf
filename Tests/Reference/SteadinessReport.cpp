// SPDX-License-Identifier: GPL-3.0-or-later
// What the planner makes of recorded music against a controller that knows the whole side: disc and travel of the pitch
// (Tests/Reference/SideLimit.h). Every piece of two Debian packages (singularity-music, asc-music) at three levels.
// Run by: build/release/tests/reference_tests "[steadiness-report]"; HEADLAND_PIECES=2 takes only so many pieces,
// HEADLAND_LEVELS=1 only −6 dB; HEADLAND_TURNS=2 is the preview, HEADLAND_STEADY_TENTHS=0 the disc given for a steady pitch,
// HEADLAND_REHEARSED=1 with a rehearsal.
#include "Tests/Reference/OptimumRun.h"
#include "Tests/Reference/SideLimit.h"
#include "Tests/Support/InParallel.h"
#include "Tests/Support/Median.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdio>
#include <cstdlib>

using namespace headland;
using namespace headland::reference;

namespace {

constexpr double start_s = 30, length_s = 120;
constexpr std::array levels_db{0.0, -3.0, -6.0};

int number(const char* name, int otherwise) {
    const auto* text = std::getenv(name);
    return text == nullptr ? otherwise : std::atoi(text);
}

} // namespace

TEST_CASE("Steadiness report: disc and travel against full knowledge", "[.][steadiness-report]") {
    auto files = test::recordingsOf("singularity-music asc-music");
    files.resize(std::min(files.size(), static_cast<std::size_t>(number("HEADLAND_PIECES", 100))));
    const auto levels = static_cast<std::size_t>(number("HEADLAND_LEVELS", levels_db.size()));
    const auto turns = number("HEADLAND_TURNS", 1);
    const auto isRehearsed = number("HEADLAND_REHEARSED", 0) != 0;
    std::vector<double> discs, travels;
    std::printf("%-28s %4s %9s %7s %9s %7s\n", "piece (120 s from 0:30)", "dB", "limit um", "disc", "um/turn",
                "travel");
    std::vector<SideMeasure> all(files.size() * levels);
    test::inParallel(all.size(), [&](std::size_t i) {
        const auto& file = files[i / levels];
        const auto level_db = levels_db[levels_db.size() - 1 - i % levels];
        const auto recording = decode(file, start_s, length_s);
        auto settings = settingsFor(turns, level_db);
        settings.steady_pitch_percent = number("HEADLAND_STEADY_TENTHS", 10) / 10.0;
        const auto profile = isRehearsed ? rehearse(settings, recording) : nullptr;
        all[i] = measureSide(cutRecording(settings, recording, profile), settings, recording);
        const auto& m = all[i];
        if (m.solved)
            std::printf("%-28s %4.0f %9.1f %7.4f %9.1f %7.2f\n", file.substr(file.rfind('/') + 1).c_str(),
                        level_db, m.limit_um, m.disc(), m.travelPerTurn_um(), m.travelRatio());
        std::fflush(stdout);
    });
    for (const auto& m : all)
        if (m.solved) {
            discs.push_back(m.disc());
            travels.push_back(m.travelRatio());
        }
    std::printf(
        "%d turns of preview: disc median %.4f, greatest %.4f; travel median %.2f, greatest %.2f; of %zu\n",
        turns, test::median(discs), *std::max_element(discs.begin(), discs.end()), test::median(travels),
        *std::max_element(travels.begin(), travels.end()), discs.size());
}
