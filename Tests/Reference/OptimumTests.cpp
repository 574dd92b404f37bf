// SPDX-License-Identifier: GPL-3.0-or-later
// Disc used and travel of the pitch against a controller that knows the whole side, by COIN-OR Clp, on real recorded music
// (Debian's package singularity-music). A few short pieces here, where the end of the program weighs more than on a side;
// the whole table is printed by `reference_tests "[steadiness-report]"`.
#include "Tests/Reference/FoundRun.h"
#include "Tests/Reference/OptimumRun.h"
#include "Tests/Support/Median.h"

#include <algorithm>
#include <array>
#include <catch2/catch.hpp>

using namespace headland;
using namespace headland::reference;

namespace {

std::string piece(const std::string& name) {
    return "/usr/share/games/singularity/music/" + name + ".ogg";
}

void requireLand(const std::vector<cut::CutFrame>& frames, const cut::CutSettings& s) {
    const auto [first, last] = programRange(frames);
    for (auto i = first; i < last; ++i)
        if (!std::isnan(frames[i].landMin_um) && frames[i].shortfall_um == 0)
            REQUIRE(frames[i].landMin_um >= s.land_min_um - 0.5);
}

} // namespace

TEST_CASE("Recorded music uses little more disc than with full knowledge, and the pitch travels little more",
          "[reference][optimum]") {
    constexpr double level_db = -6, length_s = 80; // shorter, and the end of the program weighs too much
    std::vector<double> discs[2], travels[2];
    for (const auto* name : {"Aberrations", "Coherence", "Nebula"}) {
        const auto recording = decode(piece(name), 30, length_s);
        for (const auto turns : {1, 2}) {
            const auto settings = settingsFor(turns, level_db);
            const auto frames = cutRecording(settings, recording);
            requireLand(frames, settings);
            const auto measure = measureSide(frames, settings, recording);
            REQUIRE(measure.solved);
            INFO(name << ", " << turns << " turns of preview: disc " << measure.disc() << ", travel "
                      << measure.travelRatio());
            CHECK(measure.disc() > 0.999); // less than the least would be a mistake in one of the two
            CHECK(measure.disc() < (turns == 1 ? 1.05 : 1.03));
            CHECK(measure.travelRatio() < (turns == 1 ? 3.5 : 2));
            discs[turns - 1].push_back(measure.disc());
            travels[turns - 1].push_back(measure.travelRatio());
        }
    }
    for (const auto turns : {0, 1}) {
        CHECK(test::median(discs[turns]) < (turns == 0 ? 1.035 : 1.022));
        CHECK(test::median(travels[turns]) < (turns == 0 ? 2.8 : 1.7));
    }
}

TEST_CASE("With a rehearsal less disc is used and the pitch travels less than without",
          "[reference][optimum]") {
    std::vector<double> discs, travels;
    for (const auto* name : {"Aberrations", "Coherence", "Nebula"}) {
        const auto recording = decode(piece(name), 30, 80);
        const auto settings = settingsFor(1, -6);
        const auto frames = cutRecording(settings, recording, rehearse(settings, recording));
        requireLand(frames, settings);
        const auto measure = measureSide(frames, settings, recording);
        REQUIRE(measure.solved);
        INFO(name << ": disc " << measure.disc() << ", travel " << measure.travelRatio());
        CHECK(measure.disc() > 0.999);
        CHECK(measure.disc() < 1.015);
        discs.push_back(measure.disc());
        travels.push_back(measure.travelRatio());
    }
    CHECK(test::median(discs) < 1.01);
    CHECK(test::median(travels) < 1.5);
}

TEST_CASE("A tape that was listened to, and is cut later and faster, is found and takes the disc of a "
          "rehearsed file",
          "[reference][optimum]") {
    auto blind_um = 0.0, found_um = 0.0, file_um = 0.0;
    for (const auto* name : {"Aberrations", "Coherence", "Nebula"}) {
        const auto tape = recordingOf(soundOf(piece(name), 30, 100)); // 6 dB softer than it is
        const auto listened = recordingOf(soundOf(piece(name), 27, 110, "speed 0.998", "-e signed -b 16"));
        const auto settings = settingsFor(1, 0);
        const auto found = FoundRun(settings, tape, rehearse(settings, listened)).run();
        requireLand(found.frames, settings);
        INFO(name << ": found after " << found.firstFound_s << " s, " << found.use.ratio);
        CHECK(found.use.wasUsed);
        CHECK((!found.use.isDropped
               || found.use.dropped_s > 100)); // where it ends it goes on in what was heard
        CHECK(found.use.ratio == Approx(1 / 0.998).margin(2e-4));
        CHECK(found.firstFound_s < 30);
        const auto sector_s = settings.turn_s() / settings.sectors_per_turn;
        const auto heardAt_s =
            static_cast<double>(found.use.sector) * sector_s
            - static_cast<double>(cut::leadIn_samples(settings, tape.rate_hz)) / tape.rate_hz;
        CHECK(found.use.at_s == Approx((heardAt_s + 3) / 0.998).margin(0.01));
        blind_um += used_um(cutRecording(settings, tape));
        found_um += used_um(found.frames);
        file_um += used_um(cutRecording(settings, tape, rehearse(settings, tape)));
    }
    INFO("disc " << found_um / blind_um << " of a blind cut, " << found_um / file_um
                 << " of a rehearsed file");
    CHECK(found_um < 0.99 * blind_um);
    CHECK(found_um < 1.003 * file_um);
}

TEST_CASE("The pitch travels less the more disc is given for it", "[reference][optimum]") {
    constexpr std::array percents{0.0, 1.0, 4.0};
    constexpr double length_s = 80;
    std::array<double, percents.size()> travelled_um{}, disc_um{};
    for (const auto* name : {"Aberrations", "Coherence", "Nebula"}) {
        const auto recording = decode(piece(name), 30, length_s);
        auto settings = settingsFor(1, -6);
        for (std::size_t i = 0; i < percents.size(); ++i) {
            settings.steady_pitch_percent = percents[i];
            const auto frames = cutRecording(settings, recording);
            travelled_um[i] += travel_um(frames, settings.turn_s(), length_s - settings.turn_s());
            disc_um[i] += used_um(frames);
        }
    }
    INFO("disc " << disc_um[1] / disc_um[0] << ", " << disc_um[2] / disc_um[0] << ", travel "
                 << travelled_um[1] / travelled_um[0] << ", " << travelled_um[2] / travelled_um[1]);
    CHECK(travelled_um[1] < 0.7 * travelled_um[0]);
    CHECK(travelled_um[2] < 0.7 * travelled_um[1]);
    CHECK(disc_um[1] < 1.02 * disc_um[0]);
    CHECK(disc_um[2] < 1.06 * disc_um[0]);
}

TEST_CASE("Into how many sectors a turn is divided changes the disc used by half a per cent at most",
          "[reference][optimum]") {
    const auto recording = decode(piece("Aberrations"), 30, 60);
    auto settings = settingsFor(1, -6);
    const auto usual_um = used_um(cutRecording(settings, recording));
    for (const auto sectors : {128, 800}) {
        settings.sectors_per_turn = sectors;
        INFO(sectors << " sectors");
        CHECK(used_um(cutRecording(settings, recording)) == Approx(usual_um).epsilon(0.005));
    }
}

TEST_CASE("The floor by itself spends more: the optimiser is what saves it", "[reference][optimum]") {
    auto settings = settingsFor(1, -6);
    const auto recording = decode(piece("Coherence"), 30, 40);
    const auto optimised_um = used_um(cutRecording(settings, recording));
    settings.pitch_optimiser = 0;
    CHECK(used_um(cutRecording(settings, recording)) > 1.05 * optimised_um);
}
