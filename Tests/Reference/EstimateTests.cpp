// SPDX-License-Identifier: GPL-3.0-or-later
// The estimate on recorded music: how often the end lies within the stated 80 % interval (1.28 standard deviations). Every piece
// of two Debian packages (singularity-music, asc-music) is cut by the engine at three levels; its turns' pitch, joined in many
// orders to sides of 15 to 20 minutes, goes into the estimator. Leave-one-out: what is assumed of the pitch's spread is chosen
// on sides without a piece, and judged on sides with it.
// The table of docs/theory/estimate.md: build/release/tests/reference_tests "[estimate-report]".

#include "Disc/DiscEstimator.h"
#include "Tests/Reference/OptimumRun.h"
#include "Tests/Support/InParallel.h"
#include "Tests/Support/Random.h"

#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>

using namespace headland;
using namespace headland::reference;

namespace {

constexpr std::array fractions{0.25, 0.5, 0.75};
constexpr double within80 = 1.2816; ///< 80 % of a normal distribution lie within so many deviations
constexpr double start_mm = 146.3, end_mm = 60.325, turn_s = 1.8;

using Turns = std::vector<double>; ///< pitch of each, µm

/// The recordings of more than a minute.
std::vector<std::string> pieces() {
    auto files = test::recordingsOf("singularity-music asc-music");
    std::erase_if(files, [](const std::string& file) { return file.find("/lose/") != std::string::npos; });
    return files;
}

Turns pitchOf(const std::string& file, double level_db) {
    const auto settings = settingsFor(1, level_db);
    const auto frames = cutRecording(settings, decode(file, 0, 600));
    const auto [first, last] = programRange(frames);
    const auto step = static_cast<std::size_t>(settings.sectors_per_turn);
    Turns turns;
    for (auto i = first; i + step < last; i += step)
        turns.push_back((frames[i].radius_mm - frames[i + step].radius_mm) * 1000);
    return turns;
}

/// A side of 15 to 20 minutes; `without`: a piece that is not in it, `with`: one that is among its first three; −1: any.
Turns sideOf(const std::vector<Turns>& all, test::Random& random, int without, int with) {
    std::vector<int> order;
    for (int i = 0; i < static_cast<int>(all.size()); ++i)
        if (i != without && i != with)
            order.insert(
                order.begin()
                    + static_cast<std::ptrdiff_t>(random.between(0, static_cast<double>(order.size()) + 1)),
                i);
    if (with >= 0)
        order.insert(order.begin() + static_cast<std::ptrdiff_t>(random.between(0, 3)), with);
    const auto length = static_cast<std::size_t>(random.between(900, 1200) / turn_s);
    Turns side;
    for (const auto piece : order)
        side.insert(side.end(), all[static_cast<std::size_t>(piece)].begin(),
                    all[static_cast<std::size_t>(piece)].end());
    side.resize(std::min(side.size(), length));
    return side;
}

struct Judged {
    double error_mm, deviation_mm;
    bool isWithin() const { return std::abs(error_mm) <= within80 * deviation_mm; }
    /// Of a normal distribution, but for a constant.
    double likelihood() const { return -0.5 * std::pow(error_mm / deviation_mm, 2) - std::log(deviation_mm); }
};

/// What is said at the fractions of a side, and how far off that was.
std::array<Judged, fractions.size()> judge(const Turns& side, bool isKnown,
                                           const disc::EstimateAssumptions& assumed) {
    const auto length = static_cast<double>(side.size());
    disc::DiscEstimator estimator(
        {start_mm, end_mm, turn_s, 1, 1200, isKnown ? length * turn_s : 0, assumed});
    estimator.update(start_mm, 0);
    std::array<Judged, fractions.size()> result{};
    auto radius_mm = start_mm;
    std::vector<disc::DiscEstimate> all;
    for (std::size_t i = 0; i < side.size(); ++i) {
        radius_mm -= side[i] / 1000;
        all.push_back(estimator.update(radius_mm, static_cast<double>(i + 1) * turn_s));
    }
    for (std::size_t k = 0; k < fractions.size(); ++k) {
        const auto& e = all[static_cast<std::size_t>(fractions[k] * length)];
        result[k] = {e.endDiameter_mm - 2 * radius_mm, e.endDiameterUncertainty_mm};
    }
    return result;
}

struct Tally {
    std::array<double, fractions.size()> within{}, squares_mm2{}, deviations_mm{};
    double count = 0;

    void add(const std::array<Judged, fractions.size()>& judged) {
        for (std::size_t k = 0; k < judged.size(); ++k) {
            within[k] += judged[k].isWithin();
            squares_mm2[k] += judged[k].error_mm * judged[k].error_mm;
            deviations_mm[k] += judged[k].deviation_mm;
        }
        ++count;
    }
    double share(std::size_t k) const { return within[k] / count; }
    void print(const char* name, double level_db) const {
        std::printf("%-26s %3.0f dB", name, level_db);
        for (std::size_t k = 0; k < within.size(); ++k)
            std::printf(" | %3.0f %%  %5.1f %5.1f", 100 * share(k), std::sqrt(squares_mm2[k] / count),
                        within80 * deviations_mm[k] / count);
        std::printf("\n");
    }
};

/// The spread of the pitch that makes these sides' ends likeliest.
double likeliestSpread(const std::vector<Turns>& sides) {
    auto best = 0.0, greatest = -1e300;
    for (auto spread = 0.15; spread < 0.8; spread += 0.03) {
        disc::EstimateAssumptions assumed;
        assumed.pitchSpread = spread;
        auto sum = 0.0;
        for (const auto& side : sides)
            for (const auto& judged : judge(side, true, assumed))
                sum += judged.likelihood();
        if (sum > greatest) {
            greatest = sum;
            best = spread;
        }
    }
    return best;
}

std::vector<Turns> cutAll(const std::vector<std::string>& files, double level_db) {
    std::vector<Turns> all(files.size());
    test::inParallel(files.size(), [&](std::size_t i) { all[i] = pitchOf(files[i], level_db); });
    return all;
}

} // namespace

TEST_CASE("The end of sides of recorded music lies within the stated 80 % interval in 75 to 90 % of them",
          "[estimate]") {
    auto files = pieces();
    REQUIRE(files.size() >= 10);
    const auto all = cutAll(files, -6);
    test::Random random(61);
    Tally known, blind;
    for (int i = 0; i < 100 * static_cast<int>(files.size()); ++i) {
        const auto side = sideOf(all, random, -1, i % static_cast<int>(files.size()));
        known.add(judge(side, true, {}));
        blind.add(judge(side, false, {}));
    }
    for (std::size_t k = 0; k < fractions.size(); ++k) {
        INFO("at " << fractions[k] << " of the side");
        CHECK(known.share(k) >= 0.75);
        CHECK(known.share(k) <= 0.90);
        CHECK(blind.share(k)
              >= 0.75); // these sides are shorter than an ordinary one: it is surer than it says
    }
}

TEST_CASE("Estimate report: how often the end lies within the stated 80 % interval", "[.][estimate-report]") {
    const auto files = pieces();
    std::printf("%zu pieces. At a quarter, half and three quarters: sides that end within, root mean square "
                "error of the end "
                "diameter and the 80 %% interval, mm.\n",
                files.size());
    for (const auto level_db : {0.0, -3.0, -6.0}) {
        const auto all = cutAll(files, level_db);
        std::vector<Tally> left(files.size()), asBuilt(files.size()), blind(files.size());
        std::vector<double> spreads(files.size());
        test::inParallel(files.size(), [&](std::size_t i) {
            const auto piece = static_cast<int>(i);
            test::Random random(static_cast<unsigned>(1000 + i));
            std::vector<Turns> without;
            for (int k = 0; k < 100; ++k)
                without.push_back(sideOf(all, random, piece, -1));
            disc::EstimateAssumptions assumed;
            assumed.pitchSpread = spreads[i] = likeliestSpread(without);
            for (int k = 0; k < 100; ++k) {
                const auto side = sideOf(all, random, -1, piece);
                left[i].add(judge(side, true, assumed));
                asBuilt[i].add(judge(side, true, {}));
                blind[i].add(judge(side, false, {}));
            }
        });
        const auto sum = [](const std::vector<Tally>& tallies) {
            Tally all;
            for (const auto& tally : tallies) {
                for (std::size_t k = 0; k < fractions.size(); ++k) {
                    all.within[k] += tally.within[k];
                    all.squares_mm2[k] += tally.squares_mm2[k];
                    all.deviations_mm[k] += tally.deviations_mm[k];
                }
                all.count += tally.count;
            }
            return all;
        };
        sum(left).print("length known, one left out", level_db);
        sum(asBuilt).print("length known, as built", level_db);
        sum(blind).print("blind, as built", level_db);
        const auto [least, greatest] = std::minmax_element(spreads.begin(), spreads.end());
        std::printf("%-26s %3.0f dB | %.2f to %.2f\n", "spread chosen", level_db, *least, *greatest);
        std::fflush(stdout);
    }
}
