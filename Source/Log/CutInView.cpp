// SPDX-License-Identifier: GPL-3.0-or-later
#include "Log/CutInView.h"

#include "Disc/SectorClock.h"

#include <algorithm>
#include <cmath>

namespace headland::log {

CutInView::CutInView(const cut::CutSettings& settings, double sampleRate_hz)
    : made(settings),
      rate_hz(sampleRate_hz),
      keeper(settings, sampleRate_hz,
             [this](int number, const PlaceRecord& place) { places[number] = place; }),
      ring(disc::SectorClock(sampleRate_hz, settings.turn_s(), settings.sectors_per_turn).turnSamples(),
           turnsBefore + 1) {}

void CutInView::edges(const cut::EdgeRun& run) {
    keeper.edges(run);
    ring.add(run);
}

void CutInView::frame(const cut::CutFrame& frame) {
    keeper.frame(frame);
    frames.push_back(frame);
}

void CutInView::finish() {
    keeper.finish();
}

std::vector<cut::CutFrame> CutInView::framesAfter(std::size_t seen) const {
    return {frames.begin() + static_cast<std::ptrdiff_t>(std::min(seen, frames.size())), frames.end()};
}

std::optional<cut::GroovePatch> CutInView::atStylus(double halfLength_mm) const {
    if (frames.empty() || ring.next() == ring.oldest())
        return std::nullopt;
    const auto& last = frames.back();
    const auto newest_s =
        last.time_s
        + (static_cast<double>(ring.next()) - std::round(last.turn * ring.turn_samples())) / rate_hz;
    auto patch = ring.emptyPatch(last.radius_mm, halfLength_mm, newest_s);
    const auto half = static_cast<std::int64_t>(patch.points / 2) * step_samples(patch, ring.turn_samples());
    const auto middle = ring.next() - 1 - half;
    patch.time_s -= static_cast<double>(ring.next() - middle) / rate_hz;
    for (int turn = -turnsBefore; turn <= 0; ++turn)
        if (auto taken = ring.turnOf(patch, middle, turn))
            patch.turns.push_back(std::move(*taken));
    return patch;
}

std::optional<cut::GroovePatch> CutInView::keptNear(double time_s, double within_s) const {
    const PlaceRecord* nearest = nullptr;
    const auto away_s = [time_s](const PlaceRecord& place) { return std::abs(place.patch.time_s - time_s); };
    for (const auto& [number, place] : places)
        if (away_s(place) <= within_s && (nearest == nullptr || away_s(place) < away_s(*nearest)))
            nearest = &place;
    return nearest == nullptr ? std::nullopt : std::optional(nearest->patch);
}

} // namespace headland::log
