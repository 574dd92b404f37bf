// SPDX-License-Identifier: GPL-3.0-or-later
// The picture of a search: limits, answer and present value are named, clean and spoilt trials have points of their own,
// no word covers another, and both formats come from it.

#include "Console/FitPicture.h"
#include "Console/PngPicture.h"
#include "Tests/Console/Drawings.h"
#include "Tests/Console/FitReports.h"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace headland;
using namespace headland::console;
using namespace headland::test;

namespace {

constexpr int panels = 5;

} // namespace

TEST_CASE("The picture of a search names every limit, what was set and the answer, for each quantity") {
    const std::vector<std::vector<std::string>> expected{
        {"as set, 0 dB", "the answer, -3.2 dB", "disc level, dB", "set land, 12 µm", "overcut below this"},
        {"as set, 12 µm", "the answer, 18.3 µm", "land, µm", "set land", "limit, 0.5 µm below it"},
        {"as set, 25 µm", "the answer, 30.5 µm", "basic depth, µm", "set land, 12 µm", "overcut below this"}};
    const std::vector<int> last{-32, 183, 305};
    for (const auto quantity : {level, land, depth}) {
        const auto drawing = drawFitPicture(fitReportOf(quantity, last[quantity], clean(), steep()));
        const auto found = words(drawing);
        for (const auto& word : expected[quantity])
            CHECK(found.contains(word));
        for (const auto* word :
             {"innermost allowed, 120.65 mm", "set width, 30 µm", "limit, 1.00", "clean", "not clean"})
            CHECK(found.contains(word));
        checkWords(drawing);
    }
}

TEST_CASE("Every trial has a point in every panel, full when it is clean, hollow when it is not") {
    const auto report = fitReportOf(level, -32, clean(), steep());
    const auto drawing = drawFitPicture(report);
    auto full = 0, hollow = 0;
    for (const auto* point : elements(drawing, "rect"))
        if (point->getDoubleAttribute("width") == 9) {
            full += point->getStringAttribute("fill") == "#0072b2" ? 1 : 0;
            hollow += point->getStringAttribute("fill") == "#ffffff" ? 1 : 0;
        }
    const auto cleanTrials =
        static_cast<int>(std::count_if(report.result.trials.begin(), report.result.trials.end(),
                                       [](const auto& trial) { return trial.isClean(); }));
    CHECK(full == panels * cleanTrials + 1); // and one in the key
    CHECK(hollow == panels * (static_cast<int>(report.result.trials.size()) - cleanTrials) + 1);
}

TEST_CASE("Without an answer none is marked, and a short side without land or a single trial can be drawn") {
    const auto none = drawFitPicture(fitReportOf(level, 0, steep(), steep()));
    for (const auto& word : words(none))
        CHECK(word.find("the answer") == std::string::npos);
    checkWords(none);
    auto shorter = clean();
    shorter.landLeast.valid = false;
    checkWords(drawFitPicture(fitReportOf(level, -32, shorter, steep())));
    auto single = fitReportOf(level, -32, clean(), steep());
    single.result.trials.resize(1);
    single.result.lower = 0;
    single.result.upper.reset();
    checkWords(drawFitPicture(single));
    CHECK(pngBytes(none).substr(1, 3) == "PNG");
}
