// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/Words.h"

#include "Cut/UnitText.h"
#include "Editor/Cues.h"
#include "Files/Text.h"
#include "Log/FlagTable.h"

#include <algorithm>
#include <cmath>
#include <filesystem>

namespace headland::editor {

using files::fixed;

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
    }
    return {};
}

bool spoils(cut::Flag flag) {
    return flag == cut::Flag::overcut || flag == cut::Flag::lifted;
}

bool isDown(const Glimpse& glimpse) {
    return glimpse.status.state != cut::State::up;
}

bool hasFrame(const Glimpse& glimpse) {
    return glimpse.status.cuts > 0;
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
            text += ", worst at " + files::minutesTenths(passage->worst.time_s) + ", diameter "
                    + files::diameterText(2 * passage->worst.radius_mm) + " (" + log::worstText(*passage)
                    + ")";
        all.push_back({spoils(row.flag) ? Weight::fault : Weight::caution, text + "."});
    }
}

/// What became of the last cut.
void addVerdict(std::vector<Sentence>& all, const Glimpse& glimpse) {
    if (glimpse.summary.sectors == 0)
        return;
    const auto good = glimpse.summary.verdict() == cut::Verdict::canBeCut;
    if (good && glimpse.status.lastEnd != handoff::CutEnd::finished)
        return; // what was lifted half way has not been shown to fit
    all.push_back({good ? Weight::notice : Weight::fault, glimpse.summary.verdictLine()});
}

void addCounts(std::vector<Sentence>& all, const Glimpse& glimpse) {
    const auto passages = [&](cut::Flag flag) { return glimpse.summary.flaggedPassages[cut::indexOf(flag)]; };
    const auto spoilt = passages(cut::Flag::overcut) + passages(cut::Flag::lifted) > 0;
    if (const auto counts = log::flagCounts(glimpse.summary); !counts.empty())
        all.push_back({spoilt ? Weight::fault : Weight::caution, "Flagged on this side: " + counts + "."});
}

void addEnd(std::vector<Sentence>& all, const Glimpse& glimpse) {
    const auto& estimate = glimpse.status.frame.estimate;
    const auto innermost_mm = 2 * glimpse.setup.end_radius_mm;
    const auto margin_mm = estimate.endDiameter_mm - innermost_mm;
    if (!isDown(glimpse) || !hasFrame(glimpse) || !std::isfinite(margin_mm)
        || margin_mm >= estimate.endDiameterUncertainty_mm)
        return;
    const auto sure = margin_mm < 0 && estimate.lengthKnown;
    all.push_back({sure ? Weight::fault : Weight::caution,
                   std::string(margin_mm < 0 ? "The side will not fit" : "The side may not fit")
                       + ": its end is expected at " + files::diameterText(estimate.endDiameter_mm) + " ± "
                       + fixed(estimate.endDiameterUncertainty_mm, 1) + " mm, and "
                       + files::diameterText(innermost_mm) + " is the innermost allowed"
                       + (estimate.lengthKnown ? "." : "; the length is assumed.")});
}

void addAll(std::vector<Sentence>& all, Weight weight, const std::vector<std::string>& texts,
            const std::string& before = {}) {
    for (const auto& text : texts)
        all.push_back({weight, before + text});
}

std::string pitchBeside(double pitch_um) {
    constexpr double standing_um = 0.05; // would be shown as 0.0
    return pitch_um < standing_um ? "standing still" : files::linesPerInch(pitch_um) + " lines per inch";
}

std::string withUnit(double value, int decimals, const std::string& unit) {
    const auto text = fixed(value, decimals);
    return text == "-" ? text : text + " " + unit;
}

/// "lantern.headland: Lantern Sessions, side A"
std::string place(const LogPlace& place) {
    return files::printable(std::filesystem::path(place.book).filename().string()) + ": "
           + files::printable(place.side.job) + ", side " + files::printable(place.side.side);
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

} // namespace

std::string_view name(Weight weight) noexcept {
    constexpr std::array<std::string_view, 3> names{"Fault", "Caution", "Notice"};
    return names[static_cast<std::size_t>(weight)];
}

std::vector<Sentence> whatIsWrong(const Glimpse& glimpse) {
    std::vector<Sentence> all;
    addAll(all, Weight::fault, glimpse.problems, "The stylus stays up: ");
    addAll(all, Weight::fault, glimpse.troubles);
    if (!glimpse.file.failure.empty())
        all.push_back({Weight::fault, glimpse.file.failure});
    if (!isDown(glimpse) && glimpse.lastEndIsFault)
        all.push_back({Weight::fault, "The last cut " + glimpse.lastEnd + "."});
    if (glimpse.status.framesLost > 0)
        all.push_back({Weight::fault, files::counted(static_cast<long long>(glimpse.status.framesLost), "row")
                                          + " of the log could not be kept up with and are missing."});
    addEnd(all, glimpse);
    if (hasFrame(glimpse)) {
        if (isDown(glimpse))
            addCautions(all, glimpse);
        else
            addVerdict(all, glimpse);
        addCounts(all, glimpse);
    }
    if (glimpse.changesWait)
        all.push_back({Weight::notice, "Changes of the set-up wait until the stylus is up."});
    addAll(all, Weight::notice, glimpse.notices);
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
    if (!glimpse.problems.empty())
        return "Mend the set-up: the stylus stays up until it can be cut with.";
    if (cutsFiles && glimpse.file.path.empty() && !glimpse.isFed)
        return "Open a program file to cut it, or choose a sound device to cut live.";
    if (cutsFiles && !glimpse.file.path.empty())
        return "Press Cut to cut " + glimpse.file.about + ".";
    if (!glimpse.isFed)
        return "Start the host's sound: nothing comes in yet.";
    if (!glimpse.status.previewFull)
        return "Let the program run in until a whole preview has been heard.";
    return "Ready: press Lower to begin a side.";
}

std::string stateText(const Glimpse& glimpse) {
    if (glimpse.status.lowering)
        return "Lowering";
    if (isDown(glimpse))
        return "Cutting: " + std::string(cut::name(glimpse.status.state));
    return "Stylus up" + (glimpse.lastEnd.empty() ? "" : "; the last cut " + glimpse.lastEnd);
}

std::array<Figure, 2> discFigures(const Glimpse& glimpse) {
    std::array<Figure, 2> all{Figure{"Disc left", "-", ""}, Figure{"Side ends at", "-", ""}};
    if (!hasFrame(glimpse))
        return all;
    const auto& estimate = glimpse.status.frame.estimate;
    if (estimate.left_mm < 0)
        all[0].value = "none: " + withUnit(-estimate.left_mm, 1, "mm too far in");
    else {
        all[0].value = files::minutesSeconds(60 * estimate.left_min);
        all[0].beside = "min at this pitch; " + withUnit(estimate.left_mm, 1, "mm of radius");
    }
    all[1].value =
        fixed(estimate.endDiameter_mm, 1) + " ± " + withUnit(estimate.endDiameterUncertainty_mm, 1, "mm");
    all[1].beside = "diameter; innermost allowed " + files::diameterText(2 * glimpse.setup.end_radius_mm)
                    + (estimate.lengthKnown ? "" : "; length assumed");
    return all;
}

std::array<Figure, 6> figures(const Glimpse& glimpse) {
    if (!hasFrame(glimpse))
        return {Figure{"Pitch", "-", ""},  Figure{"Depth", "-", ""}, Figure{"Land", "-", ""},
                Figure{"Radius", "-", ""}, Figure{"Time", "-", ""},  Figure{"Level", "-", ""}};
    const auto& frame = glimpse.status.frame;
    const auto& setup = glimpse.setup;
    return {
        Figure{"Pitch", withUnit(frame.pitch_um, 1, "µm"), pitchBeside(frame.pitch_um)},
        Figure{"Depth", withUnit(frame.depth_um, 1, "µm"),
               "basic " + cut::textWithUnit(setup.depth_basic_um, "µm")},
        Figure{"Land", withUnit(frame.landMin_um, 1, "µm"),
               "least set " + cut::textWithUnit(setup.land_min_um, "µm")},
        Figure{"Radius", withUnit(frame.radius_mm, 2, "mm"),
               "diameter " + files::diameterText(2 * frame.radius_mm)},
        Figure{"Time", frame.time_s < 0 ? "lead-in" : files::minutesSeconds(frame.time_s),
               "turn " + fixed(frame.turn, 0)},
        Figure{"Level",
               std::isfinite(frame.peak_dbfs) ? withUnit(frame.peak_dbfs, 1, "dBFS") : std::string("silence"),
               "disc level " + cut::textWithUnit(setup.disc_level_db, "dB")}};
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
    if (!log.last)
        return {};
    const auto at =
        std::isnan(log.last->time_s) ? " on the cut" : " at " + files::minutesTenths(log.last->time_s);
    return log.last->isMark() ? "Marked" + at : "Noted" + at + ": " + files::printable(log.last->text);
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

std::string notePrompt(const NotePlace& place) {
    return (std::isnan(place.time_s) ? std::string("Note on the last cut")
                                     : "Note at " + files::minutesTenths(place.time_s))
           + ": Return keeps it";
}

std::string rangeText(const Field& field) {
    return cut::textWithUnit(field.least, "") + " to " + cut::textWithUnit(field.greatest, field.unit);
}

Typed readTyped(const Field& field, const std::string& text) {
    const auto value = cut::valueFromText(text, field.unit, field.isPitch);
    if (!value) {
        const auto units = cut::readableUnits(field.unit, field.isPitch);
        return {0, files::printable(text) + " is no number" + (units.empty() ? std::string() : " in " + units)
                       + "; " + rangeText(field) + " will do."};
    }
    if (*value < field.least || *value > field.greatest)
        return {0, cut::textWithUnit(*value, field.unit) + " is out of range; it must lie between "
                       + cut::textWithUnit(field.least, "") + " and "
                       + cut::textWithUnit(field.greatest, field.unit) + "."};
    return {*value, {}};
}

} // namespace headland::editor
