// SPDX-License-Identifier: GPL-3.0-or-later
#include "Align/ProfileAligner.h"

#include "Align/Feature.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace headland::align {

namespace {

constexpr auto turn = static_cast<std::int64_t>(plan::Profile::binsPerTurn);
constexpr auto stretch_bins = 2 * turn; ///< what is looked for at once
constexpr int stretchesMax = 8;         ///< that the whole profile is searched for
constexpr int stretchesMin = 2;
constexpr std::int64_t kept_bins = stretchesMax * stretch_bins + 2 * featureReach;
constexpr std::size_t placesMax = 16; ///< the line is through so many, a turn apart

// The tape or the file may run so much faster or slower; a platter's own tolerance is 0.5 % (IEC 60098).
constexpr double ratioTolerance = 0.006;
// How well one stretch is placed, and what is believed of the ratio before it is measured; bins and a fraction.
constexpr double placeSpread = 0.5;
constexpr double ratioSpread = 0.002;

// Measured on recorded music, see docs/theory/alignment.md.
constexpr double fitAcquired = 0.9;      ///< mean correlation of the stretches, at the least
constexpr double unlikeness = 2;         ///< the next best place is so much farther from 1 at the least
constexpr double unlikenessLeast = 0.02; ///< and by this, or it repeats itself
constexpr int apart = 16;                ///< bins; what is closer is the same place
constexpr double fitTracked = 0.8;
constexpr double unlikenessNear = 1.5; ///< the same of places near to each other
constexpr int peakApart = 3;           ///< bins; closer ones are the same place
constexpr int nearReach = 10;          ///< a stretch is looked for where it should be, bins
constexpr double nearMost = 3;         ///< and is off by no more, bins
constexpr int jumpReach = 160;         ///< 0.7 s at 33 1/3: a splice, a tape that slipped
constexpr int agreeing = 3;            ///< how many stretches must have jumped alike, a turn apart
constexpr int missedMax = 4;

double rms(std::span<const float> values) {
    auto sum = 0.0;
    for (const auto value : values)
        sum += static_cast<double>(value) * value;
    return std::sqrt(sum / static_cast<double>(std::max<std::size_t>(1, values.size())));
}

double finiteLoudness_um(const plan::ProfileBin& bin) {
    const auto loudness_um = loudnessOf(bin);
    return std::isfinite(loudness_um) ? loudness_um : 0;
}

/// Greatest of values[i − reach … i + reach].
std::vector<float> widened(const std::vector<float>& values, std::ptrdiff_t reach) {
    if (reach == 0)
        return values;
    const auto count = static_cast<std::ptrdiff_t>(values.size());
    std::vector<float> result(values.size());
    std::deque<std::ptrdiff_t> greatest; // candidates, their values falling
    std::ptrdiff_t taken = 0;
    for (std::ptrdiff_t i = 0; i < count; ++i) {
        for (; taken < std::min(count, i + reach + 1); ++taken) {
            while (!greatest.empty()
                   && values[static_cast<std::size_t>(greatest.back())]
                          <= values[static_cast<std::size_t>(taken)])
                greatest.pop_back();
            greatest.push_back(taken);
        }
        while (greatest.front() < i - reach)
            greatest.pop_front();
        result[static_cast<std::size_t>(i)] = values[static_cast<std::size_t>(greatest.front())];
    }
    return result;
}

/// Where the parabola through three values has its vertex, from the middle one.
double vertex(double before, double at, double after) {
    const auto bend = before - 2 * at + after;
    return bend < 0 ? std::clamp((before - after) / (2 * bend), -0.5, 0.5) : 0;
}

} // namespace

ProfileAligner::ProfileAligner(const plan::Profile& profile) : bin_s(profile.bin_s()) {
    profileFeature = featureOf(profile.bins);
    profileSums_um.assign(1, 0);
    profileSums_um.reserve(profile.bins.size() + 1);
    for (const auto& bin : profile.bins)
        profileSums_um.push_back(profileSums_um.back() + finiteLoudness_um(bin));
}

void ProfileAligner::hear(std::span<const plan::ProfileBin> bins) {
    kept.insert(kept.end(), bins.begin(), bins.end());
    heard += static_cast<std::int64_t>(bins.size());
    forgetOld();
}

/// Moves what is kept only now and then, so that a bin costs little.
void ProfileAligner::forgetOld() {
    const auto count = static_cast<std::int64_t>(kept.size());
    if (count <= 2 * kept_bins)
        return;
    kept.erase(kept.begin(), kept.end() - kept_bins);
    first += count - kept_bins;
}

/// Live bin behind the last one whose feature is as it will stay.
std::int64_t ProfileAligner::knownEnd() const noexcept {
    return heard - featureReach;
}

/// The stretch that starts there; empty if it is not all known.
ProfileAligner::Stretch ProfileAligner::stretchFrom(std::int64_t start) const noexcept {
    if (start < first + featureReach || start + stretch_bins > knownEnd())
        return {start, {}};
    return {start, std::span(liveFeature).subspan(static_cast<std::size_t>(start - first), stretch_bins)};
}

Alignment ProfileAligner::align() {
    liveFeature = featureOf(kept);
    if (places.empty())
        acquire();
    else
        track();
    if (places.empty())
        return {};
    Alignment result{true, offset * bin_s, ratio, 0, 0};
    const auto last = std::min<std::size_t>(places.size(), 4);
    for (auto i = places.size() - last; i < places.size(); ++i) {
        result.level_db += places[i].level_db / static_cast<double>(last);
        result.fit += places[i].fit / static_cast<double>(last);
    }
    return result;
}

/// Looks for the last stretches in the whole profile, each allowed to lie earlier or later by the tolerance of the ratio. True
/// if there is one place only where they are.
bool ProfileAligner::acquire() {
    std::vector<Stretch> stretches; // the newest first
    for (auto start = knownEnd() - stretch_bins; static_cast<int>(stretches.size()) < stretchesMax;
         start -= stretch_bins) {
        const auto stretch = stretchFrom(start);
        if (stretch.feature.empty())
            break;
        stretches.push_back(stretch);
    }
    if (static_cast<int>(stretches.size()) < stretchesMin)
        return false;
    std::vector<float> score, counted; // at each place of the newest: sum of fits, and of how many stretches
    for (std::size_t k = 0; k < stretches.size(); ++k) {
        if (rms(stretches[k].feature) < quiet) {
            if (k == 0)
                return false;
            continue;
        }
        const auto back = static_cast<std::ptrdiff_t>(k) * stretch_bins;
        const auto here =
            widened(correlator.everywhere(profileFeature, stretches[k].feature),
                    static_cast<std::ptrdiff_t>(std::lround(ratioTolerance * static_cast<double>(back))));
        score.resize(here.size());
        counted.resize(here.size());
        for (auto i = back; i < static_cast<std::ptrdiff_t>(score.size()); ++i) {
            score[static_cast<std::size_t>(i)] += here[static_cast<std::size_t>(i - back)];
            counted[static_cast<std::size_t>(i)] += 1;
        }
    }
    for (std::size_t i = 0; i < score.size();
         ++i) // of what lies before the profile's first bin nothing is known
        score[i] = counted[i] >= stretchesMin ? score[i] / counted[i] : 0;
    if (score.empty())
        return false;
    const auto best = std::max_element(score.begin(), score.end());
    const auto place = best - score.begin();
    const auto tolerance_bins = ratioTolerance * static_cast<double>(stretches.size()) * stretch_bins;
    auto nextBest = 0.0F;
    for (std::ptrdiff_t i = 0; i < static_cast<std::ptrdiff_t>(score.size()); ++i)
        if (std::abs(static_cast<double>(i - place)) > tolerance_bins + apart)
            nextBest = std::max(nextBest, score[static_cast<std::size_t>(i)]);
    if (*best < fitAcquired || 1 - nextBest < unlikeness * (1 - *best) + unlikenessLeast)
        return false;
    for (std::size_t k = 0; k < stretches.size(); ++k) {
        const auto back = static_cast<double>(k) * stretch_bins;
        const auto found = placeNear(stretches[k], static_cast<double>(place) - back,
                                     static_cast<int>(std::lround(ratioTolerance * back)) + 4);
        if (found.fit >= fitTracked)
            places.push_front(found);
    }
    next = stretches.front().start + turn;
    missed = 0;
    fitLine();
    const auto isOff = [this](const Place& found) {
        return std::abs(found.profile - expectedAt(found.live)) > nearMost / 2;
    };
    if (static_cast<int>(places.size()) < stretchesMin || std::any_of(places.begin(), places.end(), isOff))
        lose();
    return !places.empty();
}

/// The best place for a stretch's first bin within `reach` of the expected one; a fit of 0 if another one there is nearly as
/// good, as with a pulse that repeats.
ProfileAligner::Place ProfileAligner::placeNear(const Stretch& stretch, double expected, int reach) const {
    const auto from = static_cast<std::ptrdiff_t>(std::lround(expected)) - reach;
    std::vector<double> fits;
    for (auto place = from; place <= from + 2 * reach; ++place)
        fits.push_back(correlationAt(profileFeature, stretch.feature, place));
    const auto best = std::max_element(fits.begin(), fits.end());
    auto found = finePlace(stretch, from + (best - fits.begin()));
    for (auto other = fits.begin() + 1; other < fits.end() - 1; ++other)
        if (std::abs(other - best) >= peakApart && *other >= other[-1] && *other >= other[1]
            && 1 - *other < unlikenessNear * (1 - *best))
            found.fit = 0;
    return found;
}

ProfileAligner::Place ProfileAligner::finePlace(const Stretch& stretch, std::ptrdiff_t place) const {
    const auto fitAt = [&](std::ptrdiff_t at) { return correlationAt(profileFeature, stretch.feature, at); };
    const auto fit = fitAt(place);
    const auto half = static_cast<double>(stretch_bins) / 2;
    return {static_cast<double>(stretch.start) + half,
            static_cast<double>(place) + vertex(fitAt(place - 1), fit, fitAt(place + 1)) + half, fit,
            levelAt(stretch, place)};
}

/// How much louder the stretch is than the profile there, dB.
double ProfileAligner::levelAt(const Stretch& stretch, std::ptrdiff_t place) const noexcept {
    if (place < 0 || place + stretch_bins >= static_cast<std::ptrdiff_t>(profileSums_um.size()))
        return 0;
    const auto there_um = profileSums_um[static_cast<std::size_t>(place + stretch_bins)]
                          - profileSums_um[static_cast<std::size_t>(place)];
    auto here_um = 0.0;
    for (const auto& bin :
         std::span(kept).subspan(static_cast<std::size_t>(stretch.start - first), stretch_bins))
        here_um += finiteLoudness_um(bin);
    return there_um > 0 && here_um > 0 ? 20 * std::log10(here_um / there_um) : 0;
}

double ProfileAligner::expectedAt(double live) const noexcept {
    return offset + ratio * live;
}

void ProfileAligner::track() {
    for (; !places.empty() && next + stretch_bins <= knownEnd(); next += turn)
        trackStretch(next);
}

/// Looks for one more stretch: where it should be, and if it is not there, around it.
void ProfileAligner::trackStretch(std::int64_t start) {
    const auto stretch = stretchFrom(start);
    const auto half = static_cast<double>(stretch_bins) / 2;
    const auto expected = expectedAt(static_cast<double>(start) + half) - half;
    const auto isInside =
        expected >= 0 && expected + stretch_bins < static_cast<double>(profileFeature.size());
    if (stretch.feature.empty() || rms(stretch.feature) < quiet || !isInside)
        return; // nothing can be said
    const auto found = placeNear(stretch, expected, nearReach);
    const auto off = std::abs(found.profile - half - expected);
    if (found.fit >= fitTracked && off <= nearMost) {
        places.push_back(found);
        if (places.size() > placesMax)
            places.pop_front();
        jumped.clear();
        missed = 0;
        return fitLine();
    }
    const auto away = placeNear(stretch, expected, jumpReach);
    if (away.fit >= fitTracked) {
        const auto moved = away.profile - away.live;
        if (!jumped.empty() && std::abs(moved - (jumped.back().profile - jumped.back().live)) > 4)
            jumped.clear();
        jumped.push_back(away);
        if (static_cast<int>(jumped.size()) == agreeing) {
            places = std::exchange(jumped, {});
            missed = 0;
            return fitLine();
        }
    }
    if (++missed > missedMax)
        lose();
}

/// The line through the places, of which most are a turn apart; what is believed of the ratio counts too.
void ProfileAligner::fitLine() noexcept {
    const auto count = static_cast<double>(places.size());
    if (places.empty())
        return;
    auto live = 0.0, profile = 0.0;
    for (const auto& place : places) {
        live += place.live / count;
        profile += place.profile / count;
    }
    auto spread = std::pow(placeSpread / ratioSpread, 2), slope = 0.0;
    for (const auto& place : places) {
        spread += (place.live - live) * (place.live - live);
        slope += (place.live - live) * (place.profile - place.live - (profile - live));
    }
    ratio = 1 + slope / spread;
    offset = profile - ratio * live;
    if (std::abs(ratio - 1) > ratioTolerance)
        lose(); // no machine is so far off
}

void ProfileAligner::lose() noexcept {
    places.clear();
    jumped.clear();
    missed = 0;
}

} // namespace headland::align
