// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/BookJournal.h"

#include "Plugin/CutEndText.h"

#include <string_view>

namespace headland::plugin {

namespace {

std::string_view name(cut::Cue cue) {
    switch (cue) {
    case cut::Cue::lift:
        return "lift";
    case cut::Cue::leadIn:
        return "lead-in";
    case cut::Cue::program:
        return "program";
    case cut::Cue::band:
        return "band";
    case cut::Cue::leadOut:
        return "lead-out";
    case cut::Cue::finishing:
        return "finishing";
    }
    return "";
}

log::CutHead headOf(const LiveSetup& setup, const BookChoice& chosen, const std::string& madeBy) {
    log::CutHead head;
    head.side = chosen.side;
    head.madeBy = madeBy;
    head.settings = setup.cut;
    head.sampleRate_hz = setup.sampleRate_hz;
    head.preview = setup.previewOutside ? "second head" : "own delay";
    for (const auto& setting : liveTable())
        if (!isRidden(setting)) // what is ridden is told as it changes
            head.otherSettings.emplace_back(setting.key, cut::getNumber(setup.live, setting));
    return head;
}

} // namespace

void BookJournal::choose(const BookChoice& wanted) {
    chosen = wanted;
    if (!recorder)
        open();
}

/// The book is opened when it is chosen, not when the first cut begins. The one before is kept for as long as it has not
/// taken all that it was told.
void BookJournal::open() {
    std::erase_if(leaving, [](const auto& book) { return book->flush({}); });
    if (writer != nullptr && writer->path() == chosen.path)
        return;
    if (writer != nullptr && !writer->flush({}))
        leaving.push_back(std::move(writer));
    writer.reset();
    if (!chosen.path.empty())
        writer = std::make_unique<log::BookWriter>(chosen.path);
}

std::string BookJournal::trouble() const {
    auto text = writer ? writer->status().trouble : std::string();
    for (const auto& book : leaving)
        if (const auto more = book->status().trouble; !more.empty())
            text += (text.empty() ? "" : " ") + more;
    return text;
}

bool BookJournal::isWaiting() const {
    return !leaving.empty() || (writer && writer->status().framesWaiting > 0);
}

void BookJournal::begin(const LiveSetup& setup, const log::ProgramRecord* program) {
    open();
    if (writer == nullptr)
        return;
    auto head = headOf(setup, chosen, madeBy);
    if (program != nullptr)
        head.program = *program;
    recorder.emplace(*writer, head);
}

void BookJournal::frame(const cut::CutFrame& frame, std::int64_t number) {
    if (recorder)
        recorder->frame(frame, number);
}

void BookJournal::edges(const cut::EdgeRun& run) {
    if (recorder)
        recorder->edges(run);
}

void BookJournal::event(const handoff::CutEvent& event) {
    using Kind = handoff::CutEvent::Kind;
    if (!recorder)
        return;
    const auto time_s = event.frame.time_s;
    const auto tell = [&](const char* kind, std::string_view what, double value) {
        recorder->event({event.number, time_s, kind, std::string(what), value});
    };
    if (event.kind == Kind::cue)
        tell("cue", name(event.cue), NAN);
    if (event.kind == Kind::mark)
        note({time_s, {}, log::utcNow()});
    if (event.kind == Kind::ridden) {
        tell("ride", "land_add_um", event.ridden.landAdd_um);
        tell("ride", "depth_add_um", event.ridden.depthAdd_um);
        tell("ride", "level_trim_db", event.ridden.levelTrim_db);
    }
}

void BookJournal::note(const log::NoteRecord& note) {
    if (writer)
        writer->note(note);
}

void BookJournal::end(handoff::CutEnd reason, std::int64_t frames) {
    if (!recorder)
        return;
    recorder->end({describe(reason), isFault(reason), frames, 0, NAN});
    recorder.reset();
}

} // namespace headland::plugin
