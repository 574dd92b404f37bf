// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/GrooveSource.h"

#include "Console/GroovePicture.h"
#include "Files/Errors.h"
#include "Log/FlagTable.h"
#include "Log/PatchFromProgram.h"
#include "Text/Times.h"

#include <cmath>
#include <filesystem>
#include <utility>

namespace headland::console {

namespace {

constexpr double near_s = 0.5;     ///< a kept place this close may stand for what was asked for
constexpr double rounded_s = 0.05; ///< a time as it is printed may be this far from its place

/// The program's file: as named now, or where it was when it was cut.
std::optional<std::string> programOf(const log::LoggedCut& logged, const std::optional<std::string>& named) {
    std::error_code error;
    if (named)
        return named;
    if (logged.head.program && std::filesystem::exists(logged.head.program->path, error))
        return logged.head.program->path;
    return std::nullopt;
}

struct Patch {
    cut::GroovePatch patch;
    std::string source;
};

Patch fromProgram(const std::string& path, const log::LoggedCut& logged, double time_s,
                  const std::function<void(double)>& between) {
    auto program = files::ProgramFile::open(path);
    const auto name = files::factsOf(program, path).fileName;
    const log::FramesOfCut frames{logged.head.settings, logged.head.sampleRate_hz, logged.frames};
    return {log::patchFromProgram(program, name, frames, {.time_s = time_s}, between).patch,
            "edges from " + name};
}

std::string keptList(const std::vector<log::PlaceEntry>& places) {
    std::string text;
    for (const auto& place : places)
        text += (text.empty() ? "" : ", ") + text::minutesTenths(place.time_s);
    return text;
}

/// The kept place that is meant by a time: no further off than that, of those the one with the worst flag, and of those
/// the nearest.
const log::PlaceEntry* placeNear(const std::vector<log::PlaceEntry>& places, double time_s, double atMost_s) {
    const auto rank = [time_s](const auto& place) {
        return std::pair(&log::flagRow(place.flag),
                         std::abs(place.time_s - time_s)); // rows stand in order, worst first
    };
    const log::PlaceEntry* meant = nullptr;
    for (const auto& place : places)
        if (std::abs(place.time_s - time_s) <= atMost_s && (meant == nullptr || rank(place) < rank(*meant)))
            meant = &place;
    return meant;
}

Patch fromBook(log::BookReader& book, std::int64_t cut, const std::vector<log::PlaceEntry>& places,
               double time_s) {
    if (const auto* place = placeNear(places, time_s, near_s))
        return {book.patch(place->place), "edges kept in the book"};
    throw files::InputError(
        "The groove at " + text::minutesTenths(time_s) + " of cut " + std::to_string(cut)
        + " is not kept, and its program is not there; name the file with --program"
        + (places.empty() ? std::string() : ", or choose a kept place: " + keptList(places)) + ".");
}

/// The program if it can be had and is the one that was cut, otherwise what was kept.
Patch patchAt(log::BookReader& book, std::int64_t cut, const log::LoggedCut& logged,
              const std::optional<std::string>& named, double time_s,
              const std::function<void(double)>& between) {
    const auto places = book.places(cut);
    if (const auto* place =
            placeNear(places, time_s, rounded_s)) // as typed from a list: the place itself is meant
        time_s = place->time_s;
    const auto path = programOf(logged, named);
    if (!path)
        return fromBook(book, cut, places, time_s);
    try {
        return fromProgram(*path, logged, time_s, between);
    } catch (const files::InputError&) {
        if (named)
            throw;
    }
    return fromBook(book, cut, places, time_s);
}

} // namespace

SvgDrawing drawGroove(log::BookReader& book, std::int64_t cut, const log::LoggedCut& logged,
                      const std::optional<std::string>& program, double time_s,
                      const std::function<void(double fraction)>& between) {
    const auto [patch, source] = patchAt(book, cut, logged, program, time_s, between);
    const auto name = logged.head.program ? logged.head.program->facts.fileName
                                          : logged.head.side.job + ", side " + logged.head.side.side;
    return drawGroovePicture({name, logged.head.settings, patch, source});
}

} // namespace headland::console
