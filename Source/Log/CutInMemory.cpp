// SPDX-License-Identifier: GPL-3.0-or-later
#include "Log/CutInMemory.h"

namespace headland::log {

namespace {

constexpr auto noRoom = "no room in memory while the book could not be written";
constexpr auto lostBefore = "lost between the audio thread and the log, which was kept from running";
constexpr auto notHeld = "in the book that was removed, and no longer in memory";

} // namespace

void CutInMemory::noteMissing(std::int64_t before, double to_s) {
    if (before > next)
        gaps.items.push_back({next, before - 1, last_s, to_s, hasRefused ? noRoom : lostBefore});
    hasRefused = false;
}

void CutInMemory::take(const cut::CutFrame& frame, std::int64_t number) {
    noteMissing(number, frame.time_s - head.settings.sector_s());
    next = number + 1;
    last_s = frame.time_s;
    frames.items.push_back({number, frame});
}

void CutInMemory::finish(const CutTail& cutTail) {
    noteMissing(cutTail.frames, NAN);
    tail = cutTail;
}

bool CutInMemory::forgetWritten() {
    if (frames.written == 0)
        return false;
    const auto& oldest = frames.items.front();
    forgotten = {0, oldest.number, NAN, oldest.frame.time_s, notHeld};
    frames.items.pop_front();
    --frames.written;
    return true;
}

void CutInMemory::forgetAll() {
    frames = {};
    places.clear();
    isForgotten = true;
}

void CutInMemory::startAnew(const std::string& why) {
    if (cut == 0)
        return;
    cut = 0;
    if (isForgotten)
        return;
    endWritten = false;
    frames.written = events.written = notes.written = gaps.written = 0;
    placesWritten.clear();
    for (const auto& [number, place] : places)
        placesWaiting[number] = true;
    if (forgotten) {
        std::erase_if(gaps.items, [this](const auto& gap) { return gap.lastFrame <= forgotten->lastFrame; });
        gaps.items.insert(gaps.items.begin(), *forgotten);
    }
    events.items.push_back({next, last_s, "book", why, NAN});
}

bool CutInMemory::isDone() const noexcept {
    return endWritten && !hasWork();
}

bool CutInMemory::isOrphaned() const noexcept {
    return isForgotten && cut == 0 && notes.waiting() > 0;
}

bool CutInMemory::hasWork() const noexcept {
    if (isForgotten)
        return notes.waiting() > 0 && cut != 0;
    return cut == 0 || frames.waiting() + events.waiting() + notes.waiting() + gaps.waiting() > 0
           || !placesWaiting.empty() || (tail && !endWritten);
}

} // namespace headland::log
