// SPDX-License-Identifier: GPL-3.0-or-later
// One cut out of a book, as the views need it. Reading it takes a tenth of a second for twenty minutes. Main thread.
#pragma once

#include "Editor/SideHistory.h"
#include "Log/BookReader.h"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace headland::editor {

class Review {
public:
    /// Throws files::InputError, one sentence, when the book or the cut cannot be read.
    Review(const std::string& book, std::int64_t cut);

    /// Without its frames, which are in side().
    const log::LoggedCut& cut() const noexcept { return logged; }
    const std::shared_ptr<const SideHistory>& side() const noexcept { return history; }
    std::int64_t number() const noexcept { return cutNumber; }
    const std::string& book() const noexcept { return path; }
    /// Path of the program that was cut; empty where it came from elsewhere.
    std::string program() const;
    /// "Cut 3 of lantern.headland: Lantern Sessions, side A, finished"; of a scrap cut first why it is that.
    std::string heading() const;
    bool isScrap() const { return history->summary().verdict() == cut::Verdict::cannotBeCut; }

    /// Those that stand.
    const std::vector<log::LoggedNote>& notes() const noexcept { return standing; }
    /// Changes them in the book: writes one at a program time, NaN: of the whole cut; writes one anew; deletes one. Throws
    /// what log::addNote() and those beside it throw.
    void addNote(double time_s, const std::string& text);
    void editNote(std::int64_t note, const std::string& text);
    void deleteNote(std::int64_t note);

    /// The kept place nearest to a program time, if it is at most `within_s` away. Throws as the constructor.
    std::optional<cut::GroovePatch> keptNear(double time_s, double within_s);

private:
    void keepStanding(std::vector<log::LoggedNote> notes);

    std::string path;
    std::int64_t cutNumber;
    log::BookReader reader;
    log::LoggedCut logged;
    std::vector<log::PlaceEntry> places;
    std::vector<log::LoggedNote> standing;
    std::shared_ptr<const SideHistory> history;
};

} // namespace headland::editor
