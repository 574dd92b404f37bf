// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/Review.h"

#include "Files/Text.h"

#include <cmath>
#include <filesystem>
#include <utility>

namespace headland::editor {

Review::Review(const std::string& book, std::int64_t number)
    : path(book), cutNumber(number), reader(book), logged(reader.cut(number)), places(reader.places(number)) {
    history = std::make_shared<SideHistory>(logged.head.settings, std::exchange(logged.frames, {}));
}

std::string Review::program() const {
    return logged.head.program ? logged.head.program->path : std::string();
}

std::string Review::heading() const {
    return "Cut " + std::to_string(cutNumber) + " of "
           + files::printable(std::filesystem::path(path).filename().string()) + ": "
           + files::printable(logged.head.side.job) + ", side " + files::printable(logged.head.side.side)
           + ", " + (logged.tail ? logged.tail->ending : "under way or broken off");
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
