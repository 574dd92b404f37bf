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
    /// "Cut 3 of lantern.headland: Lantern Sessions, side A, finished"
    std::string heading() const;

    /// The kept place nearest to a program time, if it is at most `within_s` away. Throws as the constructor.
    std::optional<cut::GroovePatch> keptNear(double time_s, double within_s);

private:
    std::string path;
    std::int64_t cutNumber;
    log::BookReader reader;
    log::LoggedCut logged;
    std::vector<log::PlaceEntry> places;
    std::shared_ptr<const SideHistory> history;
};

} // namespace headland::editor
