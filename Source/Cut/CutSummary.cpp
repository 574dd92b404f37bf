// SPDX-License-Identifier: GPL-3.0-or-later
#include "Cut/CutSummary.h"

#include "Cut/Scrap.h"
#include "Cut/Spoils.h"
#include "Text/Figures.h"

#include <algorithm>
#include <cmath>

namespace headland::cut {

namespace {

void note(Extreme& extreme, Figure figure, const CutFrame& frame) noexcept {
    if (std::isnan(figure.value))
        return;
    if (!extreme.valid || figure.isWorseThan(extreme.value))
        extreme = {figure.value, frame.time_s, frame.radius_mm, true};
}

void keepPassage(CutSummary& summary, const Passage& passage) {
    if (summary.passages.size() < CutSummary::maxPassages)
        summary.passages.push_back(passage);
    else
        ++summary.passagesLeftOut;
}

} // namespace

Figure figureOf(const CutFrame& frame, Flag flag) noexcept {
    switch (flag) {
    case Flag::overcut:
    case Flag::thinLand:
        return {frame.landMin_um, true};
    case Flag::narrow:
    case Flag::lifted:
        return {frame.widthMin_um, true};
    case Flag::steep:
        return {frame.slopePeak, false};
    case Flag::tight:
        return {frame.curvatureMin_um, true};
    case Flag::previewShort:
        return {frame.shortfall_um, false};
    case Flag::limit:
        return {frame.demand_um, false};
    case Flag::badSample:
        return {frame.peak_dbfs, false};
    case Flag::tooDeep:
        return {frame.depthPeak_um, false};
    case Flag::pastEnd:
    case Flag::discEnd:
        return {frame.estimate.left_mm, true};
    }
    return {0, false};
}

SummaryBuilder::SummaryBuilder(const CutSettings& s) : settings(s) {
    totals.startDiameter_mm = totals.endDiameter_mm = 2 * s.start_radius_mm;
    totals.passages.reserve(CutSummary::maxPassages);
    for (int bit = 0; bit < flagCount; ++bit)
        passages[static_cast<std::size_t>(bit)].flag = flagAt(bit);
}

void SummaryBuilder::frame(const CutFrame& frame) noexcept {
    const auto sectorStart_s = totals.sectors == 0 ? frame.time_s : lastTime_s;
    ++totals.sectors;
    notePassages(frame, sectorStart_s);
    lastTime_s = frame.time_s;
    if (frame.state == State::finishing)
        totals.finishingDiameter_mm = 2 * frame.radius_mm;
    if (frame.state == State::leadIn)
        totals.startDiameter_mm = 2 * frame.radius_mm;
    if (frame.has(Flag::discEnd)) {
        totals.discEnd = {frame.radius_mm, frame.time_s, frame.radius_mm, true};
        totals.fits = false;
    }
    if (frame.state != State::program)
        return;
    const auto first = programSectors++ == 0;
    noteTravel(frame, sectorStart_s);
    totals.sideLength_s = frame.time_s;
    totals.turns = frame.time_s / settings.turn_s();
    totals.endDiameter_mm = 2 * frame.radius_mm;
    totals.used_mm = frame.estimate.used_mm;
    totals.left_mm = frame.estimate.left_mm;
    totals.used_cm2 = frame.estimate.used_cm2;
    totals.left_cm2 = frame.estimate.left_cm2;
    if (frame.radius_mm >= settings.end_radius_mm)
        totals.fitLength_s = frame.time_s;
    else
        totals.fits = false;
    pitchSum_um += frame.pitch_um;
    depthSum_um += frame.depth_um;
    const auto count = static_cast<double>(programSectors);
    totals.pitchMean_um = pitchSum_um / count;
    totals.depthMean_um = depthSum_um / count;
    totals.pitchLeast_um = first ? frame.pitch_um : std::min(totals.pitchLeast_um, frame.pitch_um);
    totals.pitchGreatest_um = first ? frame.pitch_um : std::max(totals.pitchGreatest_um, frame.pitch_um);
    totals.depthLeast_um = first ? frame.depth_um : std::min(totals.depthLeast_um, frame.depth_um);
    totals.depthGreatest_um = first ? frame.depth_um : std::max(totals.depthGreatest_um, frame.depth_um);
    note(totals.landLeast, {frame.landMin_um, true}, frame);
    note(totals.widthLeast, {frame.widthMin_um, true}, frame);
    note(totals.slopeGreatest, {frame.slopePeak, false}, frame);
    note(totals.curvatureLeast, {frame.curvatureMin_um, true}, frame);
    note(totals.shortfallGreatest, {frame.shortfall_um, false}, frame);
    note(totals.depthGreatestWithProgram, {frame.depthPeak_um, false}, frame);
}

void SummaryBuilder::noteTravel(const CutFrame& frame, double sectorStart_s) noexcept {
    if (frame.time_s > settings.turn_s()) {
        travelSum_um += std::abs(frame.pitch_um - lastPitch_um);
        travelled_s += frame.time_s - sectorStart_s;
        totals.pitchTravel_um = travelSum_um * settings.turn_s() / travelled_s;
    }
    lastPitch_um = frame.pitch_um;
}

void SummaryBuilder::notePassages(const CutFrame& frame, double sectorStart_s) noexcept {
    for (auto flags = (openFlags | frame.flags) & ((1u << flagCount) - 1); flags != 0; flags &= flags - 1) {
        const auto flag = static_cast<Flag>(flags & ~(flags - 1));
        const auto bit = indexOf(flag);
        auto& current = passages[bit];
        if (isOpen(flag) && sectorStart_s - current.end_s > joinGap_s) {
            keepPassage(totals, current);
            openFlags &= ~static_cast<unsigned>(flag);
        }
        if (!frame.has(flag))
            continue;
        ++totals.flaggedSectors[bit];
        if (!isOpen(flag)) {
            ++totals.flaggedPassages[bit];
            openFlags |= static_cast<unsigned>(flag);
            current = {flag, sectorStart_s, 0, {}};
        }
        current.end_s = frame.time_s;
        note(current.worst, figureOf(frame, flag), frame);
    }
}

CutSummary SummaryBuilder::summary() const {
    auto result = totals;
    if (totals.discEnd.valid && settings.side_length_s > totals.sideLength_s) {
        const auto turnsLeft = (settings.side_length_s - totals.sideLength_s) / settings.turn_s();
        result.notCut_mm = turnsLeft * totals.pitchMean_um / 1000;
        result.sideLength_s = settings.side_length_s;
        result.turns = result.sideLength_s / settings.turn_s();
    }
    for (const auto& current : passages)
        if (isOpen(current.flag))
            keepPassage(result, current);
    std::sort(result.passages.begin(), result.passages.end(),
              [](const Passage& a, const Passage& b) { return a.start_s < b.start_s; });
    return result;
}

Verdict CutSummary::verdict() const noexcept {
    for (int bit = 0; bit < flagCount; ++bit)
        if (spoils(flagAt(bit)) && flaggedSectors[static_cast<std::size_t>(bit)] > 0)
            return Verdict::cannotBeCut;
    return fits ? Verdict::canBeCut : Verdict::cannotBeCut;
}

std::string CutSummary::verdictLine() const {
    if (verdict() == Verdict::canBeCut)
        return "The side can be cut: it ends at " + text::fixed(endDiameter_mm, 1) + " mm diameter"
               + (landLeast.valid ? " with " + text::fixed(landLeast.value, 1) + " µm least land." : ".");
    return "The side cannot be cut: " + scrap(*this) + ".";
}

Extreme CutSummary::worstOf(Flag flag) const noexcept {
    const auto lessIsWorse = figureOf({}, flag).lessIsWorse;
    Extreme worst;
    for (const auto& passage : passages)
        if (passage.flag == flag && passage.worst.valid
            && (!worst.valid || Figure{passage.worst.value, lessIsWorse}.isWorseThan(worst.value)))
            worst = passage.worst;
    return worst;
}

} // namespace headland::cut
