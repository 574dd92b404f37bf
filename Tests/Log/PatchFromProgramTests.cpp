// SPDX-License-Identifier: GPL-3.0-or-later
// A patch made again from the program's file: the closed forms first, then equality with what the engine measured while it
// cut, at several rates and with a turn that is no whole number of samples; then what is refused, and how it is said.
#include "Log/PatchFromProgram.h"

#include "Cut/PatchPlan.h"
#include "Files/Errors.h"
#include "Groove/Geometry.h"
#include "Tests/Files/Refusal.h"
#include "Tests/Support/Wav.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

using namespace headland;
using namespace headland::log;

namespace {

const auto goOn = [](double) {};

/// A side of its own, cut, and its program in a file.
struct Side {
    explicit Side(const test::Program& p, const cut::CutSettings& s = {})
        : settings(s), program(p), frames(test::cutAll(settings, p)) {
        test::writeWav(path(), p);
    }
    std::string path() const { return folder.path("side.wav"); }
    FramesOfCut logged() const { return {settings, program.rate_hz, frames}; }
    ProgramPatch patch(const PatchWish& wish) const {
        auto file = files::ProgramFile::open(path());
        return patchFromProgram(file, "side.wav", logged(), wish, goOn);
    }
    /// The frame whose sector holds this time.
    const cut::CutFrame& frameAt(double time_s) const {
        return *std::find_if(frames.begin(), frames.end(),
                             [time_s](const auto& frame) { return frame.time_s > time_s; });
    }

    cut::CutSettings settings;
    test::Program program;
    std::vector<cut::CutFrame> frames;
    test::Folder folder;
};

/// As `length_s` of a steady tone in the middle of the side.
Side sideOfTone(double frequency_hz, double amplitude, double leftSign, double rightSign) {
    auto program = test::silence(14);
    test::addTone(program, 0, 14, frequency_hz, amplitude, leftSign, rightSign);
    return Side(program);
}

/// Every land between two neighbouring turns of the patch.
std::pair<double, double> rangeOfLand(const cut::GroovePatch& patch, std::size_t turn) {
    const cut::PatchPlan plan(patch);
    auto least = std::numeric_limits<double>::infinity(), greatest = -least;
    for (std::size_t point = 0; point < patch.points; ++point) {
        least = std::min(least, plan.land_um(turn, point));
        greatest = std::max(greatest, plan.land_um(turn, point));
    }
    return {least, greatest};
}

/// Full scale of a sine that cuts 5 cm/s on one wall at 1 kHz, by the default settings.
const auto reference = std::pow(10.0, -18.0 / 20);
/// Its swing: velocity over angular frequency.
constexpr auto referenceSwing_um = 5e4 / (2 * std::numbers::pi * 1000);

/// The least land and width of the sector at the patch's place, turn by turn, from the patch's points alone; the view must
/// be longer than the sector and every sample a point.
void checkAgainstFrames(const Side& side, const ProgramPatch& made) {
    const cut::PatchPlan plan(made.patch);
    const auto turn = plan.placeTurn().value();
    const auto& frame = side.frameAt(made.patch.time_s);
    const auto begin_s = (&frame)[-1].time_s;
    auto land_um = std::numeric_limits<double>::infinity(), width_um = land_um;
    auto points = 0;
    for (std::size_t point = 0; point < made.patch.points; ++point) {
        const auto time_s =
            made.patch.time_s + made.patch.angle_rad(point) / (2 * std::numbers::pi) * side.settings.turn_s();
        if (time_s < begin_s - 1e-7 || time_s > frame.time_s - 1e-7)
            continue;
        land_um = std::min(land_um, plan.land_um(turn, point));
        width_um = std::min(width_um, plan.width_um(turn, point));
        ++points;
    }
    const auto sector_samples =
        side.settings.turn_s() / side.settings.sectors_per_turn * side.program.rate_hz;
    REQUIRE(points == Approx(sector_samples).margin(1.01));
    CHECK(land_um == Approx(frame.landMin_um).margin(0.05));
    CHECK(width_um == Approx(frame.widthMin_um).margin(0.05));
}

double worstDifference_um(const Side& side, const ProgramPatch& made) {
    auto worst = 0.0;
    for (const auto& check : made.checked) {
        const auto& frame = side.frames[check.frame];
        worst = std::max(worst, std::abs(check.widthMin_um - frame.widthMin_um));
        if (!std::isnan(frame.landMin_um))
            worst = std::max(worst, std::abs(check.landMin_um - frame.landMin_um));
        for (const auto at_s : {check.landMinAt_s, check.widthMinAt_s}) // in the sector
            if (!std::isnan(at_s))
                REQUIRE((at_s < frame.time_s && at_s > frame.time_s - 0.008));
    }
    return worst;
}

} // namespace

TEST_CASE("A patch of silence has the set land and twice the depth for its width, at every point") {
    const Side side(test::silence(16));
    const auto made = side.patch({.time_s = 11});
    const cut::PatchPlan plan(made.patch);
    REQUIRE(made.patch.turns.size() == 5);
    CHECK(made.patch.startRadius_mm == side.settings.start_radius_mm);
    CHECK(made.patch.time_s == Approx(11).margin(1e-4));
    CHECK(plan.referenceRadius_mm() == Approx(side.frameAt(11).radius_mm).margin(0.001));
    for (std::size_t turn = 0; turn < 5; ++turn) {
        CHECK(made.patch.turns[turn].turn == static_cast<int>(turn) - 2);
        REQUIRE(made.patch.turns[turn].edges.size() == made.patch.points);
        for (std::size_t point = 0; point < made.patch.points; ++point) {
            REQUIRE(plan.width_um(turn, point) == Approx(2 * 25.0).margin(0.02));
            if (turn > 0) {
                REQUIRE(plan.land_um(turn, point) == Approx(12.0).margin(0.02));
                REQUIRE(plan.spacing_um(turn, point) == Approx(62.0).margin(0.02));
            }
        }
    }
}

TEST_CASE(
    "A tone of whole cycles a turn nests, one of half a cycle more collides, by the formula of the land") {
    // 1.8 s a turn. Both channels alike: width stays, land = spacing of the centre lines − 2h + √2 (d(t−T) − d(t)).
    const auto swing_um = 2 * referenceSwing_um; // the wall's, at 6 dB over the reference
    const auto nesting = sideOfTone(1000, 2 * reference, 1, 1).patch({.time_s = 9});
    const auto [least, greatest] = rangeOfLand(nesting.patch, 2);
    CHECK(greatest - least < 0.05);
    const auto colliding = sideOfTone(1000 + 0.5 / 1.8, 2 * reference, 1, 1).patch({.time_s = 9});
    const auto [nearest, farthest] = rangeOfLand(colliding.patch, 2);
    CHECK(farthest - nearest == Approx(4 * groove::sqrt2 * swing_um).epsilon(0.005));
    const cut::PatchPlan plan(colliding.patch);
    CHECK(plan.narrowestGroove()->value_um == Approx(2 * 25.0).margin(0.05));
}

TEST_CASE("Anti-phase moves the edges apart, the right channel alone moves the outer edge alone") {
    const auto swing_um = 0.5 * referenceSwing_um; // little enough to need no deeper groove
    const auto vertical = sideOfTone(1000, 0.5 * reference, -1, 1).patch({.time_s = 9});
    const cut::PatchPlan plan(vertical.patch);
    CHECK(plan.narrowestGroove()->value_um == Approx(2 * 25 - 2 * groove::sqrt2 * swing_um).margin(0.06));
    const auto right = sideOfTone(1000, 0.5 * reference, 0, 1).patch({.time_s = 9});
    const auto& edges = right.patch.turns[2].edges;
    const auto drift_um = 0.2; // of the spiral, over the view
    const auto [inLeast, inMost] = std::minmax_element(
        edges.begin(), edges.end(), [](const auto& a, const auto& b) { return a.inner_um < b.inner_um; });
    const auto [outLeast, outMost] = std::minmax_element(
        edges.begin(), edges.end(), [](const auto& a, const auto& b) { return a.outer_um < b.outer_um; });
    CHECK(inMost->inner_um - inLeast->inner_um < drift_um);
    CHECK(outMost->outer_um - outLeast->outer_um == Approx(2 * groove::sqrt2 * swing_um).margin(drift_um));
}

TEST_CASE("Later is along the way of the cut, and the turns before lie further out") {
    auto program = test::silence(16);
    test::addTone(program, 9.003, 1, 500, 0.2); // begins 3 ms after the place
    const auto made = Side(program).patch({.time_s = 9, .halfLength_mm = 3});
    const auto& place = made.patch.turns[2].edges;
    const auto wide = [&](double from_mm, double to_mm) {
        auto least = std::numeric_limits<float>::infinity(), most = -least;
        for (std::size_t i = 0; i < place.size(); ++i) {
            const auto along_mm = made.patch.angle_rad(i) * 146;
            if (along_mm >= from_mm && along_mm <= to_mm) {
                least = std::min(least, place[i].outer_um);
                most = std::max(most, place[i].outer_um);
            }
        }
        return most - least;
    };
    CHECK(wide(-3, 1.5) < 1); // the groove runs at 51 cm/s: 3 ms are 1.53 mm
    CHECK(wide(1.6, 3) > 3);
    for (std::size_t turn = 1; turn < made.patch.turns.size(); ++turn)
        CHECK(made.patch.turns[turn - 1].edges[0].inner_um > made.patch.turns[turn].edges[0].outer_um);
}

TEST_CASE(
    "Land and width of whole sectors are the engine's own, at two rates and with a turn between samples") {
    struct Kind {
        double rate_hz, rpm;
    };
    for (const auto& kind :
         {Kind{44100, 100.0 / 3}, Kind{96000, 45}, Kind{44100, 78.26}, Kind{96000, 78.26}}) {
        cut::CutSettings settings;
        settings.rpm = kind.rpm;
        settings.preview_s = 1.2 * settings.turn_s();
        const Side side(test::randomProgram(11, 20, kind.rate_hz), settings);
        auto worst_um = 0.0;
        test::Random random(12);
        for (int i = 0; i < 12; ++i) {
            const auto time_s = random.between(2, 19);
            INFO(kind.rate_hz << " Hz, " << kind.rpm << " rpm, " << time_s << " s");
            const auto made = side.patch({.time_s = time_s, .halfLength_mm = 5.5});
            checkAgainstFrames(side, made);
            REQUIRE(made.checked.size() == 5);
            worst_um = std::max(worst_um, worstDifference_um(side, made));
        }
        INFO(kind.rate_hz << " Hz, " << kind.rpm << " rpm");
        CHECK(worst_um < 0.001);
    }
}

TEST_CASE("Every sector of a lead-in, a short program and its lead-out can be made again") {
    const Side side(test::randomProgram(5, 3));
    auto worst_um = 0.0;
    auto checked = 0;
    for (std::size_t i = 0; i < side.frames.size(); i += 7) {
        const auto made = side.patch({.time_s = side.frames[i].time_s - 0.003, .turnsEachSide = 0});
        REQUIRE(made.checked.size() == 1);
        REQUIRE(made.checked[0].frame == i);
        worst_um = std::max(worst_um, worstDifference_um(side, made));
        ++checked;
    }
    CHECK(checked > 100);
    CHECK(worst_um < 0.01);
}

TEST_CASE("The sample of the least land, made the place, shows that land there") {
    const Side side(test::randomProgram(13, 12));
    for (const auto time_s : {4.0, 7.0, 10.0}) {
        const auto check = side.patch({.time_s = time_s}).checked[2];
        const auto land = side.patch({.time_s = check.landMinAt_s}).patch;
        CHECK(cut::PatchPlan(land).land_um(2, land.points / 2) == Approx(check.landMin_um).margin(0.02));
        const auto width = side.patch({.time_s = check.widthMinAt_s}).patch;
        CHECK(cut::PatchPlan(width).width_um(2, width.points / 2) == Approx(check.widthMin_um).margin(0.02));
    }
}

TEST_CASE("Turns that do not exist have no edges, and what is before and after the program is silence") {
    const Side side(test::randomProgram(6, 8));
    const auto first = side.patch({.time_s = -2});
    const cut::PatchPlan plan(first.patch);
    for (std::size_t turn = 0; turn < 2; ++turn)
        for (const auto& edge : first.patch.turns[turn].edges) {
            REQUIRE(std::isnan(edge.outer_um));
            REQUIRE(std::isnan(edge.inner_um));
        }
    for (std::size_t point = 0; point < first.patch.points; ++point) {
        REQUIRE(plan.width_um(2, point) == Approx(2 * side.settings.depth_basic_um).margin(0.01));
        REQUIRE(std::isfinite(plan.width_um(3, point)));
    }
    const auto last_s = side.frames.back().time_s;
    const auto last = side.patch({.time_s = last_s}); // the very end: half of the view was cut
    const auto& edges = last.patch.turns[2].edges;
    CHECK(std::isfinite(edges.front().outer_um));
    CHECK(std::isnan(edges.back().outer_um));
    CHECK(std::isnan(last.patch.turns[3].edges.front().outer_um));
    const auto width_um = cut::PatchPlan(last.patch).width_um(2, 0);
    CHECK(width_um == Approx(2 * side.settings.depth_basic_um).margin(0.01));
}

TEST_CASE("Points are every sample, or as few samples apart as make 2.5 µm along the groove") {
    for (const auto rate_hz : {44100.0, 192000.0})
        for (const auto* format : {"30cm-33", "17cm-45"}) {
            cut::CutSettings settings;
            settings.start_radius_mm = 62; // 7.4 µm at 44.1 kHz, 1.1 or 1.5 µm at 192 kHz
            if (std::string_view(format) == "17cm-45")
                settings.rpm = 45;
            const Side side(test::silence(5, rate_hz), settings);
            const auto patch = side.patch({.time_s = 3}).patch;
            const auto radius_um = 1000 * cut::PatchPlan(patch).referenceRadius_mm();
            const auto step_um = patch.step_rad * radius_um;
            const auto sample_um = 2 * std::numbers::pi * radius_um / (settings.turn_s() * rate_hz);
            INFO(rate_hz << " " << format);
            CHECK(step_um >= 2.5);
            CHECK((step_um < 2.5 + sample_um || step_um == Approx(sample_um)));
            CHECK(std::abs(step_um / sample_um - std::round(step_um / sample_um)) < 1e-3);
            CHECK(patch.points % 2 == 1);
            CHECK(patch.angle_rad(patch.points - 1) * radius_um >= 1200 * 0.9999);
            CHECK(patch.angle_rad(patch.points - 2) * radius_um < 1200 * 1.0001);
        }
}

TEST_CASE("What the engine cut as silence is silence here: NaN and infinity in the program") {
    auto program = test::randomProgram(7, 10);
    program.left[5 * 44100] = std::numeric_limits<float>::quiet_NaN();
    program.right[5 * 44100 + 100] = std::numeric_limits<float>::infinity();
    const Side side(program);
    const auto made = side.patch({.time_s = 6});
    CHECK(worstDifference_um(side, made) < 0.01);
    CHECK(cut::PatchPlan(made.patch).narrowestGroove().has_value());
}

TEST_CASE("A time outside the cut is refused with the times there are") {
    const Side side(test::silence(4));
    for (const auto time_s : {-60.0, 400.0, std::numeric_limits<double>::quiet_NaN()}) {
        const auto said = test::sentenceOf<files::InputError>([&] { side.patch({.time_s = time_s}); });
        INFO(said);
        CHECK_THAT(said, Catch::StartsWith("There is no groove at "));
        CHECK_THAT(said, Catch::Contains("the cut goes from -0:02."));
        CHECK_THAT(said, Catch::EndsWith("name a time between them."));
    }
    CHECK_NOTHROW(side.patch({.time_s = -2.2}));
    CHECK_NOTHROW(side.patch({.time_s = side.frames.back().time_s}));
    auto file = files::ProgramFile::open(side.path());
    const auto none = test::sentenceOf<files::InputError>([&] {
        patchFromProgram(file, "side.wav",
                         {side.settings, 44100, cut::FrameView(std::span<const cut::CutFrame>())},
                         {.time_s = 1}, goOn);
    });
    CHECK_THAT(none, Catch::StartsWith("Nothing was cut"));
}

TEST_CASE("A program of another rate is refused") {
    const Side side(test::silence(4));
    const auto other = side.folder.path("other.wav");
    test::writeWav(other, test::silence(4, 48000));
    auto file = files::ProgramFile::open(other);
    const auto said = test::sentenceOf<files::InputError>(
        [&] { patchFromProgram(file, "other.wav", side.logged(), {.time_s = 1}, goOn); });
    test::requireSentence(said, "other.wav", "it has a sample rate of 48 kHz, the cut had 44.1 kHz");
}

TEST_CASE("Another program is refused: other music, a tenth of a decibel louder, a millisecond late, "
          "channels swapped") {
    const auto program = test::randomProgram(8, 10);
    const Side side(program);
    auto others = std::vector{test::randomProgram(9, 10), program, program, program};
    for (auto* channel : {&others[1].left, &others[1].right})
        for (auto& sample : *channel)
            sample *= std::pow(10.0f, 0.1f / 20);
    for (auto* channel : {&others[2].left, &others[2].right})
        channel->insert(channel->begin(), 44, 0.0f);
    std::swap(others[3].left, others[3].right);
    const auto path = side.folder.path("other.wav");
    for (std::size_t i = 0; i < others.size(); ++i) {
        juce::File(path).deleteFile();
        test::writeWav(path, others[i]);
        auto file = files::ProgramFile::open(path);
        const auto said = test::sentenceOf<files::InputError>(
            [&] { patchFromProgram(file, "other.wav", side.logged(), {.time_s = 5}, goOn); });
        INFO(i);
        test::requireSentence(said, "other.wav", "is not the program that was cut");
        CHECK_THAT(said, Catch::Contains("least ") && Catch::Contains(" µm, the log has ")
                             && Catch::EndsWith("give the file that was cut, unchanged."));
    }
    CHECK_NOTHROW(side.patch({.time_s = 5}));
}

TEST_CASE(
    "A program that differs in the place's land alone is refused, and so is one that differs a turn later") {
    const Side side(test::silence(14));
    const auto refusal = [&](double from_s) {
        auto program = test::silence(14);
        test::addTone(program, from_s, 0.05, 1000, 0.1); // both walls: the width stays
        const auto path = side.folder.path("other.wav");
        juce::File(path).deleteFile();
        test::writeWav(path, program);
        auto file = files::ProgramFile::open(path);
        return test::sentenceOf<files::InputError>(
            [&] { patchFromProgram(file, "other.wav", side.logged(), {.time_s = 9}, goOn); });
    };
    CHECK_THAT(refusal(8.98), Catch::Contains("a least land of"));
    CHECK_THAT(refusal(8.98 + 1.8), Catch::Contains("at 0:10.8 it gives a least land of"));
    CHECK(refusal(8.98 + 0.9).empty()); // on the other side of the disc
}

TEST_CASE("A program that differs in the place's width alone is refused") {
    const Side side(test::silence(14));
    auto program = test::silence(14);
    test::addTone(program, 8.98, 0.05, 1000, 0.1, 1, 0); // the inner wall: the land before the place stays
    const auto path = side.folder.path("other.wav");
    test::writeWav(path, program);
    auto file = files::ProgramFile::open(path);
    const auto said = test::sentenceOf<files::InputError>(
        [&] { patchFromProgram(file, "other.wav", side.logged(), {.time_s = 9, .turnsEachSide = 0}, goOn); });
    CHECK_THAT(said, Catch::Contains("at 0:09.0 it gives a least groove width of"));
}

TEST_CASE(
    "The first sector begins at the lead-in's start, and is a turn later what the land is measured against") {
    const Side side(test::silence(4));
    const auto& s = side.settings;
    const auto first_s = side.frames[0].time_s;
    const auto made = side.patch({.time_s = first_s - 0.007, .turnsEachSide = 1});
    REQUIRE(made.checked.size() == 2);
    CHECK(made.checked[0].frame == 0);
    CHECK(std::isnan(made.checked[0].landMin_um));
    CHECK(made.checked[1].frame == static_cast<std::size_t>(s.sectors_per_turn));
    CHECK(worstDifference_um(side, made) < 0.01);
    const auto sector_um = s.lead_in_pitch_um / s.sectors_per_turn; // how far in a sector of lead-in goes
    CHECK(cut::PatchPlan(made.patch).referenceRadius_mm()
          == Approx(side.frames[0].radius_mm + sector_um / 1000).margin(0.0005));
}

TEST_CASE("It reads no further than it must, says how far it is, and ends when it is told to") {
    const Side side(test::silence(30));
    auto file = files::ProgramFile::open(side.path());
    std::vector<double> told;
    patchFromProgram(file, "side.wav", side.logged(), {.time_s = 9},
                     [&](double fraction) { told.push_back(fraction); });
    CHECK(file.position_frames() < (9 + 2 * 1.8 + 0.2) * 44100);
    CHECK(file.position_frames() > (9 + 2 * 1.8) * 44100);
    REQUIRE(told.size() > 100);
    CHECK(told.front() == 0);
    CHECK(told.back() == 1);
    CHECK(std::is_sorted(told.begin(), told.end()));
    CHECK(told[told.size() / 2] == Approx(0.5).margin(0.02));
    auto again = files::ProgramFile::open(side.path());
    auto calls = 0;
    CHECK_THROWS_WITH(patchFromProgram(again, "side.wav", side.logged(), {.time_s = 9},
                                       [&](double) {
                                           if (++calls == 5)
                                               throw std::runtime_error("stop");
                                       }),
                      "stop");
    CHECK(calls == 5);
}

TEST_CASE("A wish out of range, or a program that has been read from, is the caller's mistake") {
    const Side side(test::silence(4));
    for (const auto turns : {-1, 21})
        CHECK_THROWS_AS(side.patch({.time_s = 1, .turnsEachSide = turns}), std::invalid_argument);
    for (const auto half_mm : {0.0, 21.0, std::numeric_limits<double>::quiet_NaN()})
        CHECK_THROWS_AS(side.patch({.time_s = 1, .halfLength_mm = half_mm}), std::invalid_argument);
    auto file = files::ProgramFile::open(side.path());
    float left[10], right[10];
    file.read(left, right, 10);
    CHECK_THROWS_AS(patchFromProgram(file, "side.wav", side.logged(), {.time_s = 1}, goOn),
                    std::invalid_argument);
}
