// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plan/ProfileMisfit.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace headland::plan {

namespace {

constexpr std::size_t countMost = Profile::binsPerTurn, countLeast = 40;
constexpr int around =
    2; ///< bins on either side whose greatest excursion counts: no half wave above 22 Hz is missed
constexpr int aroundLevel = 4; ///< the same for the level
constexpr int smooth = 7;      ///< and bins on either side that a figure is smoothed over
constexpr int reach = 4;       ///< bins by which one may lie beside the other
constexpr double rest_um = 1;  ///< a groove that moves by less counts as one that rests

using Bins = std::span<const ProfileBin>;
using Course = std::array<double, countMost>;

float finite(float excursion_um) {
    return std::isfinite(excursion_um) ? excursion_um : 0;
}

ProfileBin finite(const ProfileBin& bin) {
    return {finite(bin.outer_um), finite(bin.inner_um), finite(bin.upward_um)};
}

/// All excursions, of each the greatest around bin i.
double loudnessAround_um(Bins bins, int i, int reach_bins) {
    ProfileBin greatest;
    const auto last = std::min(static_cast<int>(bins.size()) - 1, i + reach_bins);
    for (auto k = std::max(0, i - reach_bins); k <= last; ++k)
        greatest = widest(greatest, bins[static_cast<std::size_t>(k)]);
    return static_cast<double>(greatest.outer_um) + greatest.inner_um + greatest.upward_um;
}

void rawCourse(Bins bins, std::size_t first, std::size_t last, Course& raw) {
    for (auto i = first; i < last; ++i)
        raw[i] = std::log1p(loudnessAround_um(bins, static_cast<int>(i), around) / rest_um);
}

void smoothed(const Course& raw, std::size_t bins, Course& course) {
    const auto count = static_cast<int>(bins);
    for (int i = 0; i < count; ++i) {
        auto sum = 0.0, weight = 0.0;
        for (auto k = std::max(-smooth, -i); k <= std::min(smooth, count - 1 - i); ++k) {
            sum += (smooth + 1 - std::abs(k)) * raw[static_cast<std::size_t>(i + k)];
            weight += smooth + 1 - std::abs(k);
        }
        course[static_cast<std::size_t>(i)] = sum / weight;
    }
}

double level_db(Bins bins) {
    auto sum_um = 0.0;
    for (int i = 0; i < static_cast<int>(bins.size()); ++i)
        sum_um += loudnessAround_um(bins, i, aroundLevel);
    return 20 * std::log10(sum_um / static_cast<double>(bins.size()) + rest_um);
}

struct Likeness {
    double correlation, difference;
};

/// Of two stretches of courses, each taken without its mean.
Likeness likeness(std::span<const double> a, std::span<const double> b) {
    const auto count = static_cast<double>(a.size());
    auto meanA = 0.0, meanB = 0.0;
    for (std::size_t i = 0; i < a.size(); ++i) {
        meanA += a[i] / count;
        meanB += b[i] / count;
    }
    auto product = 0.0, squareA = 0.0, squareB = 0.0;
    for (std::size_t i = 0; i < a.size(); ++i) {
        product += (a[i] - meanA) * (b[i] - meanB);
        squareA += (a[i] - meanA) * (a[i] - meanA);
        squareB += (b[i] - meanB) * (b[i] - meanB);
    }
    constexpr double nothing = 1e-12; // of two that do not move
    return {product / std::sqrt((squareA + nothing) * (squareB + nothing)),
            std::sqrt(std::max(0.0, squareA + squareB - 2 * product) / count)};
}

} // namespace

void MisfitCheck::begin(std::span<const ProfileBin> heardBins,
                        std::span<const ProfileBin> toldBins) noexcept {
    count = std::min({heardBins.size(), toldBins.size(), most});
    for (std::size_t i = 0; i < count; ++i) {
        heard[i] = finite(heardBins[i]);
        told[i] = finite(toldBins[i]);
    }
    found = {};
    done = count < countLeast ? shares : 0; // nothing can be noticed of so few
}

void MisfitCheck::proceed() noexcept {
    if (isDone())
        return;
    const auto heardBins = std::span(std::as_const(heard)).first(count),
               toldBins = std::span(std::as_const(told)).first(count);
    const auto half = count / 2;
    switch (done) {
    case 0:
        rawCourse(heardBins, 0, half, raw);
        break;
    case 1:
        rawCourse(heardBins, half, count, raw);
        break;
    case 2:
        smoothed(raw, count, ofHeard);
        break;
    case 3:
        rawCourse(toldBins, 0, half, raw);
        break;
    case 4:
        rawCourse(toldBins, half, count, raw);
        break;
    case 5:
        smoothed(raw, count, ofTold);
        break;
    case 6:
        found.level_db = level_db(heardBins);
        break;
    case 7:
        found.level_db -= level_db(toldBins);
        break;
    case 8:
        found.correlation = -1;
        found.difference = 1e9;
        compare(-reach, -1);
        break;
    case 9:
        compare(0, reach);
        judge();
        break;
    }
    ++done;
}

/// With the one lying so many bins beside the other.
void MisfitCheck::compare(int first, int last) noexcept {
    const auto middle = std::span(ofHeard).subspan(reach, count - 2 * reach);
    for (int lag = first; lag <= last; ++lag) {
        const auto there = std::span(ofTold).subspan(static_cast<std::size_t>(reach + lag), middle.size());
        const auto [correlation, difference] = likeness(middle, there);
        found.correlation = std::max(found.correlation, correlation);
        found.difference = std::min(found.difference, difference);
    }
}

void MisfitCheck::judge() noexcept {
    const auto isOther = found.correlation < misfitCorrelation && found.difference > misfitDifference;
    found.noticed = isOther || std::abs(found.level_db) > misfitLevel_db;
}

ProfileMisfit misfit(Bins heard, Bins told) noexcept {
    MisfitCheck check;
    for (check.begin(heard, told); !check.isDone();)
        check.proceed();
    return check.result();
}

} // namespace headland::plan
