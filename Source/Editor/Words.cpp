// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/Words.h"

#include "Cut/Scrap.h"
#include "Cut/SettingsTable.h"
#include "Cut/SlopeLimit.h"
#include "Cut/Spoils.h"
#include "Cut/UnitText.h"
#include "Disc/Format.h"
#include "Editor/Cues.h"
#include "Log/FlagTable.h"
#include "Text/Figures.h"
#include "Text/Safe.h"
#include "Text/Times.h"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <regex>

namespace headland::editor {

using text::fixed;

namespace {

/// A caution of the last turns is told with its place; older ones are counted.
constexpr double recent_s = 10;

std::string_view saying(cut::Flag flag) {
    switch (flag) {
    case cut::Flag::overcut:
        return "Two turns have met";
    case cut::Flag::thinLand:
        return "The land is below the set land";
    case cut::Flag::narrow:
        return "The groove is narrower than the set width";
    case cut::Flag::lifted:
        return "The stylus has come out of the lacquer";
    case cut::Flag::steep:
        return "The groove is steeper than the stylus' back angle";
    case cut::Flag::tight:
        return "The groove bends tighter than the playback tip";
    case cut::Flag::previewShort:
        return "A demand came too late for the lathe to meet it";
    case cut::Flag::limit:
        return "The program demands more than the greatest pitch or depth";
    case cut::Flag::badSample:
        return "The program holds values that are no sound, cut as silence";
    case cut::Flag::tooDeep:
        return "The groove is deeper than the lacquer can be trusted to be";
    case cut::Flag::pastEnd:
        return "The program is inside the innermost diameter it may reach";
    case cut::Flag::discEnd:
        return "The disc has ended before the program";
    }
    return {};
}

bool isDown(const Glimpse& glimpse) {
    return glimpse.status.state != cut::State::up;
}

bool hasFrame(const Glimpse& glimpse) {
    return glimpse.status.cuts > 0;
}

std::string diameterText(double diameter_mm, Units units) {
    return diameter_mm > 0 ? longLength(diameter_mm, units) : text::diameterText(diameter_mm);
}

/// The newest passage under a flag, if it lies in the last turns.
const cut::Passage* recentPassage(const Glimpse& glimpse, cut::Flag flag) {
    const auto& passages = glimpse.summary.passages;
    const auto found = std::find_if(passages.rbegin(), passages.rend(),
                                    [&](const cut::Passage& passage) { return passage.flag == flag; });
    return found != passages.rend() && found->end_s >= glimpse.status.frame.time_s - recent_s ? &*found
                                                                                              : nullptr;
}

void addCautions(std::vector<Sentence>& all, const Glimpse& glimpse) {
    for (const auto& row : log::flagTable()) {
        const auto* passage = recentPassage(glimpse, row.flag);
        if (passage == nullptr && !glimpse.status.frame.has(row.flag))
            continue;
        auto text = std::string(saying(row.flag));
        if (passage != nullptr && passage->worst.valid)
            text += ", worst at " + text::minutesTenths(passage->worst.time_s) + ", diameter "
                    + diameterText(2 * passage->worst.radius_mm, glimpse.units) + " ("
                    + log::worstText(*passage) + ")";
        all.push_back({cut::spoils(row.flag) ? Weight::scrap : Weight::caution, text + "."});
    }
}

bool isCutOfTheScreen(const Glimpse& glimpse) {
    return glimpse.summary.sectors > 0 && glimpse.changedSince.empty();
}

/// What became of the last cut.
void addVerdict(std::vector<Sentence>& all, const Glimpse& glimpse) {
    if (glimpse.summary.sectors == 0)
        return;
    const auto good = glimpse.summary.verdict() == cut::Verdict::canBeCut;
    if (good && glimpse.status.lastEnd != handoff::CutEnd::finished)
        return; // what was lifted half way has not been shown to fit
    const auto of = glimpse.changedSince.empty()
                        ? std::string()
                        : "The last cut, before " + glimpse.changedSince + " was changed: ";
    all.push_back({good ? Weight::notice : Weight::scrap, of + glimpse.summary.verdictLine()});
}

/// What is to be expected of the next one. Once it has been cut, that tells it.
void addRehearsal(std::vector<Sentence>& all, const Glimpse& glimpse) {
    const auto& file = glimpse.file;
    if (file.running || file.rehearsed.empty() || (isCutOfTheScreen(glimpse) && !file.rehearsedIsOld))
        return;
    const auto again = file.rehearsing < 1 ? " (it is being rehearsed again)" : "";
    all.push_back({file.rehearsedIsScrap ? Weight::caution : Weight::notice,
                   (file.rehearsedIsOld ? "Rehearsed before the set-up was changed" + std::string(again)
                                        : std::string("Rehearsed"))
                       + ": " + file.rehearsed});
}

/// How much faster the program runs than when it was listened to; nothing where that is within what any machine does.
std::string speedText(double ratio) {
    constexpr double hardly = 0.0005;
    if (std::abs(ratio - 1) < hardly)
        return {};
    return ", " + text::fixed(100 * std::abs(ratio - 1), 2) + (ratio > 1 ? " % faster" : " % slower");
}

/// What a live cut has of what was listened to before.
void addFinding(std::vector<Sentence>& all, const cut::ProfileUse& use) {
    all.push_back(
        {use.isDropped ? Weight::caution : Weight::notice,
         use.isDropped ? "From " + text::minutesTenths(use.dropped_s)
                             + " on the program is not what was listened to: it is planned as far as the "
                               "preview reaches."
         : use.wasUsed ? "The program is found in what was listened to" + speedText(use.ratio)
                             + ": the pitch is planned beyond the preview."
                       : "The program is looked for in what was listened to: until it is found it is "
                         "planned as far as the preview reaches."});
}

/// What was listened to with the stylus up; it serves no file.
void addListening(std::vector<Sentence>& all, const Glimpse& glimpse) {
    const auto& [isOn, heard_s, length_s, why] = glimpse.listening;
    if (isDown(glimpse) || glimpse.file.running)
        return;
    if (!why.empty())
        all.push_back({Weight::caution, why});
    if (isOn)
        all.push_back({Weight::notice, "Listening: " + text::minutesSeconds(heard_s) + " heard."});
    else if (length_s > 0 && why.empty())
        all.push_back({Weight::notice, text::minutesSeconds(length_s)
                                           + " of tape heard: a live cut of it is planned beyond the "
                                             "preview once its place is found."});
}

/// What the cut under way has of the file's rehearsal.
void addForeknowledge(std::vector<Sentence>& all, const Glimpse& glimpse) {
    const auto& use = glimpse.status.rehearsal;
    if (isDown(glimpse) && use.isSought)
        return addFinding(all, use);
    if (!glimpse.file.running || !isDown(glimpse))
        return;
    all.push_back(
        {use.isDropped ? Weight::caution : Weight::notice,
         !use.wasGiven
             ? "This cut began before the side was rehearsed: it is planned as far as the preview reaches."
         : !use.wasUsed ? "The rehearsal was made with another High-pass: this cut is planned as far as the "
                          "preview reaches."
         : use.isDropped
             ? "From " + text::minutesTenths(use.dropped_s)
                   + " on the program is not what was rehearsed: it is planned as far as the preview reaches."
             : "What was rehearsed is known: the pitch is planned beyond the preview."});
}

void addCounts(std::vector<Sentence>& all, const Glimpse& glimpse) {
    const auto counts = log::flagCounts(glimpse.summary);
    if (counts.empty() || !glimpse.changedSince.empty())
        return;
    const auto isSpoilt = isDown(glimpse) && glimpse.summary.verdict() == cut::Verdict::cannotBeCut;
    all.push_back({isSpoilt ? Weight::scrap : Weight::caution, "Flagged on this side: " + counts + "."});
}

void addEnd(std::vector<Sentence>& all, const Glimpse& glimpse) {
    const auto& estimate = glimpse.status.frame.estimate;
    const auto innermost_mm = 2 * glimpse.setup.end_radius_mm;
    const auto margin_mm = estimate.endDiameter_mm - innermost_mm;
    if (!isDown(glimpse) || !hasFrame(glimpse) || !std::isfinite(margin_mm)
        || margin_mm >= estimate.endDiameterUncertainty_mm)
        return;
    const auto sure = margin_mm < 0 && estimate.isLengthKnown();
    all.push_back({sure ? Weight::fault : Weight::caution,
                   std::string(margin_mm < 0 ? "The side will not fit" : "The side may not fit")
                       + ": its end is expected at " + diameterText(estimate.endDiameter_mm, glimpse.units)
                       + " ± " + longLength(estimate.endDiameterUncertainty_mm, glimpse.units) + ", and "
                       + diameterText(innermost_mm, glimpse.units) + " is the innermost allowed"
                       + (estimate.isLengthKnown() ? "." : "; the length is assumed.")});
}

/// The disc will end within two minutes, and the side is not known to end before.
void addDiscEnd(std::vector<Sentence>& all, const Glimpse& glimpse) {
    constexpr double soon_s = 120;
    const auto& frame = glimpse.status.frame;
    const auto state = frame.state;
    if (!isDown(glimpse) || !hasFrame(glimpse) || (state != cut::State::program && state != cut::State::band))
        return;
    const auto& setup = glimpse.setup;
    const auto stop_mm = setup.stopRadius_mm();
    // left_min is what is left to the innermost radius at the going rate; the same rate to the stop radius
    const auto perRadius_s = 60 * frame.estimate.left_min / frame.estimate.left_mm;
    const auto until_s = perRadius_s * (frame.radius_mm - stop_mm);
    const auto endsBefore = setup.side_length_s > 0 && setup.side_length_s < frame.time_s + until_s;
    if (!std::isfinite(until_s) || until_s > soon_s || endsBefore)
        return;
    all.push_back({Weight::fault,
                   "The disc ends in " + text::minutesSeconds(std::max(0.0, until_s)) + " at this pitch: "
                       + (setup.disc_end == 1 ? "the stylus lifts" : "the lead-out begins") + " by itself at "
                       + diameterText(2 * stop_mm, glimpse.units) + " diameter."});
}

void addAll(std::vector<Sentence>& all, Weight weight, const std::vector<std::string>& texts,
            const std::string& before = {}) {
    for (const auto& text : texts)
        all.push_back({weight, before + text});
}

std::string levelText(double peak_dbfs) {
    return std::isfinite(peak_dbfs) ? fixed(peak_dbfs, 1) + " dBFS" : "silence";
}

/// "152.4 ± 3.6 mm": the number is said with one unit; or that there is no such diameter.
std::string endText(const disc::DiscEstimate& estimate, Units units) {
    if (estimate.endDiameter_mm <= 0)
        return diameterText(estimate.endDiameter_mm, units);
    const auto end = longLength(estimate.endDiameter_mm, units);
    const auto uncertainty = longLength(estimate.endDiameterUncertainty_mm, units);
    return end == "-" || uncertainty == "-" ? end : end.substr(0, end.find(' ')) + " ± " + uncertainty;
}

std::string named(const std::string& name, const Glimpse& glimpse) {
    return glimpse.figuresOf.empty() ? name : name + ", " + glimpse.figuresOf;
}

/// What the expected end is made from.
const char* basis(disc::EstimateGrade grade) {
    switch (grade) {
    case disc::EstimateGrade::blind:
        return "length assumed";
    case disc::EstimateGrade::lengthKnown:
        return "diameter";
    case disc::EstimateGrade::rehearsed:
        return "rehearsed";
    }
    return "";
}

Figure endFigure(const Glimpse& glimpse) {
    const auto& estimate = glimpse.status.frame.estimate;
    return {named("Side ends at", glimpse), endText(estimate, glimpse.units),
            std::string(basis(estimate.grade)) + "; limit "
                + diameterText(2 * glimpse.setup.end_radius_mm, glimpse.units)};
}

Figure leftFigure(const Glimpse& glimpse) {
    const auto& estimate = glimpse.status.frame.estimate;
    const auto name = named("Disc left", glimpse);
    if (estimate.left_mm < 0)
        return {name, "none: " + longLength(-estimate.left_mm, glimpse.units) + " too far in", ""};
    return {name, text::minutesSeconds(60 * estimate.left_min),
            "min at this pitch; " + longLength(estimate.left_mm, glimpse.units)};
}

/// "lantern.headland: Lantern Sessions, side A"
std::string place(const LogPlace& place) {
    return text::printable(std::filesystem::path(place.book).filename().string()) + ": "
           + text::printable(place.side.job) + ", side " + text::printable(place.side.side);
}

/// " This is cut 3."; empty: the book has given it no number yet.
std::string number(const LogState& log, const std::string& which) {
    return log.cut == 0 ? std::string() : " " + which + " is cut " + std::to_string(log.cut) + ".";
}

std::string unlogged(const Glimpse& glimpse) {
    return std::string(isDown(glimpse) ? "this cut" : "the last cut") + " is in no book that is open; "
           + (glimpse.log.chosen.book.empty() ? "choose one for the next cut."
                                              : "the one that is chosen is for the next cut.");
}

/// " in mil, in, lpi"; the other system's units are read as well, but not offered.
std::string unitsThatFit(const Field& field, Units units) {
    auto all = cut::readableUnits(field.unit, field.isPitch);
    if (units == Units::inch && shownUnit(field.unit, units).name != field.unit) {
        static const std::regex metric("(^|, )(?:lpcm|(?:µm|um|mm|cm|m)(?:/rev)?(?:/s)?)(?=,|$)");
        all = std::regex_replace(all, metric, "");
        all.erase(0, all.find_first_not_of(", "));
    }
    return all.empty() ? all : " in " + all;
}

/// Of a radius of curvature: beyond 10 mm the groove is as good as straight, and more digits would say nothing.
std::string curvatureText(double radius_um, Units units) {
    constexpr double straight_mm = 10;
    return std::isfinite(radius_um) && radius_um > 1000 * straight_mm
               ? "over " + longLength(straight_mm, units)
               : shortLength(radius_um, units);
}

} // namespace

std::string_view name(Weight weight) noexcept {
    constexpr std::array<std::string_view, 4> names{"Scrap", "Fault", "Caution", "Notice"};
    return names[static_cast<std::size_t>(weight)];
}

std::vector<Sentence> whatIsWrong(const Glimpse& glimpse) {
    std::vector<Sentence> all;
    addAll(all, Weight::caution, glimpse.problems, "The stylus stays up: ");
    addAll(all, Weight::fault, glimpse.troubles);
    addAll(all, Weight::caution, glimpse.cautions);
    if (!glimpse.file.failure.empty())
        all.push_back({Weight::fault, glimpse.file.failure});
    if (!isDown(glimpse) && glimpse.lastEndIsFault)
        all.push_back({Weight::fault, "The last cut " + glimpse.lastEnd + "."});
    if (glimpse.status.framesLost > 0)
        all.push_back({Weight::fault, text::counted(static_cast<long long>(glimpse.status.framesLost), "row")
                                          + " of the log could not be kept up with and are missing."});
    addEnd(all, glimpse);
    addDiscEnd(all, glimpse);
    if (hasFrame(glimpse)) {
        if (isDown(glimpse))
            addCautions(all, glimpse);
        else
            addVerdict(all, glimpse);
        addCounts(all, glimpse);
    }
    if (!isDown(glimpse))
        addRehearsal(all, glimpse);
    addForeknowledge(all, glimpse);
    addListening(all, glimpse);
    if (glimpse.changesWait)
        all.push_back({Weight::notice, "Changes of the set-up wait until the stylus is up."});
    addAll(all, Weight::notice, glimpse.notices);
    for (auto& sentence : all) // much of it was made elsewhere, in metric units
        sentence.text = inUnits(sentence.text, glimpse.units);
    std::stable_sort(all.begin(), all.end(),
                     [](const Sentence& a, const Sentence& b) { return a.weight < b.weight; });
    return all;
}

std::string nextStep(const Glimpse& glimpse, bool cutsFiles) {
    if (glimpse.file.running)
        return "The file is being cut. Lift ends the cut.";
    if (isDown(glimpse))
        return "The stylus is down. Ride land, depth and level; Lift is the key Escape.";
    if (glimpse.status.lowering)
        return "The stylus goes down as soon as the preview is full and the drives run.";
    if (glimpse.listening.isOn)
        return "Play the whole side with the stylus up, then press End listening on the page Preview.";
    if (!glimpse.problems.empty())
        return "Mend the set-up: the stylus stays up until it can be cut with.";
    if (cutsFiles && glimpse.file.path.empty() && !glimpse.isFed)
        return "Open a program file to cut it, or choose a sound device to cut live.";
    if (cutsFiles && !glimpse.file.path.empty())
        return glimpse.file.rehearsedIsScrap && !glimpse.file.rehearsedIsOld
                   ? "Change the set-up or the program: as it was rehearsed it cannot be cut."
                   : "Press Cut to cut " + glimpse.file.about + ".";
    if (!glimpse.isFed)
        return "Start the host's sound: nothing comes in yet.";
    if (!glimpse.status.previewFull)
        return "Let the program run in until a whole preview has been heard.";
    const auto notKept = notKeptText(glimpse);
    return "Ready: press Lower to begin a side." + (notKept.empty() ? notKept : " " + notKept);
}

std::string stateText(const Glimpse& glimpse) {
    if (glimpse.status.lowering)
        return "Lowering";
    if (isDown(glimpse))
        return "Cutting: " + std::string(cut::name(glimpse.status.state));
    if (glimpse.lastEnd.empty() || !glimpse.changedSince.empty())
        return "Stylus up";
    const auto scrap = scrapHeading(glimpse.summary);
    return scrap.empty() ? "Stylus up; the last cut " + glimpse.lastEnd : scrap + ". Stylus up";
}

bool isScrapOver(const Glimpse& glimpse) {
    return !isDown(glimpse) && !glimpse.lastEnd.empty() && glimpse.changedSince.empty()
           && glimpse.summary.verdict() == cut::Verdict::cannotBeCut;
}

std::string scrapHeading(const cut::CutSummary& summary) {
    const auto all = cut::spoilings(summary);
    return all.empty() ? std::string() : "Scrap: " + all.front().brief();
}

std::string notKeptText(const Glimpse& glimpse) {
    const auto isUnderWay = isDown(glimpse) || glimpse.status.lowering;
    const auto& place = isUnderWay ? glimpse.log.current : glimpse.log.chosen;
    return !place.book.empty() ? std::string()
           : isUnderWay        ? "This cut is not kept: it is in no book."
                               : "This cut will not be kept: no book is chosen.";
}

std::array<Figure, 2> discFigures(const Glimpse& glimpse) {
    if (!hasFrame(glimpse))
        return {Figure{"Disc left", "-", ""}, Figure{"Side ends at", "-", ""}};
    return {leftFigure(glimpse), endFigure(glimpse)};
}

std::vector<Figure> figures(const Glimpse& glimpse) {
    const auto& frame = glimpse.status.frame;
    const auto& setup = glimpse.setup;
    const auto units = glimpse.units;
    const auto set = [units](const char* which, double value_um) {
        return inUnits(which + cut::textWithUnit(value_um, "µm"), units);
    };
    std::vector<Figure> all{
        {"Radius", longLength(frame.radius_mm, units, 2), ""},
        {"Diameter", longLength(2 * frame.radius_mm, units), ""},
        {"Turn", fixed(frame.turn, 0), ""},
        {"Time", frame.time_s < 0 ? "lead-in" : text::minutesSeconds(frame.time_s), ""},
        {"Pitch", shortLength(frame.pitch_um, units), lines(frame.pitch_um, units)},
        {"Depth", shortLength(frame.depth_um, units), set("basic ", setup.depth_basic_um)},
        {"Width", shortLength(frame.widthMin_um, units), set("least set ", setup.width_min_um)},
        {"Land", shortLength(frame.landMin_um, units), set("least set ", setup.land_min_um)},
        {"Level", levelText(frame.peak_dbfs), "disc level " + cut::textWithUnit(setup.disc_level_db, "dB")},
        {"Slope", std::isfinite(frame.slopePeak) ? fixed(frame.slopePeak, 2) : "-",
         "limit " + fixed(cut::slopeLimit(setup), 2)},
        {"Curvature", curvatureText(frame.curvatureMin_um, units), set("tip ", setup.tip_radius_um)}};
    if (!hasFrame(glimpse))
        for (auto& figure : all)
            figure = {figure.name, "-", ""};
    return all;
}

std::string logText(const Glimpse& glimpse) {
    const auto& log = glimpse.log;
    const auto isCutting = isDown(glimpse);
    if (isCutting && log.current != log.chosen)
        return (log.current.book.empty()
                    ? "This cut is logged into no book."
                    : "This cut is logged into " + place(log.current) + "." + number(log, "It"))
               + " The next one "
               + (log.chosen.book.empty() ? "is not logged." : "goes into " + place(log.chosen) + ".");
    if (log.chosen.book.empty())
        return "No log is kept: choose a book, and every cut is logged into it.";
    return "Every cut is logged into " + place(log.chosen) + "."
           + (isCutting                             ? number(log, "This")
              : log.current.book == log.chosen.book ? number(log, "The last one")
                                                    : std::string());
}

std::string lastNoteText(const LogState& log) {
    if (log.notes.empty())
        return {};
    const auto& last = log.notes.back();
    const auto at = " " + notePlaceText(last.time_s);
    return last.isMark() ? "Marked" + at : "Noted" + at + ": " + text::printable(last.text);
}

std::string whyNoMark(const Glimpse& glimpse) {
    if (!isDown(glimpse))
        return "Nothing is being cut: a mark belongs to a place in a cut.";
    return glimpse.log.current.book.empty() ? "The mark is not kept, because " + unlogged(glimpse)
                                            : std::string();
}

std::string whyNoNote(const Glimpse& glimpse) {
    if (glimpse.status.cuts == 0)
        return "Nothing has been cut yet: a note belongs to a cut.";
    return glimpse.log.current.book.empty() ? "A note would not be kept, because " + unlogged(glimpse)
                                            : std::string();
}

NotePlace placeOfNote(const Glimpse& glimpse) {
    return {glimpse.status.cuts, isDown(glimpse) ? glimpse.status.frame.time_s : NAN};
}

std::string notePlaceText(double time_s) {
    return std::isnan(time_s) ? "on the cut" : "at " + text::minutesTenths(time_s);
}

std::string notePrompt(const NotePlace& place) {
    return (std::isnan(place.time_s) ? "Note on the last cut" : "Note " + notePlaceText(place.time_s))
           + ": Return keeps it";
}

std::vector<std::string> choicesOf(const Field& field, Units units) {
    std::vector<std::string> all;
    if (field.key == "format")
        for (const auto& format : disc::formats())
            all.push_back(inUnits(std::string(format.name), units));
    else if (const auto* setting = cut::findSetting(field.key);
             setting != nullptr && !setting->choices.empty())
        all.assign(setting->choices.begin(), setting->choices.end());
    else if (field.isWhole && field.least == 0 && field.greatest == 1)
        all = {"Off", "On"};
    return all;
}

double valueOf(const Field& field) {
    return field.value->get();
}

std::string valueText(const Field& field, Units units) {
    const auto value = valueOf(field);
    if (const auto choices = choicesOf(field, units); !choices.empty())
        return choices[static_cast<std::size_t>(value)];
    return shownValue(value, field.unit, units);
}

std::string labelText(const Field& field, Units units) {
    const auto unit = shownUnit(field.unit, units).name;
    return std::string(field.label) + (unit.empty() ? "" : ", " + std::string(unit));
}

std::string rangeText(const Field& field, Units units) {
    const auto unit = shownUnit(field.unit, units);
    return cut::textWithUnit(field.least / unit.size, "") + " to "
           + cut::textWithUnit(field.greatest / unit.size, unit.name);
}

Typed readTyped(const Field& field, const std::string& text, Units units) {
    const auto unit = std::string(shownUnit(field.unit, units).name);
    auto value = cut::valueFromText(text + " " + unit, field.unit, field.isPitch); // of a bare number
    if (!value)
        value = cut::valueFromText(text, field.unit, field.isPitch);
    if (!value)
        return {0, text::printable(text) + " is no number" + unitsThatFit(field, units) + "; "
                       + rangeText(field, units) + " will do."};
    const auto nearest = std::clamp(*value, field.least, field.greatest);
    const auto shown = shownValue(*value, field.unit, units);
    // A bound as it is shown, rounded to the digits it is shown with, is within the range.
    if (shown == shownValue(nearest, field.unit, units))
        return {nearest, {}};
    return {0, shown + " is out of range; it must lie between "
                   + cut::textWithUnit(field.least / shownUnit(field.unit, units).size, "") + " and "
                   + shownValue(field.greatest, field.unit, units) + "."};
}

} // namespace headland::editor
