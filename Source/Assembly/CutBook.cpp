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
    inView = std::make_unique<log::CutInView>(setup.cut, setup.sampleRate_hz);
    ++cuts;
    this->program = program == nullptr ? std::string() : program->path;
    end_.reset();
    notes.clear();
    log.begin(setup, program);
}

void CutBook::frame(const cut::CutFrame& frame, std::int64_t number) {
    const std::lock_guard held(lock);
    if (builder)
        builder->frame(frame);
    if (inView)
        inView->frame(frame);
    log.frame(frame, number);
}

void CutBook::edges(const cut::EdgeRun& run) {
    const std::lock_guard held(lock);
    if (inView)
        inView->edges(run);
    if (log.wantsEdges())
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
        notes.push_back({{event.frame.time_s, {}, {}}, 0, {}, {}});
}

bool CutBook::note(const log::NoteRecord& note) {
    const std::lock_guard held(lock);
    const auto isKept = log.note(note);
    if (isKept)
        notes.push_back({note, 0, {}, {}});
    return isKept;
}

void CutBook::end(handoff::CutEnd reason, std::int64_t frames) {
    const std::lock_guard held(lock);
    end_ = reason;
    if (inView)
        inView->finish();
    log.end(reason, frames);
}

std::string CutBook::trouble() const {
    const std::lock_guard held(lock);
    return log.trouble();
}

editor::LogState CutBook::logState() const {
    const std::lock_guard held(lock);
    return {placeOf(log.choice()), placeOf(log.current()), log.cut(), notes, marksNotKept};
}

std::string CutBook::missing() const {
    const std::lock_guard held(lock);
    return log.missing();
}

cut::CutSummary CutBook::summary() const {
    const std::lock_guard held(lock);
    return builder ? builder->summary() : cut::CutSummary();
}

editor::CutNews CutBook::news(std::uint32_t cut, std::size_t seen) const {
    const std::lock_guard held(lock);
    if (!inView)
        return {};
    return {cuts, inView->settings(), inView->sampleRate_hz(), program,
            inView->framesAfter(cut == cuts ? seen : 0)};
}

std::optional<cut::GroovePatch> CutBook::grooveAtStylus(double halfLength_mm) const {
    const std::lock_guard held(lock);
    return inView ? inView->atStylus(halfLength_mm) : std::nullopt;
}

std::optional<cut::GroovePatch> CutBook::grooveKept(double time_s, double within_s) const {
    const std::lock_guard held(lock);
    return inView ? inView->keptNear(time_s, within_s) : std::nullopt;
}

std::string CutBook::programPath() const {
    const std::lock_guard held(lock);
    return program;
}

std::optional<handoff::CutEnd> CutBook::lastEnd() const {
    const std::lock_guard held(lock);
    return end_;
}

} // namespace headland::assembly
