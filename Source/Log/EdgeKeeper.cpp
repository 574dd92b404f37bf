// SPDX-License-Identifier: GPL-3.0-or-later
#include "Log/EdgeKeeper.h"

#include "Disc/SectorClock.h"

#include <algorithm>
#include <cmath>

namespace headland::log {

namespace {

constexpr int turnsAhead = 3; ///< edges may be ahead of the frames

} // namespace

EdgeKeeper::EdgeKeeper(const cut::CutSettings& s, double rate_hz, Keep keeper)
    : settings(s),
      sampleRate_hz(rate_hz),
      turn_samples(disc::SectorClock(rate_hz, s.turn_s(), s.sectors_per_turn).turnSamples()),
      keep(std::move(keeper)),
      ring(turn_samples, turnsEachSide + turnsAhead + 1) {}

void EdgeKeeper::edges(const cut::EdgeRun& run) {
    ring.add(run);
    captureAll(false);
}

void EdgeKeeper::frame(const cut::CutFrame& frame) {
    for (int bit = 0; bit < cut::flagCount; ++bit)
        look(frame, cut::flagAt(bit), passages[static_cast<std::size_t>(bit)]);
}

void EdgeKeeper::finish() {
    captureAll(true);
}

void EdgeKeeper::look(const cut::CutFrame& frame, cut::Flag flag, Passage& passage) {
    if (passage.open && frame.time_s - settings.sector_s() - passage.end_s > cut::joinGap_s)
        passage = {};
    if (!frame.has(flag))
        return;
    passage.end_s = frame.time_s;
    const auto figure = cut::figureOf(frame, flag);
    if (std::isnan(figure.value) || (passage.open && !figure.isWorseThan(passage.worst.value)))
        return;
    passage.open = true;
    passage.worst = figure;
    if (passage.number < 0)
        passage.number = numberFor(flag, figure);
    if (passage.number < 0)
        return;
    kept[passage.number] = {flag, figure};
    await(passage.number, frame, flag);
}

/// A number for a place as bad as that: a new one, or that of the mildest; -1 when all that are kept are worse.
int EdgeKeeper::numberFor(cut::Flag flag, const cut::Figure& figure) {
    auto count = 0;
    auto mildest = kept.end();
    for (auto place = kept.begin(); place != kept.end(); ++place) {
        if (place->second.first != flag)
            continue;
        ++count;
        if (mildest == kept.end() || mildest->second.second.isWorseThan(place->second.second.value))
            mildest = place;
    }
    if (count < placesOfAFlag)
        return static_cast<int>(kept.size());
    return figure.isWorseThan(mildest->second.second.value) ? mildest->first : -1;
}

/// How bad the groove is at this sample, in what the flag is about; a sample that is not known is not bad.
double EdgeKeeper::badness(std::int64_t sample, cut::Flag flag) const noexcept {
    const auto now = ring.at(sample), before = ring.at(sample - 1), after = ring.at(sample + 1);
    const auto slope =
        std::max(std::abs(after.outer_um - before.outer_um), std::abs(after.inner_um - before.inner_um));
    const auto bend = std::hypot(after.outer_um - 2 * now.outer_um + before.outer_um,
                                 after.inner_um - 2 * now.inner_um + before.inner_um);
    const auto value = flag == cut::Flag::narrow || flag == cut::Flag::lifted ? now.inner_um - now.outer_um
                       : flag == cut::Flag::steep                             ? slope
                       : flag == cut::Flag::tight
                           ? bend
                           : now.outer_um - ring.between(static_cast<double>(sample) - turn_samples).inner_um;
    return std::isnan(value) ? -INFINITY : static_cast<double>(value);
}

/// Where in the frame's sector the figure is worst.
std::int64_t EdgeKeeper::worstSample(const cut::CutFrame& frame, cut::Flag flag) const {
    const auto end = std::llround(frame.turn * turn_samples);
    const auto start = end - std::llround(turn_samples / settings.sectors_per_turn);
    auto worst = (start + end) / 2;
    auto worstOf = -INFINITY;
    for (auto sample = std::max<std::int64_t>(start, ring.oldest());
         sample < std::min<std::int64_t>(end, ring.next()); ++sample)
        if (const auto bad = badness(sample, flag); bad > worstOf) {
            worst = sample;
            worstOf = bad;
        }
    return worst;
}

void EdgeKeeper::await(int number, const cut::CutFrame& frame, cut::Flag flag) {
    const auto middle = worstSample(frame, flag);
    const auto time_s =
        frame.time_s - (std::round(frame.turn * turn_samples) - static_cast<double>(middle)) / sampleRate_hz;
    Awaited place{number, {flag, ring.emptyPatch(frame.radius_mm, halfView_mm, time_s)}, middle, 0};
    std::erase_if(awaited, [number](const auto& other) { return other.number == number; });
    awaited.push_back(std::move(place));
    captureAll(false);
}

/// Takes what has come meanwhile; with `isLast` also turns that are not whole.
void EdgeKeeper::capture(Awaited& place, bool isLast) {
    constexpr std::size_t turns = 2 * turnsEachSide + 1;
    auto& patch = place.place.patch;
    const auto half = static_cast<std::int64_t>(patch.points / 2) * step_samples(patch, turn_samples);
    while (place.captured < turns) {
        const auto turn = static_cast<int>(place.captured) - turnsEachSide;
        const auto middle = static_cast<double>(place.middle) + turn * turn_samples;
        if (!isLast && middle + static_cast<double>(half) + 1 >= static_cast<double>(ring.next()))
            return;
        if (auto taken = ring.turnOf(patch, place.middle, turn))
            patch.turns.push_back(std::move(*taken));
        ++place.captured;
    }
}

void EdgeKeeper::captureAll(bool isLast) {
    for (auto& place : awaited)
        capture(place, isLast);
    std::erase_if(awaited, [this](const auto& place) {
        const auto isWhole = place.captured == 2 * turnsEachSide + 1;
        if (isWhole && !place.place.patch.turns.empty())
            keep(place.number, place.place);
        return isWhole;
    });
}

} // namespace headland::log
