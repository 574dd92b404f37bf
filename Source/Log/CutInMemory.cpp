// SPDX-License-Identifier: GPL-3.0-or-later
#include "Log/CutInMemory.h"

#include <algorithm>
#include <utility>

namespace headland::log {

namespace {

constexpr auto noRoom = "no room in memory while the book could not be written";
constexpr auto lostBefore = "lost between the audio thread and the log, which was kept from running";
constexpr auto notHeld = "in the book that was removed, and no longer in memory";

} // namespace

void CutInMemory::noteMissing(std::int64_t before, double to_s) {
    if (before > next)
        gaps.items.push_back({next, before - 1, last_s, to_s, refusedUpTo > next ? noRoom : lostBefore});
}

void CutInMemory::take(const cut::CutFrame& frame, std::int64_t number) {
    noteMissing(number, frame.time_s - head.settings.sector_s());
    next = number + 1;
    last_s = frame.time_s;
    frames.items.push_back({number, frame});
}

void CutInMemory::refuse(const cut::CutFrame& frame, std::int64_t number) noexcept {
    refusedUpTo = number + 1;
    refused_s = frame.time_s;
}

void CutInMemory::finish(const CutTail& cutTail) {
    noteMissing(cutTail.frames, cutTail.frames == refusedUpTo ? refused_s : NAN);
    next = std::max(next, cutTail.frames);
    tail = cutTail;
}

void CutInMemory::breakOff() {
    if (tail)
        return;
    noteMissing(refusedUpTo, refused_s);
    next = std::max(next, refusedUpTo);
}

std::int64_t CutInMemory::missing() const noexcept {
    auto count = std::max<std::int64_t>(refusedUpTo - next, 0);
    for (const auto& gap : gaps.items)
        count += gap.lastFrame - gap.firstFrame + 1;
    return count;
}

void CutInMemory::place(int number, const PlaceRecord& place) {
    places[number] = place;
    placesWaiting[number] = ++placeChanges;
}

bool CutInMemory::forgetWritten() {
    if (frames.written == 0)
        return false;
    const auto& oldest = frames.items.front();
    if (!forgotten)
        forgotten = {0, 0, oldest.number == 0 ? oldest.frame.time_s - head.settings.sector_s() : NAN, NAN,
                     notHeld};
    forgotten->lastFrame = oldest.number;
    forgotten->to_s = oldest.frame.time_s;
    frames.items.pop_front();
    --frames.written;
    return true;
}

std::deque<CutInMemory::NumberedFrame> CutInMemory::forgetAll() {
    isForgotten = true;
    places.clear();
    return std::exchange(frames, {}).items;
}

void CutInMemory::startAnew(const std::string& why) {
    if (cut == 0)
        return;
    cut = 0;
    if (isForgotten)
        return;
    endWritten = false;
    head.answers.reset(); // the number of a cut in the book that went
    frames.written = events.written = notes.written = gaps.written = 0;
    placesWritten.clear();
    for (const auto& [number, place] : places)
        placesWaiting[number] = ++placeChanges;
    if (forgotten) {
        std::erase_if(gaps.items, [this](const auto& gap) { return gap.lastFrame <= forgotten->lastFrame; });
        gaps.items.insert(gaps.items.begin(), *forgotten);
    }
    events.items.push_back({next, last_s, "book", why, NAN});
}

bool CutInMemory::isOrphaned() const noexcept {
    return isForgotten && cut == 0 && hasMore();
}

bool CutInMemory::hasMore() const noexcept {
    return events.waiting() + notes.waiting() > 0 || !placesWaiting.empty();
}

bool CutInMemory::hasWork() const noexcept {
    if (isForgotten)
        return cut != 0 && hasMore();
    return cut == 0 || frames.waiting() + gaps.waiting() > 0 || hasMore() || (tail && !endWritten);
}

} // namespace headland::log
