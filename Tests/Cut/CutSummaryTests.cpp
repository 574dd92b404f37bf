// SPDX-License-Identifier: GPL-3.0-or-later
// The summary against frames made up for the purpose.
#include "Cut/CutSummary.h"

#include <catch2/catch.hpp>
#include <limits>

using namespace headland;
using cut::CutFrame;
using cut::Flag;
using cut::State;

namespace {

CutFrame frameAt(double time_s, std::initializer_list<Flag> flags = {}) {
    CutFrame f{};
    f.time_s = time_s;
    f.radius_mm = 140 - time_s / 100;
    f.pitch_um = 100;
    f.depth_um = 25;
    f.landMin_um = 20;
    f.widthMin_um = 50;
    f.slopePeak = 0.2;
    f.curvatureMin_um = 100;
    f.state = time_s > 0 ? State::program : State::leadIn;
    for (const auto flag : flags)
        f.flags = static_cast<std::uint16_t>(f.flags | static_cast<std::uint16_t>(flag));
    return f;
}

} // namespace

TEST_CASE("Flagged sectors closer than a second make one passage, further apart two", "[summary]") {
    cut::SummaryBuilder builder({});
    for (int i = 1; i <= 100; ++i) {
        auto f = frameAt(i * 0.1);
        if (i == 20 || i == 21 || i == 29 || i == 60)
            f = frameAt(i * 0.1, {Flag::narrow});
        f.widthMin_um = i == 29 ? 21 : 50;
        builder.frame(f);
    }
    const auto summary = builder.summary();
    REQUIRE(summary.flaggedSectors[cut::indexOf(Flag::narrow)] == 4);
    REQUIRE(summary.flaggedPassages[cut::indexOf(Flag::narrow)] == 2);
    REQUIRE(summary.passages.size() == 2);
    REQUIRE(summary.passages[0].start_s == Approx(1.9));
    REQUIRE(summary.passages[0].end_s == Approx(2.9));
    REQUIRE(summary.passages[0].worst.value == 21);
    REQUIRE(summary.passages[0].worst.time_s == Approx(2.9));
    REQUIRE(summary.passages[1].start_s == Approx(5.9));
}

TEST_CASE("Extremes carry their place, and the lead-in does not count", "[summary]") {
    cut::SummaryBuilder builder({});
    auto leadIn = frameAt(-1);
    leadIn.landMin_um = 1;
    leadIn.pitch_um = 1200;
    builder.frame(leadIn);
    auto first = frameAt(1);
    first.landMin_um = std::numeric_limits<double>::quiet_NaN();
    first.pitch_um = 90;
    builder.frame(first);
    auto second = frameAt(2);
    second.landMin_um = 13;
    second.slopePeak = 0.9;
    second.pitch_um = 130;
    builder.frame(second);
    const auto s = builder.summary();
    REQUIRE(s.landLeast.value == 13);
    REQUIRE(s.landLeast.time_s == 2);
    REQUIRE(s.slopeGreatest.value == 0.9);
    REQUIRE(s.pitchMean_um == Approx(110));
    REQUIRE(s.pitchLeast_um == 90);
    REQUIRE(s.pitchGreatest_um == 130);
    REQUIRE(s.startDiameter_mm == Approx(2 * leadIn.radius_mm));
    REQUIRE(s.endDiameter_mm == Approx(2 * second.radius_mm));
    REQUIRE(s.verdict() == cut::Verdict::canBeCut);
}

TEST_CASE("Overcut, lifted and too long are each a reason not to cut, a narrow groove is a caution",
          "[summary]") {
    for (const auto flag : {Flag::overcut, Flag::lifted, Flag::narrow, Flag::steep, Flag::previewShort,
                            Flag::tooDeep, Flag::pastEnd, Flag::discEnd}) {
        cut::SummaryBuilder builder({});
        auto f = frameAt(1, {flag});
        f.landMin_um = flag == Flag::overcut ? -3.5 : 20;
        f.widthMin_um = flag == Flag::lifted ? -4 : 50;
        builder.frame(f);
        const auto s = builder.summary();
        const auto refused = flag != Flag::narrow && flag != Flag::steep && flag != Flag::previewShort;
        REQUIRE((s.verdict() == cut::Verdict::cannotBeCut) == refused);
        if (flag == Flag::overcut)
            REQUIRE(s.verdictLine().find("overcuts, by 3.5 µm at 0:01.0") != std::string::npos);
        if (flag == Flag::lifted)
            REQUIRE(s.verdictLine().find("lifts, by 2.0 µm at 0:01.0") != std::string::npos);
    }
}

TEST_CASE("The list of passages is bounded and says what it left out", "[summary]") {
    cut::SummaryBuilder builder({});
    constexpr int many = 1200;
    for (int i = 1; i <= many; ++i) {
        builder.frame(frameAt(i * 3.0, {Flag::tight}));
        builder.frame(frameAt(i * 3.0 + 0.01));
        builder.frame(frameAt(i * 3.0 + 2.99));
    }
    const auto s = builder.summary();
    REQUIRE(s.passages.size() == cut::CutSummary::maxPassages);
    REQUIRE(s.passagesLeftOut == many - static_cast<int>(cut::CutSummary::maxPassages));
    REQUIRE(s.flaggedPassages[cut::indexOf(Flag::tight)] == many);
}

TEST_CASE("The pitch's travel is what it goes up and down in a turn, without the first one and the lead-out",
          "[summary]") {
    cut::CutSettings settings; // 1.8 s a turn
    cut::SummaryBuilder builder(settings);
    auto frame = frameAt(-0.1);
    frame.pitch_um = 5000;
    builder.frame(frame);
    for (int i = 1; i <= 90; ++i) { // five turns of 18 sectors
        frame = frameAt(0.1 * i - 0.05);
        frame.pitch_um = i <= 18 ? 300 : i % 2 == 0 ? 100 : 103; // the first turn comes from the lead-in
        builder.frame(frame);
    }
    // 197 or 200 in the second turn's first step, then 3 each: 71 steps of 72 sectors.
    CHECK(builder.summary().pitchTravel_um == Approx((197 + 71 * 3) / 4.0).epsilon(1e-9));
    frame = frameAt(9.1);
    frame.state = State::leadOut;
    frame.pitch_um = 5000;
    builder.frame(frame);
    CHECK(builder.summary().pitchTravel_um == Approx((197 + 71 * 3) / 4.0).epsilon(1e-9));
    CHECK(cut::SummaryBuilder(settings).summary().pitchTravel_um == 0);
}
