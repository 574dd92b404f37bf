// SPDX-License-Identifier: GPL-3.0-or-later
// The search for the greatest clean value on made-up summaries whose answer is known: every answer in the range, edges
// that are not quite monotone, sides that are never or always clean, and settings that hold each other's range.

#include "Console/FitSearch.h"
#include "Tests/Support/Random.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <set>
#include <stdexcept>

using namespace headland;
using namespace headland::console;

namespace {

constexpr double rate_hz = 44100;

cut::CutSummary flagged(cut::Flag flag) {
    cut::CutSummary summary;
    summary.flaggedSectors[cut::indexOf(flag)] = 1;
    return summary;
}

cut::CutSummary tooLong() {
    cut::CutSummary summary;
    summary.fits = false;
    return summary;
}

using SideAt = std::function<cut::CutSummary(int tenths)>;

/// A side that is clean up to `last`.
SideAt cleanUpTo(int last) {
    return [last](int tenths) { return tenths <= last ? cut::CutSummary{} : tooLong(); };
}

struct Searched {
    FitResult result;
    int calls = 0;
};

Searched search(const cut::CutSettings& settings, const FitQuantity& quantity, const TenthRange& range,
                const SideAt& side) {
    Searched searched;
    searched.result = searchFit(settings, quantity, range, [&](const std::vector<cut::CutSettings>& trials) {
        ++searched.calls;
        CHECK(trials.size() <= 2);
        std::vector<cut::CutSummary> summaries;
        for (const auto& trial : trials) {
            CHECK(cut::validate(trial, rate_hz).empty());
            summaries.push_back(side(tenthsOf(trial, quantity)));
        }
        return summaries;
    });
    return searched;
}

Searched search(const cut::CutSettings& settings, const FitQuantity& quantity, const SideAt& side) {
    return search(settings, quantity, validTenths(settings, quantity, rate_hz), side);
}

/// What FitSearch.h promises, whatever the side.
void checkPromises(const FitResult& result) {
    const auto& trials = result.trials;
    REQUIRE(static_cast<int>(trials.size()) <= fitTrialsMax);
    REQUIRE(std::is_sorted(trials.begin(), trials.end(),
                           [](const auto& a, const auto& b) { return a.tenths <= b.tenths; }));
    const auto lastClean =
        std::find_if(trials.rbegin(), trials.rend(), [](const auto& trial) { return trial.isClean(); });
    REQUIRE((result.best() != nullptr) == (lastClean != trials.rend()));
    if (result.best() == nullptr)
        return;
    REQUIRE(result.best() == &*lastClean);
    if (result.best()->tenths == result.range.greatest)
        REQUIRE(result.above() == nullptr);
    else
        REQUIRE((result.above() != nullptr && !result.above()->isClean()
                 && result.above()->tenths == result.best()->tenths + 1));
}

const FitQuantity& level = fitQuantities()[0];
const FitQuantity& land = fitQuantities()[1];
const FitQuantity& depth = fitQuantities()[2];

} // namespace

TEST_CASE("Every answer in the range is found from every present value, within the trials") {
    for (const auto& quantity : fitQuantities()) {
        const cut::CutSettings defaults;
        const auto range = validTenths(defaults, quantity, rate_hz);
        std::size_t most = 0;
        for (auto present = range.least; present <= range.greatest; present += 37)
            for (auto last = range.least; last <= range.greatest; ++last) {
                const auto settings = withTenths(defaults, quantity, present);
                const auto searched = search(settings, quantity, range, cleanUpTo(last));
                checkPromises(searched.result);
                REQUIRE(searched.result.best() != nullptr);
                REQUIRE(searched.result.best()->tenths == last);
                most = std::max(most, searched.result.trials.size());
            }
        INFO(quantity.name << ": at most " << most << " trials");
        CHECK(most <= fitTrialsMax);
        CHECK(most >= 8); // two trials at a time cannot tell hundreds of values apart in fewer
    }
}

TEST_CASE("The present value is among the trials, so that one sees where one stands") {
    cut::CutSettings settings;
    settings.disc_level_db = -4.3;
    const auto searched = search(settings, level, cleanUpTo(-91));
    CHECK(std::any_of(searched.result.trials.begin(), searched.result.trials.end(),
                      [](const auto& trial) { return trial.tenths == -43; }));
}

TEST_CASE("The same side is searched in the same way every time") {
    const auto first = search({}, level, cleanUpTo(-17)), second = search({}, level, cleanUpTo(-17));
    REQUIRE(first.result.trials.size() == second.result.trials.size());
    for (std::size_t i = 0; i < first.result.trials.size(); ++i)
        CHECK(first.result.trials[i].tenths == second.result.trials[i].tenths);
}

TEST_CASE(
    "An edge that is not quite monotone: what is promised holds, and the answer lies in the ragged part") {
    test::Random random(7);
    for (int round = 0; round < 2000; ++round) {
        const auto edge = static_cast<int>(random.between(-350, 150));
        std::set<int> clean;
        for (auto tenths = edge; tenths < edge + 8; ++tenths)
            if (random.between(0, 1) < 0.5)
                clean.insert(tenths);
        const auto searched = search({}, level, [&](int tenths) {
            return tenths < edge || clean.contains(tenths) ? cut::CutSummary{} : tooLong();
        });
        checkPromises(searched.result);
        REQUIRE(searched.result.best() != nullptr);
        CHECK(searched.result.best()->tenths >= edge - 1);
        CHECK(searched.result.best()->tenths < edge + 8);
    }
}

TEST_CASE("Nothing clean: the least of the range was cut, and there is no answer") {
    for (const auto& quantity : fitQuantities()) {
        const auto searched = search({}, quantity, [](int) { return tooLong(); });
        checkPromises(searched.result);
        CHECK(searched.result.best() == nullptr);
        CHECK(searched.result.below() == nullptr);
        REQUIRE(searched.result.above() != nullptr);
        CHECK(searched.result.above()->tenths == searched.result.range.least);
        CHECK(searched.result.trials.size() <= 6);
    }
}

TEST_CASE("Everything clean: the answer is the end of the range") {
    for (const auto& quantity : fitQuantities()) {
        const auto searched = search({}, quantity, [](int) { return cut::CutSummary{}; });
        checkPromises(searched.result);
        REQUIRE(searched.result.best() != nullptr);
        CHECK(searched.result.best()->tenths == searched.result.range.greatest);
        CHECK(searched.result.above() == nullptr);
        CHECK(searched.result.trials.size() <= 6);
    }
}

TEST_CASE("A groove that is too narrow wants more depth, so an island of clean depths is found") {
    const auto island = [](int first, int last) {
        return [=](int tenths) {
            return tenths < first   ? flagged(cut::Flag::narrow)
                   : tenths <= last ? cut::CutSummary{}
                                    : tooLong();
        };
    };
    for (auto first = 151; first < 600; first += 7)
        for (const auto width : {0, 1, 5, 90}) {
            const auto last = std::min(first + width, 600);
            const auto searched = search({}, depth, island(first, last));
            checkPromises(searched.result);
            REQUIRE(searched.result.best() != nullptr);
            CHECK(searched.result.best()->tenths == last);
        }
}

TEST_CASE("Too narrow up to where the disc is too small: none, and both neighbours are known") {
    const auto searched =
        search({}, depth, [](int tenths) { return tenths <= 331 ? flagged(cut::Flag::lifted) : tooLong(); });
    checkPromises(searched.result);
    CHECK(searched.result.best() == nullptr);
    REQUIRE(searched.result.below() != nullptr);
    REQUIRE(searched.result.above() != nullptr);
    CHECK(searched.result.below()->tenths == 331);
    CHECK(searched.result.above()->tenths == 332);
    // Both at once: neither way helps, and the search ends at the least.
    const auto both = search({}, depth, [](int) {
        auto summary = flagged(cut::Flag::narrow);
        summary.fits = false;
        return summary;
    });
    CHECK(both.result.best() == nullptr);
    CHECK(both.result.below() == nullptr);
    REQUIRE(both.result.above() != nullptr);
    CHECK(both.result.above()->tenths == 150);
    // Too narrow even at the greatest.
    const auto never = search({}, depth, [](int) { return flagged(cut::Flag::narrow); });
    CHECK(never.result.best() == nullptr);
    CHECK(never.result.above() == nullptr);
    REQUIRE(never.result.below() != nullptr);
    CHECK(never.result.below()->tenths == 600);
}

TEST_CASE("At next to no land a hair of overcut wants more land, a thin land does not") {
    const auto hair = search({}, land, [](int tenths) {
        return tenths < 3 ? flagged(cut::Flag::overcut) : tenths <= 40 ? cut::CutSummary{} : tooLong();
    });
    REQUIRE(hair.result.best() != nullptr);
    CHECK(hair.result.best()->tenths == 40);
    const auto narrowIsland = search({}, land, [](int tenths) {
        return tenths < 3 ? flagged(cut::Flag::overcut) : tenths <= 5 ? cut::CutSummary{} : tooLong();
    });
    REQUIRE(narrowIsland.result.best() != nullptr);
    CHECK(narrowIsland.result.best()->tenths == 5);
    const auto thin = search({}, land, [](int) {
        auto summary = flagged(cut::Flag::overcut);
        summary.flaggedSectors[cut::indexOf(cut::Flag::thinLand)] = 1;
        return summary;
    });
    CHECK(thin.result.best() == nullptr);
    CHECK(thin.result.trials.front().tenths == 0);
}

TEST_CASE("The range is the table's, less what other settings do not allow") {
    cut::CutSettings settings;
    const auto check = [&](const FitQuantity& quantity, int least, int greatest, const char* why) {
        const auto range = validTenths(settings, quantity, rate_hz);
        CHECK(range.least == least);
        CHECK(range.greatest == greatest);
        CHECK_THAT(range.whyNoMore, Catch::Matchers::Contains(why));
    };
    check(level, -400, 200, "must lie between -40 and 20 dB");
    check(land, 0, 2000, "must lie between 0 and 200 µm");
    check(depth, 150, 600, "above depth_max_um");
    settings.pitch_max_um = 90;
    settings.width_min_um = 33.3;
    check(land, 0, 400, "cannot even space silence");
    check(depth, 167, 390, "cannot even space silence");
    settings.depth_basic_um = 25.03;
    settings.width_min_um = 50.05;
    settings.depth_max_um = 25.06;
    REQUIRE(cut::validate(settings, rate_hz).empty());
    CHECK(validTenths(settings, depth, rate_hz).empty());
}

TEST_CASE("Only the varied setting differs between trials, and a stop ends the search") {
    cut::CutSettings settings;
    settings.preview_s = 2.5;
    const auto searched = search(settings, land, cleanUpTo(333));
    for (const auto& trial : searched.result.trials) {
        CHECK(trial.settings.preview_s == 2.5);
        CHECK(trial.settings.depth_basic_um == settings.depth_basic_um);
        CHECK(trial.settings.land_min_um == trial.tenths / 10.0);
    }
    const auto range = validTenths(settings, land, rate_hz);
    const auto stopped = [](const std::vector<cut::CutSettings>&) -> std::vector<cut::CutSummary> {
        throw std::runtime_error("stopped");
    };
    CHECK_THROWS_WITH(searchFit(settings, land, range, stopped), "stopped");
}
