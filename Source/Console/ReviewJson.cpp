// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/ReviewJson.h"

#include "Console/JsonReport.h"

namespace headland::console {

namespace {

template <typename Items, typename Object>
files::Json arrayOf(const Items& items, Object object) {
    auto all = files::Json::array();
    for (const auto& item : items)
        all.push_back(object(item));
    return all;
}

files::Json eventObject(const log::CutEventRecord& event) {
    return log::JsonObject()
        .number("time_s", event.time_s)
        .count("before_frame", event.beforeFrame)
        .text("kind", event.kind)
        .text("what", event.what)
        .number("value", event.value);
}

files::Json revisionObject(const log::NoteRevision& revision) {
    return log::JsonObject().text("text", revision.text).text("written_utc", revision.written_utc);
}

files::Json noteObject(const log::LoggedNote& note) {
    return log::JsonObject()
        .count("note", note.note)
        .number("time_s", note.time_s)
        .text("kind", note.isMark() ? "mark" : "note")
        .text("text", note.text)
        .text("written_utc", note.written_utc)
        .add("deleted_utc", note.isDeleted() ? files::Json(note.deleted_utc) : files::Json())
        .add("earlier", arrayOf(note.earlier, revisionObject));
}

files::Json gapObject(const log::GapRecord& gap) {
    return log::JsonObject()
        .count("first_frame", gap.firstFrame)
        .count("last_frame", gap.lastFrame)
        .number("from_s", gap.from_s)
        .number("to_s", gap.to_s)
        .text("why", gap.why);
}

files::Json placeObject(const log::PlaceEntry& place) {
    return log::JsonObject().text("flag", cut::name(place.flag)).number("time_s", place.time_s);
}

files::Json othersObject(const std::vector<log::OtherSetting>& settings) {
    log::JsonObject object;
    for (const auto& [key, value] : settings)
        object.number(key, value);
    return object;
}

files::Json bookObject(std::int64_t number, const log::LoggedCut& cut,
                       const std::vector<log::PlaceEntry>& places) {
    const auto& head = cut.head;
    return log::JsonObject()
        .count("cut", number)
        .text("job", head.side.job)
        .text("side", head.side.side)
        .add("answers_cut", head.answers ? files::Json(*head.answers) : files::Json())
        .text("made_by", head.madeBy)
        .text("logged_by_version", head.version)
        .text("preview", head.preview)
        .text("begun_utc", cut.begun_utc)
        .add("ending", cut.tail ? files::Json(cut.tail->ending) : files::Json())
        .add("fault", cut.tail ? files::Json(cut.tail->isFault) : files::Json())
        .add("other_settings", othersObject(head.otherSettings))
        .add("events", arrayOf(cut.events, eventObject))
        .add("notes", arrayOf(cut.notes, noteObject))
        .add("missing", arrayOf(cut.gaps, gapObject))
        .add("groove_kept", arrayOf(places, placeObject));
}

} // namespace

std::string reviewJsonText(std::int64_t number, const log::LoggedCut& cut,
                           const std::vector<log::PlaceEntry>& places, const CutReport& report) {
    return files::reportText(reportObject(report).add("book", bookObject(number, cut, places)));
}

} // namespace headland::console
