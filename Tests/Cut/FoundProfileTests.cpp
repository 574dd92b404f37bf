// SPDX-License-Identifier: GPL-3.0-or-later
// A live program that was heard before: what the preview head hears comes out in the bins of a profile, and where somebody says
// that the program lies in its profile, the plan knows what comes, and land never pays for it.
#include "Tests/Cut/Rehearse.h"
#include "Tests/Support/LandPromise.h"
#include "Tests/Support/RealTimeTrap.h"
#include "Tests/Support/SameFrames.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>

using namespace headland;
using cut::ProfilePosition;
using test::kept;
using test::music;
using test::rehearse;

namespace {

/// A live cut: the stylus is told to go down at once, the program begins `before_s` later, and positions are told at samples.
struct Live {
    cut::CutSettings settings;
    test::Program program;
    std::shared_ptr<const plan::Profile> profile;
    double before_s = 6; ///< more than preview and lead-in
    std::map<std::int64_t, ProfilePosition> told;
    std::size_t block = 512;

    /// Where the program is in its own profile.
    ProfilePosition truth() const { return {-before_s, 1}; }
    static std::int64_t sample(double at_s) { return std::llround(at_s * 44100); }

    template <typename Sink>
    cut::ProfileUse run(cut::CutEngine& engine, Sink& sink) const {
        auto p = program;
        for (auto* channel : {&p.left, &p.right})
            channel->insert(channel->begin(), static_cast<std::size_t>(sample(before_s)), 0.0f);
        const auto preview = static_cast<std::size_t>(engine.previewSamples());
        std::vector<float> cutLeft(preview), cutRight(preview);
        cutLeft.insert(cutLeft.end(), p.left.begin(), p.left.end());
        cutRight.insert(cutRight.end(), p.right.begin(), p.right.end());
        std::vector<double> commands(block);
        engine.cue(cut::Cue::leadIn, sink);
        auto next = told.begin();
        for (std::size_t at = 0; at < p.length();) {
            for (; next != told.end() && next->first <= static_cast<std::int64_t>(at); ++next)
                engine.found(next->second);
            auto until = std::min(at + block, p.length());
            if (next != told.end())
                until = std::min(until, static_cast<std::size_t>(next->first));
            engine.live({&p.left[at], &p.right[at], &cutLeft[at], &cutRight[at], static_cast<int>(until - at),
                         commands.data(), commands.data()},
                        sink);
            at = until;
        }
        return engine.profileUse();
    }

    template <typename Sink>
    cut::ProfileUse run(Sink& sink) const {
        cut::CutEngine engine;
        engine.prepare(settings, program.rate_hz, {}, profile);
        return run(engine, sink);
    }

    std::vector<cut::CutFrame> frames() const {
        test::FrameKeeper keeper;
        run(keeper);
        return std::move(keeper.frames);
    }
};

Live liveOf(unsigned seed, double seconds = 30) {
    Live live;
    live.program = music(seed, seconds);
    live.profile = kept(rehearse(live.settings, live.program));
    return live;
}

double taken_mm(const std::vector<cut::CutFrame>& frames) {
    return frames.front().radius_mm - frames.back().radius_mm;
}

class BinKeeper : public test::FrameKeeper {
public:
    bool wantsHeard() const noexcept override { return true; }
    void heard(const plan::ProfileBin& bin, std::int64_t number) noexcept override {
        isInOrder = isInOrder && number == static_cast<std::int64_t>(bins.size());
        bins.push_back(bin);
    }
    std::vector<plan::ProfileBin> bins;
    bool isInOrder = true;
};

} // namespace

TEST_CASE("What the preview head hears comes in bins that say no less than a rehearsal's, and hardly more",
          "[found]") {
    for (const auto sectors : {400, 256, 90}) {
        INFO(sectors << " sectors a turn");
        Live live;
        live.settings.sectors_per_turn = sectors;
        live.program = test::randomProgram(5, 7);
        live.before_s = 0;
        BinKeeper keeper;
        live.run(keeper);
        CHECK(keeper.isInOrder);
        const auto exact = rehearse(live.settings, live.program).bins;
        REQUIRE(keeper.bins.size() + 2 >= exact.size());
        auto most_um = 0.0f;
        for (std::size_t i = 1; i + 1 < keeper.bins.size(); ++i) {
            for (const auto of :
                 {&plan::ProfileBin::outer_um, &plan::ProfileBin::inner_um, &plan::ProfileBin::upward_um}) {
                const auto is_um = exact[i].*of;
                const auto around_um = std::max({exact[i - 1].*of, is_um, exact[i + 1].*of});
                REQUIRE(keeper.bins[i].*of >= is_um - 1e-4f);
                REQUIRE(keeper.bins[i].*of <= around_um + 1e-4f);
                if (sectors == 400)
                    REQUIRE(keeper.bins[i].*of == Approx(is_um).margin(1e-4));
                most_um = std::max(most_um, is_um);
            }
        }
        CHECK(most_um > 15);
    }
}

TEST_CASE("A live program that was found in its profile takes less disc, as soon as it was found",
          "[found]") {
    auto blind_mm = 0.0, early_mm = 0.0, late_mm = 0.0;
    for (unsigned seed = 1; seed <= 6; ++seed) {
        auto live = liveOf(seed, 40);
        live.settings.depth_max_um = 90;
        blind_mm += taken_mm(live.frames());
        live.told = {{Live::sample(8), live.truth()}};
        early_mm += taken_mm(live.frames());
        live.told = {{Live::sample(30), live.truth()}};
        late_mm += taken_mm(live.frames());
    }
    CHECK(early_mm < 0.997 * blind_mm);
    CHECK(late_mm < blind_mm);
    CHECK(late_mm > early_mm);
}

TEST_CASE("As long as a program is only looked for in a profile the cut is, to the bit, the one without",
          "[found]") {
    auto live = liveOf(7, 12);
    const auto sought = live.frames();
    live.profile = nullptr;
    CHECK(test::sameBits(sought, live.frames()));
}

TEST_CASE("A position is heeded at a sector, whatever the block size, and the use says at which", "[found]") {
    auto live = liveOf(3, 15);
    live.told = {{Live::sample(10.0003), live.truth()}};
    test::FrameKeeper keeper;
    const auto use = live.run(keeper);
    CHECK(use.wasGiven);
    CHECK(use.isSought);
    CHECK(use.wasUsed);
    CHECK_FALSE(use.isDropped);
    // The stylus goes down when a whole preview has been heard, at a boundary; sectors are counted from there.
    const auto sector_s = live.settings.turn_s() / live.settings.sectors_per_turn;
    const auto down_s = std::ceil(live.settings.preview_s / sector_s) * sector_s - live.settings.preview_s;
    const auto began_s = use.at_s + live.before_s;
    CHECK(began_s > 10.0003);
    CHECK(began_s <= 10.0003 + sector_s);
    CHECK(use.ratio == 1);
    CHECK(static_cast<double>(use.sector) == Approx((began_s - down_s) / sector_s).margin(1.01));
    for (const auto block : {std::size_t{64}, std::size_t{1024}, std::size_t{5000}}) {
        live.block = block;
        CHECK(test::sameBits(live.frames(), keeper.frames));
    }
    live.block = 512;
    // Told at any time within the same sector it is the same cut.
    const auto inSector = std::floor(10.0003 / sector_s) * sector_s;
    live.told = {{Live::sample(inSector + 0.1 * sector_s), live.truth()}};
    test::FrameKeeper earlier, later;
    CHECK(live.run(earlier) == use);
    CHECK(test::sameBits(earlier.frames, keeper.frames));
    live.told = {{Live::sample(inSector + 1.1 * sector_s), live.truth()}};
    CHECK(live.run(later).sector == use.sector + 1);
    live.told = {};
    CHECK_FALSE(test::sameBits(live.frames(), keeper.frames));
}

TEST_CASE("Told before the stylus goes down, a position is heeded when it does, and for the next cut it is "
          "sought anew",
          "[found]") {
    auto live = liveOf(4, 15);
    live.told = {{0, live.truth()}};
    cut::CutEngine engine;
    engine.prepare(live.settings, 44100, {}, live.profile);
    test::FrameKeeper keeper;
    CHECK(live.run(engine, keeper).wasUsed);
    CHECK(engine.profileUse().sector >= 0);
    CHECK(engine.profileUse().sector < 2 * live.settings.sectors_per_turn);
    engine.cue(cut::Cue::lift, keeper);
    live.told = {};
    const auto again = live.run(engine, keeper);
    CHECK(again.isSought);
    CHECK_FALSE(again.wasUsed);
    CHECK(again.sector == -1);
}

TEST_CASE("Where positions are told every turn only those that differ are heeded, and drift is followed",
          "[found]") {
    auto live = liveOf(5, 30);
    const auto truth = live.truth();
    live.told = {{Live::sample(8), truth}};
    const auto once = live.frames();
    for (auto at_s = 10.0; at_s < 30; at_s += 1.8) // a millisecond off, to and fro
        live.told[Live::sample(at_s)] = {truth.offset_s + (live.told.size() % 2 ? 1e-3 : -1e-3), 1};
    test::FrameKeeper keeper;
    const auto use = live.run(keeper);
    CHECK(test::sameBits(keeper.frames, once));
    // A tape that runs faster: told at first as if it did not, then as it is.
    live.told = {{Live::sample(8), truth}, {Live::sample(12), {truth.offset_s - 0.024, 1.002}}};
    test::FrameKeeper other;
    const auto followed = live.run(other);
    CHECK(followed.sector > use.sector);
    CHECK(followed.ratio == 1.002);
}

TEST_CASE("Wherever a program is said to lie in a profile, land is what it is without it", "[found]") {
    for (unsigned seed = 1; seed <= 4; ++seed) {
        auto live = liveOf(seed, 20);
        const auto right = live.truth();
        const std::vector<std::map<std::int64_t, ProfilePosition>> tellings{
            {{Live::sample(9), right}},
            {{Live::sample(9), {right.offset_s + 0.2, 1}}, {Live::sample(11), right}},
            {{Live::sample(9), right}, {Live::sample(12), {right.offset_s - 5, 1}}},
            {{Live::sample(9), {1e9, 1}}},
            {{Live::sample(9), {-1e9, 1}}},
            {{Live::sample(9), {right.offset_s, 0.01}}, {Live::sample(13), {right.offset_s, 100}}}};
        for (const auto& telling : tellings) {
            live.told = telling;
            test::LandPromise promise(live.settings);
            live.run(promise);
            INFO("seed " << seed << ", first at " << telling.begin()->second.offset_s);
            CHECK(promise.worstLack_um <= test::landPromise_um);
            CHECK(promise.allFinite);
        }
    }
}

TEST_CASE("A position that is wrong by five seconds is noticed within two turns and the profile dropped for "
          "that cut",
          "[found]") {
    for (unsigned seed = 1; seed <= 5; ++seed) {
        auto live = liveOf(seed, 20);
        live.told = {{Live::sample(12), {live.truth().offset_s + 5, 1}}, {Live::sample(20), live.truth()}};
        test::FrameKeeper keeper;
        const auto use = live.run(keeper);
        CHECK(use.isDropped);
        // Program time at the preview head: the lead-in is before it.
        const auto told_s = 12 - live.settings.lead_in_turns * live.settings.turn_s();
        CHECK(use.dropped_s > told_s);
        CHECK(use.dropped_s < told_s + 2 * live.settings.turn_s());
    }
}

TEST_CASE("Finding a program in its profile allocates nothing", "[found]") {
    auto live = liveOf(6, 12);
    live.told = {{Live::sample(8), live.truth()}, {Live::sample(10), {live.truth().offset_s - 0.1, 1}}};
    test::FrameKeeper keeper;
    keeper.frames.reserve(20000);
    cut::CutEngine engine;
    engine.prepare(live.settings, 44100, {}, live.profile);
    test::RealTimeTrap trap;
    const auto p = live.program;
    std::vector<double> commands(64);
    engine.cue(cut::Cue::leadIn, keeper);
    {
        const test::RealTimeTrap::Scope scope(trap);
        for (std::size_t i = 0; i + 64 <= p.length(); i += 64) {
            if (i % (64 * 2000) == 0)
                engine.found({i % (64 * 4000) == 0 ? 0.0 : 0.1, 1});
            engine.live(
                {&p.left[i], &p.right[i], &p.left[i], &p.right[i], 64, commands.data(), commands.data()},
                keeper);
        }
    }
    CHECK(trap.caught() == "");
    CHECK(engine.profileUse().wasUsed);
}

TEST_CASE("A live program that was found is as long as what it was found in, until that is dropped",
          "[found]") {
    const auto soundAt_s = [](const std::vector<cut::CutFrame>& frames) {
        return std::find_if(frames.begin(), frames.end(),
                            [](const auto& f) { return std::isfinite(f.peak_dbfs); })
            ->time_s;
    };
    constexpr double length_s = 40;
    auto live = liveOf(3, length_s);
    live.program.left.front() = 0.01f; // so that the log shows where it begins
    for (const auto ratio : {1.0, 1.005}) {
        live.told = {{Live::sample(12), {-live.before_s * ratio, ratio}}};
        const auto frames = live.frames();
        CHECK(frames.front().estimate.grade == disc::EstimateGrade::blind);
        const auto known = std::find_if(frames.begin(), frames.end(),
                                        [](const auto& f) { return f.estimate.isLengthKnown(); });
        REQUIRE(known != frames.end());
        CHECK(known->estimate.grade == disc::EstimateGrade::lengthKnown);
        auto told = live;
        told.settings.side_length_s = soundAt_s(frames) + length_s / ratio;
        const auto same = told.frames()[static_cast<std::size_t>(known - frames.begin())];
        INFO(ratio << ": " << known->time_s << " s");
        CHECK(known->estimate.endDiameter_mm == Approx(same.estimate.endDiameter_mm).margin(0.003));
    }

    live.told = {{Live::sample(12), {7, 1}}}; // it lies elsewhere
    const auto wrong = live.frames();
    CHECK(std::any_of(wrong.begin(), wrong.end(), [](const auto& f) { return f.estimate.isLengthKnown(); }));
    CHECK(wrong.back().estimate.grade == disc::EstimateGrade::blind);

    live.told = {{Live::sample(12), live.truth()}}; // but somebody has said how long it is
    live.settings.side_length_s = 300;
    const auto set = live.frames();
    CHECK(std::all_of(set.begin(), set.end(), [](const auto& f) { return f.estimate.isLengthKnown(); }));
    CHECK(set.back().estimate.endDiameter_mm < 275);
}
