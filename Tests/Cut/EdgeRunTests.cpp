// SPDX-License-Identifier: GPL-3.0-or-later
// The edges the engine tells: every sample of the cut, and on them the very land and width that the frames report.
#include "Tests/Cut/EdgeKeep.h"

#include <catch2/catch.hpp>

using namespace headland;

namespace {

/// A side of short turns; at 78.26 rpm a turn has a fraction of a sample.
cut::CutSettings shortTurns(double rpm) {
    cut::CutSettings settings;
    settings.rpm = rpm;
    settings.preview_s = 0.8;
    settings.disc_level_db = 3;
    return settings;
}

} // namespace

TEST_CASE("Land and width measured on the edges are those of the frames", "[cut][edges]") {
    for (const double rpm : {78.0, 78.26})
        for (const double rate_hz : {44100.0, 96000.0}) {
            const auto settings = shortTurns(rpm);
            const auto turn_samples =
                disc::SectorClock(rate_hz, settings.turn_s(), settings.sectors_per_turn).turnSamples();
            const auto keep = test::cutWithEdges(settings, test::randomProgram(91, 6, rate_hz));
            REQUIRE(keep.isInOrder);
            REQUIRE(keep.ends.back() == keep.points.size());
            auto compared = 0;
            for (std::size_t i = 0; i < keep.frames.size(); ++i) {
                const auto& frame = keep.frames[i];
                auto land_um = std::numeric_limits<double>::infinity(), width_um = land_um;
                for (auto sample = i == 0 ? 0 : keep.ends[i - 1]; sample < keep.ends[i]; ++sample) {
                    const auto& point = keep.points[sample];
                    width_um = std::min(width_um, static_cast<double>(point.outer_um) - point.inner_um);
                    const auto land = test::landAt_um(keep, sample, turn_samples);
                    if (!std::isnan(land))
                        land_um = std::min(land_um, land);
                }
                REQUIRE(width_um == Approx(frame.widthMin_um).margin(0.02));
                if (frame.state == cut::State::finishing || std::isnan(frame.landMin_um))
                    continue;
                REQUIRE(land_um == Approx(frame.landMin_um).margin(0.02));
                ++compared;
            }
            REQUIRE(compared > 2000);
        }
}

TEST_CASE("The middle between the edges is the frame's radius where the program is silent", "[cut][edges]") {
    const auto settings = shortTurns(78);
    const auto keep = test::cutWithEdges(settings, test::silence(3));
    CHECK(keep.loweredRadius_mm == Approx(keep.frames.front().radius_mm).margin(0.02));
    for (std::size_t i = 0; i < keep.frames.size(); ++i) {
        const auto& last = keep.points[keep.ends[i] - 1];
        const auto middle_um = (static_cast<double>(last.outer_um) + last.inner_um) / 2;
        REQUIRE(keep.loweredRadius_mm + middle_um / 1000 == Approx(keep.frames[i].radius_mm).margin(5e-5));
    }
}

TEST_CASE("Edges are the same whatever the block size, and nobody who does not want them gets any",
          "[cut][edges]") {
    const auto settings = shortTurns(78);
    const auto program = test::randomProgram(92, 3);
    const auto keep = test::cutWithEdges(settings, program, 4096),
               other = test::cutWithEdges(settings, program, 333);
    REQUIRE(keep.points.size() == other.points.size());
    CHECK(std::memcmp(keep.points.data(), other.points.data(), keep.points.size() * sizeof(cut::EdgePoint))
          == 0);

    class Unwilling : public test::EdgeKeep {
        bool wantsEdges() const noexcept override { return false; }
    } unwilling;
    cut::CutEngine engine;
    engine.prepare(settings, program.rate_hz);
    engine.process(program.left.data(), program.right.data(), static_cast<int>(program.length()), unwilling);
    CHECK(unwilling.frames.size() > 100);
    CHECK(unwilling.points.empty());
}
