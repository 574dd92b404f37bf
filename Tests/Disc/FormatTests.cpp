// SPDX-License-Identifier: GPL-3.0-or-later
// The format table against the figures of the standards. The figures are quoted second-hand, from published comparisons
// of the standards, not from the standards' own pages; each expectation names the standard it is said to come from.
#include "Disc/Format.h"

#include <catch2/catch.hpp>
#include <set>
#include <string>

using namespace headland::disc;

namespace {

const Format& formatOf(const char* key) {
    const auto* format = findFormat(key);
    REQUIRE(format != nullptr);
    return *format;
}

constexpr double mm_per_inch = 25.4;

} // namespace

TEST_CASE("five formats, each found by its key", "[format]") {
    REQUIRE(formats().size() == 5);
    std::set<std::string> keys;
    for (const auto& format : formats()) {
        keys.insert(std::string(format.key));
        CHECK(findFormat(format.key) == &format);
        CHECK_FALSE(format.name.empty());
    }
    CHECK(keys == std::set<std::string>{"30cm-33", "30cm-45", "25cm-33", "17cm-45", "17cm-33"});
    CHECK(formats().front().key == "30cm-33");
    CHECK(findFormat("30cm") == nullptr);
    CHECK(findFormat("") == nullptr);
}

TEST_CASE("formats turn at 33 1/3 or 45", "[format]") {
    const auto key = GENERATE("30cm-33", "25cm-33", "17cm-33");
    CHECK(60 / formatOf(key).rpm == Approx(1.8).epsilon(1e-12)); // 33⅓: five turns in nine seconds
    const auto fast = GENERATE("30cm-45", "17cm-45");
    CHECK(formatOf(fast).rpm == 45);
}

TEST_CASE("outermost modulated diameters", "[format]") {
    // IEC 60098:1987, 8.5.
    CHECK(formatOf("30cm-33").modulatedDiameterMax_mm == 292.6);
    CHECK(formatOf("30cm-45").modulatedDiameterMax_mm == 292.6);
    CHECK(formatOf("25cm-33").modulatedDiameterMax_mm == 241.8);
    CHECK(formatOf("17cm-45").modulatedDiameterMax_mm == 168.3);
    CHECK(formatOf("17cm-33").modulatedDiameterMax_mm == 168.3);
    for (const auto& format : formats())
        CHECK(format.modulatedMaxSource == "IEC 60098:1987, 8.5");
    // RIAA 1963 starts a 30 cm side at 11½ in = 292.1 mm: the two agree within their last digits.
    CHECK(formatOf("30cm-33").modulatedDiameterMax_mm == Approx(11.5 * mm_per_inch).margin(1.0));
}

TEST_CASE("innermost modulated diameters", "[format]") {
    // DIN 45547:1981 for 30 cm, JIS S8502-1973 for the others; RIAA 1963: 4¾ in for 30 cm.
    for (const auto* key : {"30cm-33", "30cm-45"}) {
        CHECK(formatOf(key).modulatedDiameterMin_mm == 115);
        CHECK(formatOf(key).modulatedMinSource == "DIN 45547:1981");
        CHECK(formatOf(key).modulatedDiameterEnd_mm == Approx(4.75 * mm_per_inch).epsilon(1e-9));
        CHECK(formatOf(key).modulatedEndSource == "RIAA 1963, 4 3/4 in");
    }
    CHECK(formatOf("25cm-33").modulatedDiameterMin_mm == 115.2);
    CHECK(formatOf("25cm-33").modulatedMinSource == "JIS S8502-1973");
    for (const auto* key : {"17cm-45", "17cm-33"}) {
        CHECK(formatOf(key).modulatedDiameterMin_mm == 106);
        CHECK(formatOf(key).modulatedMinSource == "JIS S8502-1973");
    }
}

TEST_CASE("finishing grooves", "[format]") {
    // IEC 60098:1987, 8.9.
    for (const auto* key : {"30cm-33", "30cm-45", "25cm-33"}) {
        CHECK(formatOf(key).finishingDiameter_mm == 106.4);
        CHECK(formatOf(key).finishingTolerance_mm == 0.8);
        // RIAA 1963: 4 3/16 ± 1/32 in = 106.36 mm.
        CHECK(formatOf(key).finishingDiameter_mm == Approx(4.1875 * mm_per_inch).margin(mm_per_inch / 32));
    }
    for (const auto* key : {"17cm-45", "17cm-33"}) {
        CHECK(formatOf(key).finishingDiameter_mm == 97.4);
        CHECK(formatOf(key).finishingTolerance_mm == 1.0);
    }
    for (const auto& format : formats())
        CHECK(format.finishingSource == "IEC 60098:1987, 8.9");
}

TEST_CASE("spiral pitches and speed tolerance", "[format]") {
    CHECK(leadInPitch_um == 1200); // IEC 60098:1987, 8.4: 1.2 ± 0.4 mm
    CHECK(leadInPitchTolerance_um == 400);
    CHECK(leadOutPitch_um == 6400); // IEC 60098:1987, 8.8: 6.4 ± 3.2 mm
    CHECK(leadOutPitchTolerance_um == 3200);
    CHECK(recordingSpeedTolerance == 0.005); // IEC 60098:2020, 5.6: ± 0.5 %
    // RIAA 1963: lead-in 0.8 to 1.6 mm; lead-out 2 to 6 grooves an inch.
    CHECK((leadInPitch_um >= 800 && leadInPitch_um <= 1600));
    CHECK((leadOutPitch_um >= 25400.0 / 6 && leadOutPitch_um <= 25400.0 / 2));
}

TEST_CASE("every format runs inward and ends before its finishing groove", "[format]") {
    for (const auto& format : formats()) {
        INFO(format.key);
        CHECK(format.discDiameter_mm > format.modulatedDiameterMax_mm);
        CHECK(format.modulatedDiameterMax_mm > format.modulatedDiameterEnd_mm);
        CHECK(format.modulatedDiameterEnd_mm >= format.modulatedDiameterMin_mm);
        CHECK(format.modulatedDiameterMin_mm > format.finishingDiameter_mm + format.finishingTolerance_mm);
        // An ordinary side asks for a pitch a lathe has: 60 to 400 µm, common practice, no source.
        const auto turns = format.nominalSide_s * format.rpm / 60;
        const auto pitch_um =
            (format.modulatedDiameterMax_mm - format.modulatedDiameterEnd_mm) / 2 * 1000 / turns;
        CHECK((pitch_um > 60 && pitch_um < 400));
    }
}
