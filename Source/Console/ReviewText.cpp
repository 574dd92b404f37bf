// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/ReviewText.h"

#include "Console/SummaryText.h"
#include "Text/Figures.h"
#include "Text/Safe.h"
#include "Text/Times.h"

#include <cmath>
#include <map>
#include <utility>

namespace headland::console {

using text::counted;
using text::fixed;
using text::minutesSeconds;
using text::minutesTenths;
using text::padded;
using text::printable;

namespace {

/// "2026-03-14T09:26:53.589Z" as "2026-03-14 09:26 UTC".
std::string minuteOf(const std::string& utc) {
    constexpr std::size_t date = 10, minute = 16;
    return utc.size() < minute
               ? printable(utc)
               : printable(utc.substr(0, date) + " " + utc.substr(date + 1, minute - date - 1)) + " UTC";
}

std::string sideText(const log::SideName& side) {
    return printable(side.job) + ", side " + printable(side.side);
}

std::string cutLine(const log::CutEntry& entry) {
    return "  " + padded("cut " + std::to_string(entry.cut), 9) + padded(minuteOf(entry.begun_utc), 22)
           + padded("to " + minutesTenths(entry.last_s), 11)
           + (entry.scrap.empty() ? endingText(entry.ending, entry.written_utc)
                                  : "scrap: " + printable(entry.scrap))
           + "\n";
}

std::string rehearsalLine(const log::RehearsalEntry& entry) {
    return "  " + padded("trial", 9) + padded(minuteOf(entry.made_utc), 22) + printable(entry.madeBy) + ", "
           + printable(entry.varied) + " " + text::plain(entry.value) + ": "
           + (entry.canBeCut ? "ends at " + text::diameterText(entry.endDiameter_mm)
                             : std::string("cannot be cut"))
           + "\n";
}

/// "at 3:21.0", or of the cut as a whole.
std::string at(double time_s) {
    return std::isnan(time_s) ? std::string("of the cut") : "at " + minutesTenths(time_s);
}

std::string gapText(const log::GapRecord& gap) {
    const auto frames = gap.lastFrame - gap.firstFrame + 1;
    const auto from = std::isnan(gap.from_s) ? std::string("the beginning") : minutesTenths(gap.from_s);
    const auto to = std::isnan(gap.to_s) ? std::string("the end") : minutesTenths(gap.to_s);
    return counted(frames, "sector") + ", from " + from + " to " + to + ": " + printable(gap.why);
}

std::string eventText(const log::CutEventRecord& event) {
    return at(event.time_s) + "  " + printable(event.kind) + ": " + printable(event.what)
           + (std::isnan(event.value) ? "" : " " + text::plain(event.value));
}

std::string wordsOf(const std::string& text) {
    return text.empty() ? std::string("mark") : printable(text);
}

/// A line a note, and one for each time that it said something else before, the latest first.
std::vector<std::string> noteLines(const std::vector<log::LoggedNote>& notes) {
    std::vector<std::string> lines;
    for (const auto& note : notes) {
        lines.push_back(at(note.time_s) + "  " + wordsOf(note.text) + " (note " + std::to_string(note.note)
                        + (note.isDeleted() ? ", deleted " + minuteOf(note.deleted_utc) : std::string())
                        + ")");
        for (auto before = note.earlier.rbegin(); before != note.earlier.rend(); ++before)
            lines.push_back("  written " + minuteOf(before->written_utc) + ": " + wordsOf(before->text));
    }
    return lines;
}

/// The first row has the label, the others stand below it.
template <typename Items, typename Text>
std::string rows(std::string_view label, const Items& items, Text text) {
    std::string all;
    for (const auto& item : items)
        all += labelled(all.empty() ? label : std::string_view(), text(item));
    return all;
}

} // namespace

std::string endingText(const std::string& ending, const std::string& written_utc) {
    return ending.empty() ? "no end: under way, or broken off; last written " + minuteOf(written_utc)
                          : printable(ending);
}

std::string bookText(const std::string& path, const std::vector<log::CutEntry>& cuts,
                     const std::vector<log::RehearsalEntry>& rehearsals) {
    auto text = "The book " + printable(path) + ": " + counted(static_cast<long long>(cuts.size()), "cut")
                + ", " + counted(static_cast<long long>(rehearsals.size()), "rehearsal") + "\n";
    std::vector<std::string> sides; // in the order in which they come up
    std::map<std::pair<std::string, std::string>, std::size_t> places;
    const auto linesOf = [&](const log::SideName& side) -> std::string& {
        const auto [place, isNew] = places.try_emplace({side.job, side.side}, sides.size());
        if (isNew)
            sides.push_back("\n" + sideText(side) + "\n");
        return sides[place->second];
    };
    for (const auto& entry : rehearsals)
        linesOf(entry.side) += rehearsalLine(entry);
    for (const auto& entry : cuts)
        linesOf(entry.side) += cutLine(entry);
    for (const auto& side : sides)
        text += side;
    return text;
}

std::string cutHeading(std::int64_t number, const log::LoggedCut& cut) {
    const auto& head = cut.head;
    return labelled("Cut", std::to_string(number) + ": " + sideText(head.side) + "; begun "
                               + minuteOf(cut.begun_utc) + ", by " + printable(head.madeBy))
           + (head.answers ? labelled("Answers", "cut " + std::to_string(*head.answers)) : "")
           + labelled("Ended", endingText(cut.tail ? cut.tail->ending : std::string(), cut.written_utc))
           + rows("Missing", cut.gaps, gapText);
}

std::string cutDetails(const log::LoggedCut& cut, const std::vector<log::PlaceEntry>& places) {
    std::string kept;
    for (const auto& place : places)
        kept += (kept.empty() ? "" : ", ") + minutesTenths(place.time_s) + " "
                + std::string(cut::name(place.flag));
    return rows("Events", cut.events, eventText)
           + rows("Notes", noteLines(cut.notes), [](const auto& line) { return line; })
           + (kept.empty() ? "" : labelled("Groove kept", kept));
}

} // namespace headland::console
