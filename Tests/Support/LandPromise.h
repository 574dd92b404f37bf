// SPDX-License-Identifier: GPL-3.0-or-later
// What every valid set-up promises of the land (docs/theory/groove.md, "What is promised"): in every sector that heeds the
// demand it is the set land, less what was announced, to 0.1 µm. Announced for a sector is what its own frame and the one
// before say, for the demand on a boundary is that of both sectors beside it: the shortfall, and what the demand is
// beyond the greatest pitch.
#pragma once

#include "Cut/CutEngine.h"

#include <algorithm>
#include <cmath>
#include <cstdint>

namespace headland::test {

inline constexpr double landPromise_um = 0.1;

class LandPromise : public cut::FrameSink {
public:
    explicit LandPromise(const cut::CutSettings& s) : settings(s) {}

    void frame(const cut::CutFrame& f) noexcept override {
        ++frames;
        for (const auto figure : {f.time_s, f.turn, f.radius_mm, f.pitch_um, f.pitchCommand_um, f.depth_um,
                                  f.depthCommand_um, f.widthMin_um, f.slopePeak, f.shortfall_um})
            allFinite = allFinite && std::isfinite(figure);
        leastRadius_mm = std::min(leastRadius_mm, f.radius_mm);
        const auto announced_um = f.shortfall_um + std::max(0.0, f.demand_um - greatestSpacing_um());
        const auto lack_um = settings.land_min_um - f.landMin_um - std::max(announced_um, announcedBefore_um);
        announcedBefore_um = announced_um;
        heedsDemand =
            f.state == cut::State::leadIn || f.state == cut::State::program || f.state == cut::State::band;
        if (heedsDemand && lack_um > worstLack_um) { // not while there is no turn before
            worstLack_um = lack_um;
            worst = f;
        }
    }

    double worstLack_um = -1e9; ///< land below what was promised, µm; negative: more than that
    cut::CutFrame worst{};      ///< where
    double leastRadius_mm = 1e9;
    bool allFinite = true;
    bool heedsDemand = true; ///< the last sector did
    std::int64_t frames = 0;

private:
    /// As plan::PlanSetup says: the last tenth of a µm of pitch is not planned for.
    double greatestSpacing_um() const noexcept { return settings.pitch_max_um - 0.1; }

    cut::CutSettings settings;
    double announcedBefore_um = 0;
};

/// Cuts a program and stops a few turns into the lead-out: one of half a millimetre may take ten minutes of disc.
template <typename Program>
LandPromise cutForPromise(const cut::CutSettings& settings, const Program& p) {
    cut::CutEngine engine;
    engine.prepare(settings, p.rate_hz);
    LandPromise promise(settings);
    engine.process(p.left.data(), p.right.data(), static_cast<int>(p.length()), promise);
    const auto turn_samples = static_cast<int>(settings.turn_s() * p.rate_hz);
    for (auto sinceProgram = 0; sinceProgram < 3 && !engine.finishSome(turn_samples, promise);)
        sinceProgram += promise.heedsDemand ? 0 : 1;
    return promise;
}

} // namespace headland::test
