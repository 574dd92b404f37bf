// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/Review.h"

#include "Editor/Words.h"
#include "Log/BookNotes.h"
#include "Text/Safe.h"

#include <cmath>
#include <filesystem>
#include <utility>

namespace headland::editor {

Review::Review(const std::string& book, std::int64_t number)
    : path(book), cutNumber(number), reader(book), logged(reader.cut(number)), places(reader.places(number)) {
    history = std::make_shared<SideHistory>(logged.head.settings, std::exchange(logged.frames, {}));
    keepStanding(std::exchange(logged.notes, {}));
}

void Review::keepStanding(std::vector<log::LoggedNote> notes) {
    std::erase_if(notes, [](const auto& note) { return note.isDeleted(); });
    standing = std::move(notes);
}

void Review::addNote(double time_s, const std::string& text) {
    log::addNote(path, cutNumber, {time_s, text::printable(text), log::utcNow()});
    keepStanding(reader.notes(cutNumber));
}

void Review::editNote(std::int64_t note, const std::string& text) {
    log::editNote(path, cutNumber, note, text::printable(text));
    keepStanding(reader.notes(cutNumber));
}

void Review::deleteNote(std::int64_t note) {
    log::deleteNote(path, cutNumber, note);
    keepStanding(reader.notes(cutNumber));
}

std::string Review::program() const {
    return logged.head.program ? logged.head.program->path : std::string();
}

std::string Review::heading() const {
    const auto which = "cut " + std::to_string(cutNumber) + " of "
                       + text::printable(std::filesystem::path(path).filename().string()) + ": "
                       + text::printable(logged.head.side.job) + ", side "
                       + text::printable(logged.head.side.side);
    const auto ended = ", " + (logged.tail ? logged.tail->ending : "under way or broken off");
    if (!isScrap())
        return which + ended;
    return scrapHeading(history->summary()) + "; " + which
           + (logged.tail && logged.tail->ending == "finished" ? "" : ended);
}

std::optional<cut::GroovePatch> Review::keptNear(double time_s, double within_s) {
    const log::PlaceEntry* nearest = nullptr;
    for (const auto& place : places)
        if (std::abs(place.time_s - time_s) <= within_s
            && (nearest == nullptr || std::abs(place.time_s - time_s) < std::abs(nearest->time_s - time_s)))
            nearest = &place;
    return nearest == nullptr ? std::nullopt : std::optional(reader.patch(nearest->place));
}

} // namespace headland::editor
