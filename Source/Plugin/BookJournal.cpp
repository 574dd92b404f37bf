// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/BookJournal.h"

#include "Log/BookTrouble.h"
#include "Log/CutEndText.h"
#include "Text/Figures.h"

#include <algorithm>
#include <string_view>

namespace headland::plugin {

namespace {

std::string_view logName(cut::Cue cue) {
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
    head.profile = setup.rehearsed;
    head.preview = setup.previewOutside ? "second head" : "own delay";
    for (const auto& setting : liveTable())
        if (!isRidden(setting)) // what is ridden is told as it changes
            head.otherSettings.emplace_back(setting.key, cut::getNumber(setup.live, setting));
    return head;
}

/// What of a cut is not in the book yet, one sentence; empty when all is.
std::string missingIn(const log::BookWriter& book) {
    const auto status = book.status();
    if (status.isWhole)
        return {};
    const auto cause = status.cause.empty() ? log::bookPlace(book.path()) + " is slow." : status.cause;
    return cause + " "
           + (status.framesWaiting > 0
                  ? text::counted(static_cast<long long>(status.framesWaiting), "sector") + " of a cut"
                  : std::string("The end of a cut"))
           + (status.framesWaiting > 1 ? " are not in it." : " is not in it.");
}

} // namespace

void BookJournal::choose(const BookChoice& wanted) {
    chosen = wanted;
    if (!recorder) // otherwise it is for the next cut
        open();
}

/// The book is opened when it is chosen, not when the first cut begins. The one before is kept for as long as it has not
/// taken all that it was told.
void BookJournal::open() {
    std::erase_if(leaving, [](const auto& book) { return book->status().isWhole; });
    if (writer != nullptr && writer->path() == chosen.path)
        return;
    if (writer != nullptr && !writer->status().isWhole)
        leaving.push_back(std::move(writer));
    writer.reset();
    current_ = {};
    if (!chosen.path.empty())
        writer = std::make_unique<log::BookWriter>(chosen.path);
}

template <typename Sentence>
std::string BookJournal::joined(Sentence sentence) const {
    std::vector<std::string> all;
    const auto add = [&](const std::unique_ptr<log::BookWriter>& book) {
        if (auto text = book ? sentence(*book) : std::string(); !text.empty())
            all.push_back(std::move(text));
    };
    add(writer);
    std::for_each(leaving.begin(), leaving.end(), add);
    return text::joined(all);
}

std::string BookJournal::trouble() const {
    return joined([](const log::BookWriter& book) { return book.status().trouble; });
}

std::string BookJournal::missing() const {
    return joined(missingIn);
}

std::int64_t BookJournal::cut() const {
    return writer && !current_.path.empty() ? writer->status().cut : 0;
}

void BookJournal::begin(const LiveSetup& setup, const log::ProgramRecord* program) {
    open();
    current_ = chosen;
    ridden = {};
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
    if (event.kind == Kind::cue)
        recorder->event({event.number, event.frame.time_s, "cue", std::string(logName(event.cue)), NAN});
    if (event.kind == Kind::mark)
        note({event.frame.time_s, {}, log::utcNow()});
    if (event.kind == Kind::ridden)
        rideTo(event);
    if (event.kind == Kind::rehearsal)
        rehearsal(event);
}

/// Where a profile was found is told to the last bit: with it the side can be planned the same again.
void BookJournal::rehearsal(const handoff::CutEvent& event) {
    const auto& use = event.rehearsal;
    const auto tell = [&](const char* what, double value) {
        recorder->event({event.number, event.frame.time_s, "rehearsal", what, value});
    };
    if (use.isDropped)
        return tell("dropped", use.dropped_s);
    if (use.sector < 0)
        return tell(use.wasUsed ? "known" : use.isSought ? "sought" : "unfit", NAN);
    tell("sector", static_cast<double>(use.sector));
    tell("at_s", use.at_s);
    tell("ratio", use.ratio);
}

void BookJournal::rideTo(const handoff::CutEvent& event) {
    const auto tell = [&](const char* key, double before, double now) {
        if (now != before)
            recorder->event({event.number, event.frame.time_s, "ride", key, now});
    };
    tell("land_add_um", ridden.landAdd_um, event.ridden.landAdd_um);
    tell("depth_add_um", ridden.depthAdd_um, event.ridden.depthAdd_um);
    tell("level_trim_db", ridden.levelTrim_db, event.ridden.levelTrim_db);
    ridden = event.ridden;
}

bool BookJournal::note(const log::NoteRecord& note) {
    const auto isKept = writer != nullptr && !current_.path.empty();
    if (isKept)
        writer->note(note);
    return isKept;
}

void BookJournal::end(handoff::CutEnd reason, std::int64_t frames) {
    if (!recorder)
        return;
    recorder->end({log::describe(reason), log::isFault(reason), frames, 0, NAN});
    recorder.reset();
}

} // namespace headland::plugin
