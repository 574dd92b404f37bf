// SPDX-License-Identifier: GPL-3.0-or-later
#include "Cut/DelayCost.h"

#include "Cut/PlanSetupOf.h"
#include "Cut/StylusStage.h"
#include "Disc/SectorClock.h"
#include "Plan/CutPlanner.h"
#include "Plan/RampModel.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace headland::cut {

namespace {

bool isOfProgram(State state) {
    return state == State::program || state == State::band;
}

/// The log has the swings of whole sectors only. Pairing those asks for a little more than pairing bins, about as much as the
/// tolerances do.
plan::PlanSetup bySectors(plan::PlanSetup setup) {
    setup.binsPerSector = 1;
    setup.platterBins = setup.previewBins = 0;
    return setup;
}

/// A side run again, a sector at a time.
class Replanner {
public:
    Replanner(const CutSettings& s, double sampleRate_hz, FrameView all)
        : settings(s),
          frames(all),
          setup(bySectors(planSetup(s, sampleRate_hz))),
          clock(sampleRate_hz, s.turn_s(), s.sectors_per_turn),
          preview_samples(previewLength_samples(s, sampleRate_hz)),
          planner(setup),
          stage(s),
          model(setup.sector_s(), setup.pitch.lag_s),
          carriage{s.lead_in_pitch_um, s.lead_in_pitch_um},
          radius_mm(s.start_radius_mm + stage.leadInTravel_mm()) {
        cost.preview_s = s.preview_s;
    }

    /// Cuts the sector of a frame; false: the stylus is up.
    bool cut(const CutFrame& frame) {
        const auto sector = sectorOf(frame);
        while (next <= sector)
            if (!run(next++, frame))
                return false;
        if (isOfProgram(frame.state) && isOfProgram(stage.state()))
            cost.used_mm = settings.start_radius_mm - radius_mm;
        return true;
    }

    const DelayCost& result() const noexcept { return cost; }

private:
    /// A frame is told at the end of its sector.
    std::int64_t sectorOf(const CutFrame& frame) const {
        return std::llround(frame.turn * settings.sectors_per_turn) - 1;
    }

    /// What the preview head has heard when the stylus begins a sector.
    void hearFor(std::int64_t sector) {
        const auto until = clock.boundary(sector) + preview_samples;
        for (; clock.boundary(heard + 1) <= until; ++heard) {
            while (ahead < frames.size() && sectorOf(frames[ahead]) < heard)
                ++ahead;
            const auto isThere = ahead < frames.size() && sectorOf(frames[ahead]) == heard;
            const auto of = [](double swing_um) { return std::isfinite(swing_um) ? swing_um : 0.0; };
            plan::SectorExtremes swings;
            if (isThere) {
                const auto there = frames[ahead];
                swings = {of(there.outerSwing_um), of(there.innerSwing_um), of(there.lift_um)};
            }
            planner.hear({&swings, 1});
        }
    }

    /// Gives the cue that a person, or the end of the program, gave there.
    void follow(State cutAs) {
        if (cutAs == stage.state() || stage.isUp())
            return;
        if (cutAs == State::band)
            stage.cue(Cue::band);
        else if (cutAs == State::program)
            stage.cue(Cue::program);
        else if (cutAs == State::leadOut)
            stage.cue(Cue::leadOut);
    }

    bool run(std::int64_t sector, const CutFrame& frame) {
        hearFor(sector);
        if (sector == 0) {
            stage.lower();
            planner.start(settings.lead_in_pitch_um, 0);
        } else
            follow(frame.state);
        stage.enter({radius_mm, carriage.axis_um, carriage.command_um});
        if (stage.isUp())
            return false;
        const auto planned = planner.plan(stage.aim());
        const auto after = model.after(carriage, planned.pitch_um);
        radius_mm -= model.integral(carriage, after) / setup.turn_s / um_per_mm;
        carriage = after;
        if (isOfProgram(stage.state())) {
            cost.shortfallGreatest_um = std::max(cost.shortfallGreatest_um, planned.shortfall_um);
            cost.shortfallSectors += planned.shortfall_um > planTolerance_um ? 1 : 0;
        }
        return true;
    }

    static constexpr double um_per_mm = 1000;
    CutSettings settings;
    FrameView frames;
    plan::PlanSetup setup;
    disc::SectorClock clock;
    std::int64_t preview_samples;
    plan::CutPlanner planner;
    StylusStage stage;
    plan::RampModel model;
    plan::AxisState carriage;
    double radius_mm;
    std::int64_t next = 0, heard = 0;
    std::size_t ahead = 0; ///< frame that is heard next
    DelayCost cost;
};

} // namespace

std::optional<DelayCost> costOfDelay(const CutSettings& settings, double sampleRate_hz,
                                     const FrameView& frames, const std::function<bool()>& isStopped) {
    Replanner replanner(settings, sampleRate_hz, frames);
    for (std::size_t i = 0; i < frames.size(); ++i) {
        if (i % static_cast<std::size_t>(settings.sectors_per_turn) == 0 && isStopped())
            return std::nullopt;
        if (!replanner.cut(frames[i]))
            break;
    }
    return replanner.result();
}

} // namespace headland::cut
