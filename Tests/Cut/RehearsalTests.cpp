// SPDX-License-Identifier: GPL-3.0-or-later
// A program heard before it is cut: what is kept of it, what the plan makes of it, and that it never costs any land.
#include "Cut/ProfileScale.h"
#include "Tests/Cut/Rehearse.h"
#include "Tests/Support/HeardSectors.h"
#include "Tests/Support/LandPromise.h"
#include "Tests/Support/RealTimeTrap.h"
#include "Tests/Support/SameFrames.h"

#include <catch2/catch.hpp>

#include <limits>
#include <memory>
#include <stdexcept>
#include <string>

using namespace headland;
using test::kept;
using test::music;
using test::rehearse;

namespace {

template <typename Sink>
void cutRehearsed(const cut::CutSettings& settings, const test::Program& p,
                  std::shared_ptr<const plan::Profile> profile, Sink& sink, std::size_t block = 4096) {
    cut::CutEngine engine;
    engine.prepare(settings, p.rate_hz, {}, std::move(profile));
    engine.rehearsed();
    for (std::size_t i = 0; i < p.length(); i += block)
        engine.process(&p.left[i], &p.right[i], static_cast<int>(std::min(block, p.length() - i)), sink);
    engine.finish(sink);
}

std::vector<cut::CutFrame> framesRehearsed(const cut::CutSettings& settings, const test::Program& p,
                                           std::shared_ptr<const plan::Profile> profile,
                                           std::size_t block = 4096) {
    test::FrameKeeper keeper;
    cutRehearsed(settings, p, std::move(profile), keeper, block);
    return std::move(keeper.frames);
}

/// Radius that the program took, mm.
double used_mm(const std::vector<cut::CutFrame>& frames) {
    const auto isProgram = [](const cut::CutFrame& f) { return f.state == cut::State::program; };
    const auto first = std::find_if(frames.begin(), frames.end(), isProgram);
    const auto last = std::find_if_not(first, frames.end(), isProgram);
    return first->radius_mm - (last - 1)->radius_mm;
}

plan::Profile louder(plan::Profile profile, float factor) {
    for (auto& bin : profile.bins)
        bin = {bin.outer_um * factor, bin.inner_um * factor, bin.upward_um * factor};
    return profile;
}

} // namespace

TEST_CASE("A rehearsal keeps the greatest excursions of every 400th of a turn, as the walls make them",
          "[rehearsal]") {
    cut::CutSettings settings;
    settings.sectors_per_turn = plan::Profile::binsPerTurn;
    settings.disc_level_db = -4;
    const auto program = test::randomProgram(5, 7, 48000); // 216 samples a bin
    const auto direct = test::extremesOf(settings, program);
    const auto profile = rehearse(settings, program);
    CHECK(profile.made == cut::profileTerms(settings));
    CHECK(profile.length_s == Approx(7));
    REQUIRE(profile.bins.size() == direct.size() + 1); // the last one is a part of a bin
    auto greatest_um = 0.0;
    for (std::size_t i = 0; i < direct.size(); ++i) {
        INFO("bin " << i);
        for (const auto& [told_um, is_um] : {std::pair{profile.bins[i].outer_um, direct[i].outer_um},
                                             std::pair{profile.bins[i].inner_um, direct[i].inner_um},
                                             std::pair{profile.bins[i].upward_um, direct[i].upward_um}}) {
            REQUIRE(told_um >= is_um); // never less than it was
            REQUIRE(told_um == Approx(std::max(0.0, is_um)).margin(1e-5));
            greatest_um = std::max(greatest_um, is_um);
        }
    }
    CHECK(greatest_um > 15); // it was worth the test
}

TEST_CASE("The same is kept of a program whatever the block size, and what is no sound is silence",
          "[rehearsal]") {
    auto program = test::randomProgram(6, 3);
    const auto profile = rehearse({}, program);
    for (const auto block : {std::size_t{1}, std::size_t{64}, std::size_t{1000}, program.length()})
        CHECK(rehearse({}, program, block) == profile);
    auto broken = program;
    broken.left[50000] = std::numeric_limits<float>::quiet_NaN();
    program.left[50000] = 0;
    CHECK(rehearse({}, broken) == rehearse({}, program));
}

TEST_CASE("A profile is scaled to another level, and of no use with another high-pass", "[rehearsal]") {
    cut::CutSettings settings;
    const auto made = cut::profileTerms(settings);
    CHECK(cut::profileScale(made, settings) == 1.0);
    settings.disc_level_db = 6;
    settings.alignment_dbfs = -20;
    settings.reference_velocity_cm_s = 10;
    REQUIRE(cut::profileScale(made, settings));
    CHECK(*cut::profileScale(made, settings) == Approx(2 * std::pow(10.0, 8 / 20.0)));
    settings.highpass_hz = 20;
    CHECK_FALSE(cut::profileScale(made, settings));

    const auto program = test::randomProgram(8, 12);
    const auto unused = framesRehearsed(settings, program, kept(rehearse({}, program)));
    CHECK(test::sameBits(unused, test::cutAll(settings, program)));
}

TEST_CASE("A rehearsed side takes less disc, at another level than it was rehearsed at as well",
          "[rehearsal]") {
    auto blind_mm = 0.0, rehearsed_mm = 0.0, scaled_mm = 0.0;
    for (unsigned seed = 1; seed <= 6; ++seed) {
        const auto program = music(seed, 40);
        cut::CutSettings settings, quieter;
        settings.depth_max_um = 90;
        quieter.disc_level_db = -6;
        blind_mm += used_mm(test::cutAll(settings, program));
        rehearsed_mm += used_mm(framesRehearsed(settings, program, kept(rehearse(settings, program))));
        scaled_mm += used_mm(framesRehearsed(settings, program, kept(rehearse(quieter, program))));
    }
    CHECK(rehearsed_mm < 0.995 * blind_mm);
    CHECK(scaled_mm == Approx(rehearsed_mm).epsilon(0.0005));
}

TEST_CASE("With a rehearsal the frames are the same bits for every block size", "[rehearsal]") {
    const auto program = music(3, 15, 48000);
    const auto profile = kept(rehearse({}, program));
    const auto frames = framesRehearsed({}, program, profile);
    CHECK_FALSE(test::sameBits(frames, test::cutAll({}, program)));
    for (const auto block : {std::size_t{64}, std::size_t{1024}, program.length()}) {
        INFO("blocks of " << block);
        CHECK(test::sameBits(framesRehearsed({}, program, profile, block), frames));
    }
}

TEST_CASE("Whatever a profile says, land is what it is without it", "[rehearsal]") {
    for (unsigned seed = 1; seed <= 4; ++seed) {
        const auto program = music(seed, 20);
        cut::CutSettings settings;
        const auto own = rehearse(settings, program);
        auto cutShort = own;
        cutShort.bins.resize(own.bins.size() / 3);
        auto shifted = own;
        shifted.bins.erase(shifted.bins.begin(), shifted.bins.begin() + 44);
        for (const auto& profile : {own, rehearse(settings, music(seed + 50, 30)), louder(own, 1.41f),
                                    louder(own, 0), louder(own, 1000), cutShort, shifted}) {
            test::LandPromise promise(settings);
            cutRehearsed(settings, program, kept(profile), promise);
            INFO("seed " << seed << ", profile of " << profile.bins.size() << " bins");
            CHECK(promise.worstLack_um <= test::landPromise_um);
            CHECK(promise.allFinite);
        }
    }
}

TEST_CASE("A profile of something else is left out within a turn, from where it begins to be that",
          "[rehearsal]") {
    cut::CutSettings settings;
    const auto use = [&](const plan::Profile& profile, const test::Program& p) {
        cut::CutEngine engine;
        engine.prepare(settings, p.rate_hz, {}, kept(profile));
        engine.rehearsed();
        test::FrameKeeper keeper;
        engine.process(p.left.data(), p.right.data(), static_cast<int>(p.length()), keeper);
        engine.finish(keeper);
        return engine.profileUse();
    };
    for (unsigned seed = 1; seed <= 5; ++seed) {
        INFO("seed " << seed);
        const auto program = music(seed, 20);
        const auto own = rehearse(settings, program);
        const auto fits = use(own, program);
        CHECK(fits.wasUsed);
        CHECK_FALSE(fits.isDropped);
        for (const auto& wrong : {rehearse(settings, music(seed + 70, 20)), louder(own, 1.41f)}) {
            const auto dropped = use(wrong, program);
            CHECK(dropped.isDropped);
            CHECK(dropped.dropped_s <= 1.01 * settings.turn_s());
        }
        auto half = own; // the second half is of another program
        const auto other = rehearse(settings, music(seed + 90, 20));
        const auto from = own.bins.size() / 2;
        std::copy(other.bins.begin() + static_cast<std::ptrdiff_t>(from), other.bins.end(),
                  half.bins.begin() + static_cast<std::ptrdiff_t>(from));
        const auto dropped = use(half, program);
        CHECK(dropped.isDropped);
        CHECK(dropped.dropped_s > 10);
        CHECK(dropped.dropped_s <= 10 + 1.01 * settings.turn_s());
    }
}

TEST_CASE("Cutting with a rehearsal allocates nothing", "[rehearsal]") {
    const auto program = test::randomProgram(4, 12);
    test::FrameKeeper keeper;
    keeper.frames.reserve(20000);
    cut::CutEngine engine;
    engine.prepare({}, program.rate_hz, {}, kept(rehearse({}, program)));
    test::RealTimeTrap trap;
    {
        const test::RealTimeTrap::Scope scope(trap);
        engine.rehearsed();
        for (std::size_t i = 0; i + 64 <= program.length(); i += 64)
            engine.process(&program.left[i], &program.right[i], 64, keeper);
        engine.finish(keeper);
    }
    CHECK(trap.caught() == "");
    CHECK(keeper.frames.size() > 2000);
}

TEST_CASE("What is ridden was not rehearsed: then the end is no longer known from the rehearsal",
          "[rehearsal]") {
    const auto program = test::randomProgram(3, 8);
    cut::CutSettings settings;
    const auto profile = kept(rehearse(settings, program));
    const auto side = std::make_shared<disc::RehearsedSide>();
    side->add(0, 146);
    side->add(8, 145);
    const auto gradeWith = [&](const plan::Ride& ride) {
        cut::CutEngine engine;
        engine.prepare(settings, program.rate_hz, {}, profile, side);
        engine.rehearsed();
        engine.ride(ride);
        test::FrameKeeper keeper;
        engine.process(program.left.data(), program.right.data(), static_cast<int>(program.length()), keeper);
        return keeper.frames.back().estimate.grade;
    };
    CHECK(gradeWith({}) == disc::EstimateGrade::rehearsed);
    CHECK(gradeWith({5, 0}) == disc::EstimateGrade::blind);
    CHECK(gradeWith({0, 5}) == disc::EstimateGrade::blind);
}

TEST_CASE("Settings that no side can be cut with are refused by a rehearsal in the words of a cut",
          "[rehearsal]") {
    cut::CutSettings settings;
    settings.pitch_max_um = 20;
    settings.rpm = 0;
    std::string said;
    try {
        cut::CutEngine().prepare(settings, 44100);
    } catch (const std::invalid_argument& refusal) {
        said = refusal.what();
    }
    REQUIRE(said.find('\n') != std::string::npos); // more than one
    CHECK_THROWS_WITH(cut::ProgramRehearsal(settings, 44100), said);
}
