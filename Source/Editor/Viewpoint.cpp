// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/Viewpoint.h"

#include "Cut/SameSettings.h"
#include "Cut/Spoils.h"
#include "Editor/Words.h"
#include "Files/Errors.h"
#include "Text/Figures.h"
#include "Text/Times.h"

#include <algorithm>
#include <cmath>

namespace headland::editor {

namespace {

constexpr double liveHalfLength_mm = 0.8;

constexpr int looksUntilStill =
    8; ///< a place is looked up in the program's file when it has not moved for so long

/// Where a review begins: at what spoilt the side, at the first caution, or half way.
double firstLook_s(const SideHistory& side) {
    const auto& passages = side.summary().passages;
    const auto spoilt = std::find_if(passages.begin(), passages.end(),
                                     [](const auto& passage) { return cut::spoils(passage.flag); });
    const auto first = spoilt == passages.end() ? passages.begin() : spoilt;
    return first == passages.end() ? side.summary().sideLength_s / 2
           : first->worst.valid    ? first->worst.time_s
                                   : first->start_s;
}

bool isSameFile(const std::string& a, const std::string& b) {
    const auto whole = [](const std::string& path) {
        return juce::File::getCurrentWorkingDirectory().getChildFile(juce::String::fromUTF8(path.c_str()));
    };
    return whole(a) == whole(b);
}

bool isUp(const Glimpse& glimpse) {
    return glimpse.status.state == cut::State::up;
}

} // namespace

void Viewpoint::update(const Glimpse& wanted) {
    glimpse = wanted;
    auto news = access.news(cut, live == nullptr ? 0 : live->frames().size());
    if (news.cut != cut) {
        cut = news.cut;
        liveRate_hz = news.sampleRate_hz;
        liveProgram = news.program;
        live = std::make_shared<SideHistory>(news.settings);
        if (!isReview())
            place.reset();
        coming = {};
    }
    if (live != nullptr)
        live->add(news.frames);
    access.foresee(coming);
    rehearsed = access.rehearsal();
    if (isReview() && (!isUp(glimpse) || glimpse.status.lowering))
        leaveReview();
    ++stillSince;
    if (auto more = finder.take())
        found = std::move(more);
}

std::shared_ptr<const SideHistory> Viewpoint::sideShared() const {
    return isReview() ? reviewed->side() : live;
}

const SideHistory* Viewpoint::side() const noexcept {
    const auto* shown = isReview() ? reviewed->side().get() : live.get();
    return shown == nullptr || shown->frames().empty() ? nullptr : shown;
}

std::optional<cut::CutFrame> Viewpoint::frame() const {
    const auto* shown = side();
    if (shown == nullptr)
        return std::nullopt;
    const auto last = shown->frames().size() - 1;
    return shown->frames()[place ? std::min(shown->frameAt(*place), last) : last];
}

void Viewpoint::lookAt(double time_s) {
    const auto* shown = side();
    if (shown == nullptr)
        return;
    const auto& frames = shown->frames();
    const auto wanted = std::clamp(time_s, frames.front().time_s, frames.back().time_s);
    if (place && *place == wanted)
        return;
    place = wanted;
    stillSince = 0;
    finder.stop();
    asked_s.reset();
    found.reset();
}

void Viewpoint::backToStylus() {
    if (!isReview())
        place.reset();
}

Access::Refusal Viewpoint::review(const std::string& book, std::int64_t number) {
    if (!isUp(glimpse) || glimpse.status.lowering)
        return "The stylus is down: lift it, or let the side end, before you review a cut.";
    try {
        auto opened = std::make_unique<Review>(book, number);
        if (opened->side()->frames().empty())
            return "Cut " + std::to_string(number)
                   + " has no sector in the book; there is nothing to review.";
        finder.stop();
        reviewed = std::move(opened);
    } catch (const std::exception& problem) {
        return problem.what();
    }
    patchAt_s.reset();
    place.reset();
    lookAt(firstLook_s(*reviewed->side()));
    return {};
}

void Viewpoint::leaveReview() {
    finder.stop();
    reviewed.reset();
    place.reset();
    patchAt_s.reset();
    asked_s.reset();
    found.reset();
}

const std::vector<log::LoggedNote>& Viewpoint::notes() const noexcept {
    return isReview() ? reviewed->notes() : glimpse.log.notes;
}

template <typename Change>
Access::Refusal Viewpoint::change(Change make) {
    if (!isReview())
        return "No cut is being reviewed: choose one on the page Book.";
    try {
        make(*reviewed);
        return {};
    } catch (const std::exception& problem) {
        return problem.what();
    }
}

Access::Refusal Viewpoint::addNote(const std::string& text) {
    return change([&](Review& review) { review.addNote(place.value_or(NAN), text); });
}

Access::Refusal Viewpoint::editNote(std::int64_t note, const std::string& text) {
    return change([&](Review& review) { review.editNote(note, text); });
}

Access::Refusal Viewpoint::deleteNote(std::int64_t note) {
    return change([&](Review& review) { review.deleteNote(note); });
}

Glimpse Viewpoint::shown() const {
    auto there = glimpse;
    const auto* what = side();
    if (what == nullptr || isAtStylus())
        return there;
    there.setup = what->settings();
    there.summary = what->summary();
    there.status.cuts = std::max<std::uint32_t>(1, there.status.cuts);
    there.status.frame = *frame();
    return there;
}

/// What is on screen, and not what the last cut was cut with or of: "the set-up".
std::string Viewpoint::changedSince() const {
    if (live == nullptr || live->frames().empty())
        return {};
    if (!glimpse.file.path.empty() && !liveProgram.empty() && !isSameFile(glimpse.file.path, liveProgram))
        return "the program";
    auto cutWith = live->settings();
    cutWith.side_length_s = glimpse.setup.side_length_s; // which comes from the program
    return cut::areSame(cutWith, glimpse.setup) && glimpse.problems.empty() ? std::string() : "the set-up";
}

/// With the stylus up: figures of what would be cut now, or whose they are.
void Viewpoint::judgeNext(Glimpse& there) const {
    there.changedSince = changedSince();
    const auto isOfCut = side() != nullptr && there.changedSince.empty();
    if (isOfCut || rehearsed == nullptr || rehearsed->frames().empty()) {
        there.figuresOf = there.changedSince.empty() ? std::string() : "before";
        return;
    }
    there.status.frame = rehearsed->frames().back();
    there.status.cuts = std::max<std::uint32_t>(1, there.status.cuts);
    there.figuresOf = glimpse.file.rehearsedIsOld ? "rehearsed before" : "rehearsed";
}

Glimpse Viewpoint::judged() const {
    if (!isReview()) {
        auto there = glimpse;
        if (isUp(glimpse) && !glimpse.status.lowering)
            judgeNext(there);
        return there;
    }
    auto there = shown();
    there.status.frame = side()->frames().back(); // of a cut that is over: what became of it
    const auto& logged = reviewed->cut();
    there.problems.clear();
    there.lastEnd =
        logged.tail ? logged.tail->ending : "has no end in the book, being under way or broken off";
    there.lastEndIsFault = !logged.tail || logged.tail->isFault;
    there.status.lastEnd = logged.tail && logged.tail->ending == "finished" ? handoff::CutEnd::finished
                                                                            : handoff::CutEnd::lifted;
    there.status.framesLost = 0;
    for (const auto& gap : logged.gaps)
        there.status.framesLost += static_cast<std::uint64_t>(gap.lastFrame - gap.firstFrame + 1);
    there.changesWait = false;
    there.file = {};
    return there;
}

StripSight Viewpoint::strip() const {
    StripSight sight;
    sight.side = side();
    sight.settings = isReview() ? reviewed->side()->settings() : glimpse.setup;
    sight.units = glimpse.units;
    const auto isDown = !isUp(glimpse);
    const auto isOfCut = !std::isnan(coming.time_s);
    sight.isLive = isAtStylus() && (isDown || (!isOfCut && coming.count > 0) || sight.side == nullptr);
    if (sight.isLive && !isDown)
        sight.side = nullptr; // what has been cut is over; what is heard has not begun
    if (!isReview() && isDown == isOfCut && (sight.isLive || isDown))
        sight.coming = coming;
    if (sight.side != nullptr) {
        sight.notes = &notes();
        sight.settings = sight.side->settings();
        sight.place_s = place.value_or(frame()->time_s);
    }
    return sight;
}

OverviewSight Viewpoint::overview() const {
    OverviewSight sight;
    sight.side = side();
    sight.rehearsed = isReview() ? nullptr : rehearsed.get();
    sight.length_s = isReview() ? 0 : glimpse.setup.side_length_s;
    sight.place_s = place;
    sight.units = glimpse.units;
    if (sight.side != nullptr)
        for (const auto& note : notes())
            if (!std::isnan(note.time_s))
                sight.notes_s.push_back(note.time_s);
    sight.isOld = glimpse.file.rehearsedIsOld;
    sight.none = glimpse.file.rehearsing < 1
                     ? "The side is being rehearsed: " + text::fixed(100 * glimpse.file.rehearsing, 0) + " %"
                     : "The whole side will be shown here, turn by turn";
    return sight;
}

std::string Viewpoint::heading() const {
    return place           ? "At " + text::minutesTenths(*place)
           : isUp(glimpse) ? "Where the stylus was last"
                           : "At the stylus";
}

bool Viewpoint::isSettled() const noexcept {
    return !finder.isBusy() && (!place || stillSince > looksUntilStill);
}

double Viewpoint::sampleRate_hz() const {
    return isReview() ? reviewed->cut().head.sampleRate_hz : liveRate_hz;
}

std::string Viewpoint::program() const {
    return isReview() ? reviewed->program() : liveProgram;
}

/// A place that was kept, looked up once.
std::optional<cut::GroovePatch> Viewpoint::kept(double time_s) {
    constexpr double sectors = 2; // a passage names the end of its sector
    if (patchAt_s && *patchAt_s == time_s)
        return patch;
    const auto within_s = sectors * side()->settings().sector_s();
    try {
        patch = isReview() ? reviewed->keptNear(time_s, within_s) : access.grooveKept(time_s, within_s);
    } catch (const std::exception&) { // the book cannot be read any more: then it is made from the program
        patch.reset();
    }
    // Of a cut under way a place may be kept a little later.
    if (patch || isUp(glimpse))
        patchAt_s = time_s;
    return patch;
}

/// The groove made again from the program's file; while there is none, why.
std::optional<cut::GroovePatch> Viewpoint::made(double time_s, std::string& none) {
    if (found && found->time_s == time_s) {
        none = found->refusal;
        return found->patch;
    }
    if (program().empty()) {
        none = "The groove is kept where something was flagged; elsewhere it can be made again only from a "
               "program file.";
        return std::nullopt;
    }
    if (!isUp(glimpse)) {
        none = "The groove here can be made again from the program when the stylus is up.";
        return std::nullopt;
    }
    if (!asked_s && stillSince >= looksUntilStill) {
        asked_s = time_s;
        finder.find({program(), sideShared(), sampleRate_hz(), time_s});
    }
    none = "The groove is made again from the program"
           + (asked_s ? ": " + text::fixed(100 * finder.fraction(), 0) + " %" : std::string(" ..."));
    return std::nullopt;
}

GrooveSight Viewpoint::groove() {
    GrooveSight sight;
    sight.heading = heading();
    const auto* what = side();
    if (what == nullptr) {
        sight.landSet_um = glimpse.setup.land_min_um;
        sight.none = "The groove will be shown here as soon as one is cut.";
        return sight;
    }
    sight.landSet_um = what->settings().land_min_um;
    if (frame()->state == cut::State::finishing) {
        sight.none = "The finishing groove closes on itself, on purpose: there is no land to be seen.";
        return sight;
    }
    if (!place) {
        sight.patch = access.grooveAtStylus(liveHalfLength_mm);
        sight.none = "No groove has been cut yet.";
        return sight;
    }
    sight.patch = kept(*place);
    if (!sight.patch)
        sight.patch = made(*place, sight.none);
    return sight;
}

} // namespace headland::editor
