// SPDX-License-Identifier: GPL-3.0-or-later
// Disc used against the full-knowledge optimum that COIN-OR Clp finds, on real recorded music (Debian's package
// singularity-music). A few short pieces here, where the end of the program weighs more than on a side; the whole table
// is printed by `reference_tests "[planner-report]"`.
#include "Tests/Reference/Command.h"
#include "Tests/Reference/OptimumRun.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdio>
#include <sstream>

using namespace headland;
using namespace headland::reference;

namespace {

constexpr int coarse = 4; ///< 64 plan sectors a turn in the linear program

Recording decode(const std::string& file, double start_s, double length_s) {
    const auto bytes = test::runCommand("ffmpeg -nostdin -loglevel error -ss " + std::to_string(start_s)
                                        + " -t " + std::to_string(length_s) + " -i " + test::quoted(file)
                                        + " -ac 2 -ar 44100 -f f32le -");
    Recording recording{44100, std::vector<float>(bytes.size() / sizeof(float))};
    std::copy_n(bytes.data(), recording.samples.size() * sizeof(float),
                reinterpret_cast<char*>(recording.samples.data()));
    return recording;
}

cut::CutSettings settingsFor(double previewTurns, double level_db) {
    cut::CutSettings s;
    s.preview_s = previewTurns * s.turn_s();
    s.disc_level_db = level_db;
    s.depth_max_um = 90; // the pieces are wide in stereo; depth is not what is compared
    return s;
}

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

TEST_CASE("Recorded music uses little more disc than with full knowledge", "[reference][optimum]") {
    constexpr double level_db = -6, length_s = 80; // shorter, and the end of the program weighs too much
    std::vector<double> ratios[2];
    for (const auto* name : {"Aberrations", "Coherence", "Nebula"}) {
        const auto recording = decode(piece(name), 30, length_s);
        double optimum_um = 0;
        for (const auto turns : {1, 2}) {
            const auto settings = settingsFor(turns, level_db);
            const auto frames = cutRecording(settings, recording);
            requireLand(frames, settings);
            if (optimum_um == 0) { // the demand does not depend on the preview
                const auto optimum = solveOptimum(problemOf(frames, settings, coarse));
                REQUIRE(optimum.solved);
                optimum_um = optimum.used_um;
            }
            const auto ratio = used_um(frames) / optimum_um;
            INFO(name << ", " << turns << " turns of preview: ratio " << ratio);
            CHECK(ratio > 0.999); // less than the optimum would be a mistake in one of the two
            CHECK(ratio < (turns == 1 ? 1.05 : 1.03));
            ratios[turns - 1].push_back(ratio);
        }
    }
    for (const auto turns : {1, 2}) {
        auto& r = ratios[turns - 1];
        std::sort(r.begin(), r.end());
        CHECK(r[1] < (turns == 1 ? 1.03 : 1.015));
    }
}

TEST_CASE("The floor by itself spends more: the optimiser is what saves it", "[reference][optimum]") {
    auto settings = settingsFor(1, -6);
    const auto recording = decode(piece("Coherence"), 30, 40);
    const auto optimised_um = used_um(cutRecording(settings, recording));
    settings.pitch_optimiser = 0;
    CHECK(used_um(cutRecording(settings, recording)) > 1.05 * optimised_um);
}

TEST_CASE("Planner report: disc used over the optimum, piece by piece", "[.][planner-report]") {
    constexpr double length_s = 120;
    std::vector<std::string> files;
    std::istringstream list(test::runCommand("dpkg -L singularity-music asc-music"));
    for (std::string file; std::getline(list, file);)
        if (file.ends_with(".ogg") || file.ends_with(".mp3"))
            files.push_back(file);
    REQUIRE(files.size() >= 6);
    std::printf("%-28s %6s %10s %7s %7s %7s %9s\n", "piece (from 30 s, 120 s)", "dB", "optimum um", "1 turn",
                "2 turns", "3 turns", "least land");
    std::vector<double> ratios[3];
    for (const auto& file : files)
        for (const auto level_db : {0.0, -3.0, -6.0}) {
            const auto recording = decode(file, 30, length_s);
            if (recording.samples.size() < 2 * 60 * 44100)
                continue;
            double optimum_um = 0, ratio[3] = {}, land_um = 1e9;
            for (const auto turns : {1, 2, 3}) {
                const auto settings = settingsFor(turns, level_db);
                const auto frames = cutRecording(settings, recording);
                if (optimum_um == 0) {
                    const auto optimum = solveOptimum(problemOf(frames, settings, coarse));
                    if (!optimum.solved)
                        break; // no controller could cut it at this level
                    optimum_um = optimum.used_um;
                }
                ratio[turns - 1] = used_um(frames) / optimum_um;
                ratios[turns - 1].push_back(ratio[turns - 1]);
                for (const auto& f : frames)
                    if (f.state == cut::State::program && !std::isnan(f.landMin_um))
                        land_um = std::min(land_um, f.landMin_um);
            }
            const auto name = file.substr(file.rfind('/') + 1);
            if (optimum_um == 0)
                std::printf("%-28s %6.0f no controller could cut it\n", name.c_str(), level_db);
            else
                std::printf("%-28s %6.0f %10.1f %7.4f %7.4f %7.4f %9.2f\n", name.c_str(), level_db,
                            optimum_um, ratio[0], ratio[1], ratio[2], land_um);
            std::fflush(stdout);
        }
    for (auto& r : ratios) {
        REQUIRE_FALSE(r.empty());
        std::sort(r.begin(), r.end());
        std::printf("median %.4f, greatest %.4f of %zu\n", r[r.size() / 2], r.back(), r.size());
    }
}
