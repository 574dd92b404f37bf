// SPDX-License-Identifier: GPL-3.0-or-later
#include "Assembly/CutBook.h"

namespace headland::assembly {

namespace {

editor::LogPlace placeOf(const plugin::BookChoice& choice) {
    return {choice.path, choice.side};
}

} // namespace

void CutBook::choose(const plugin::BookChoice& wanted) {
    const std::lock_guard held(lock);
    log.choose(wanted);
}

void CutBook::begin(const plugin::LiveSetup& setup, const log::ProgramRecord* program) {
    const std::lock_guard held(lock);
    builder.emplace(setup.cut);
    end_.reset();
    lastNote.reset();
    log.begin(setup, program);
}

void CutBook::frame(const cut::CutFrame& frame, std::int64_t number) {
    const std::lock_guard held(lock);
    if (builder)
        builder->frame(frame);
    log.frame(frame, number);
}

bool CutBook::wantsEdges() const {
    const std::lock_guard held(lock);
    return log.wantsEdges();
}

void CutBook::edges(const cut::EdgeRun& run) {
    const std::lock_guard held(lock);
    log.edges(run);
}

void CutBook::event(const handoff::CutEvent& event) {
    const std::lock_guard held(lock);
    log.event(event);
    if (event.kind != handoff::CutEvent::Kind::mark)
        return;
    if (log.current().path.empty())
        ++marksNotKept;
    else
        lastNote = {event.frame.time_s, {}, {}};
}

bool CutBook::note(const log::NoteRecord& note) {
    const std::lock_guard held(lock);
    const auto isKept = log.note(note);
    if (isKept)
        lastNote = note;
    return isKept;
}

void CutBook::end(handoff::CutEnd reason, std::int64_t frames) {
    const std::lock_guard held(lock);
    end_ = reason;
    log.end(reason, frames);
}

std::string CutBook::trouble() const {
    const std::lock_guard held(lock);
    return log.trouble();
}

editor::LogState CutBook::logState() const {
    const std::lock_guard held(lock);
    return {placeOf(log.choice()), placeOf(log.current()), log.cut(), lastNote, marksNotKept};
}

std::string CutBook::missing() const {
    const std::lock_guard held(lock);
    return log.missing();
}

cut::CutSummary CutBook::summary() const {
    const std::lock_guard held(lock);
    return builder ? builder->summary() : cut::CutSummary();
}

std::optional<handoff::CutEnd> CutBook::lastEnd() const {
    const std::lock_guard held(lock);
    return end_;
}

} // namespace headland::assembly
