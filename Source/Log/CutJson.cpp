// SPDX-License-Identifier: GPL-3.0-or-later
#include "Log/CutJson.h"

#include "Log/FlagTable.h"

#include <cmath>

namespace headland::log {

namespace {

files::Json flagsObject(const cut::CutSummary& summary) {
    JsonObject object;
    for (int bit = 0; bit < cut::flagCount; ++bit) {
        const auto index = static_cast<std::size_t>(bit);
        object.add(cut::name(cut::flagAt(bit)), JsonObject()
                                                    .count("sectors", summary.flaggedSectors[index])
                                                    .count("passages", summary.flaggedPassages[index]));
    }
    return object;
}

files::Json rangeObject(double mean, double least, double greatest) {
    return JsonObject().number("mean", mean).number("least", least).number("greatest", greatest);
}

files::Json passageObject(const cut::Passage& passage) {
    const auto& row = flagRow(passage.flag);
    const auto& worst = passage.worst;
    return JsonObject()
        .text("flag", cut::name(passage.flag))
        .number("start_s", passage.start_s)
        .number("end_s", passage.end_s)
        .text("figure", row.figure)
        .number("worst", worst.valid ? worst.value : NAN)
        .text("unit", row.unit)
        .number("worst_s", worst.valid ? worst.time_s : NAN)
        .number("radius_mm", worst.valid ? worst.radius_mm : NAN);
}

} // namespace

void addVerdict(JsonObject& object, const cut::CutSummary& summary) {
    object.text("verdict", summary.verdict() == cut::Verdict::canBeCut ? "can be cut" : "cannot be cut")
        .text("verdict_line", summary.verdictLine());
}

void addFigures(JsonObject& object, const cut::CutSummary& summary, double left_min) {
    object.number("side_length_s", summary.sideLength_s)
        .number("minutes", summary.sideLength_s / 60)
        .number("turns", summary.turns)
        .count("sectors", summary.sectors)
        .number("start_diameter_mm", summary.startDiameter_mm)
        .number("end_diameter_mm", summary.endDiameter_mm)
        .number("finishing_diameter_mm",
                summary.finishingDiameter_mm > 0 ? summary.finishingDiameter_mm : NAN)
        .number("used_mm", summary.used_mm)
        .number("left_mm", summary.left_mm)
        .number("used_cm2", summary.used_cm2)
        .number("left_cm2", summary.left_cm2)
        .number("left_min", left_min)
        .number("pitch_mean_um", summary.pitchMean_um)
        .number("pitch_least_um", summary.pitchLeast_um)
        .number("pitch_greatest_um", summary.pitchGreatest_um)
        .number("pitch_travel_um_per_turn", summary.pitchTravel_um)
        .add("lines_per_inch", rangeObject(25400 / summary.pitchMean_um, 25400 / summary.pitchGreatest_um,
                                           25400 / summary.pitchLeast_um))
        .number("depth_mean_um", summary.depthMean_um)
        .number("depth_least_um", summary.depthLeast_um)
        .number("depth_greatest_um", summary.depthGreatest_um)
        .add("land_least", extremeObject(summary.landLeast, "land_um"))
        .add("width_least", extremeObject(summary.widthLeast, "width_um"))
        .add("slope_greatest", extremeObject(summary.slopeGreatest, "slope"))
        .add("curvature_least", extremeObject(summary.curvatureLeast, "radius_um"))
        .add("shortfall_greatest", extremeObject(summary.shortfallGreatest, "shortfall_um"))
        .add("depth_with_program_greatest", extremeObject(summary.depthGreatestWithProgram, "depth_um"))
        .number("disc_end_s", summary.discEnd.valid ? summary.discEnd.time_s : NAN)
        .number("disc_end_diameter_mm", summary.discEnd.valid ? 2 * summary.discEnd.radius_mm : NAN)
        .number("not_cut_mm", summary.notCut_mm)
        .add("flags", flagsObject(summary));
}

files::Json passageArray(const cut::CutSummary& summary) {
    auto passages = files::Json::array();
    for (const auto& passage : summary.passages)
        passages.push_back(passageObject(passage));
    return passages;
}

} // namespace headland::log
