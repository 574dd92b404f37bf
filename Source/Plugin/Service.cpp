// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/Service.h"

#include "Cut/ProfileScale.h"
#include "Cut/SameSettings.h"

#include <algorithm>
#include <utility>

namespace headland::plugin {

namespace {

constexpr int period_ms = 20;

/// Whether a second head makes the preview.
bool isPreviewOutside(const Occasion& occasion, int previewFrom) {
    constexpr int ownDelay = 1, secondHead = 2;
    return occasion.hasPreviewInput && previewFrom != ownDelay
           && (previewFrom == secondHead || occasion.previewInputIsChosen);
}

std::vector<std::string> problemsOf(const LiveSetup& setup) {
    auto problems = cut::validate(setup.cut, setup.sampleRate_hz);
    const auto control = validateControl(setup.live, setup.cut);
    problems.insert(problems.end(), control.begin(), control.end());
    return problems;
}

} // namespace

Service::Service(Link& l, Parameters& p, std::function<void()> change)
    : Thread("Headland service"),
      link(l),
      parameters(p),
      onChange(std::move(change)),
      taken(1024),
      takenEdges(256) {
    startThread();
}

Service::~Service() {
    stop();
}

void Service::stop() {
    if (!isThreadRunning())
        return;
    stopThread(-1);
    liveRehearsal.stop();
    step(); // what the audio thread has left behind
}

void Service::run() {
    while (!threadShouldExit()) {
        step();
        wait(period_ms);
    }
}

void Service::prepare(const Occasion& wanted) {
    const std::lock_guard held(lock);
    link.cuts.collect();
    readEvents();
    occasion = wanted;
    makeCut();
}

Report Service::report() const {
    const std::lock_guard held(lock);
    auto report = shown;
    report.rehearsal = liveRehearsal.report();
    return report;
}

bool Service::foresee(plan::Foresight& coming) noexcept {
    link.foresightWanted.set(1);
    return link.foresight.read(coming);
}

void Service::setJournal(std::unique_ptr<Journal> wanted) {
    const std::lock_guard held(lock);
    journal = std::move(wanted);
    tellIfEdgesAreWanted();
}

void Service::chooseBook(const BookChoice& wanted) {
    const std::lock_guard held(lock);
    if (journal == nullptr)
        return;
    journal->choose(wanted);
    tellIfEdgesAreWanted();
}

void Service::tellIfEdgesAreWanted() {
    link.edgesWanted.set(journal != nullptr && journal->wantsEdges() ? 1 : 0);
}

bool Service::note(std::uint32_t cut, const log::NoteRecord& note) {
    const std::lock_guard held(lock);
    readEvents(); // that cut may have begun just now, or be over
    return journal != nullptr && cut == latestCut && journal->note(note);
}

void Service::setTell(Tell wanted) {
    const std::lock_guard held(lock);
    tell = std::move(wanted);
}

void Service::step() {
    auto changed = false;
    {
        const std::lock_guard held(lock);
        link.cuts.collect();
        const auto wasDown = stylusIsDown();
        link.status.read(shown.status);
        changed = wasDown && !stylusIsDown();
        if (occasion.sampleRate_hz > 0 && hasChanged() && !stylusIsDown()) {
            makeCut();
            changed = true;
        }
        shown.changesWait = stylusIsDown() && (hasChanged() || shown.status.serial != lastSerial);
        readEvents();
        setups.erase(setups.begin(),
                     setups.lower_bound(shown.status.serial)); // no frame of theirs is under way
        shown.journalTrouble = journal == nullptr ? std::string() : journal->trouble();
        shown.tellTrouble = tell ? tell(shown.status) : std::string();
    }
    if (changed)
        onChange();
}

bool Service::stylusIsDown() const noexcept {
    return shown.status.state != cut::State::up || shown.status.lowering;
}

/// There is more or something else to be cut with than when a set-up was made last.
bool Service::hasChanged() const noexcept {
    return parameters.setupChanges() != knownChanges || liveRehearsal.changes() != knownRehearsals;
}

/// Hands over a set-up with the parameters as they are; if they cannot be cut with, says why and keeps the stylus up.
void Service::makeCut() {
    parameters.followFormat();
    knownChanges = parameters.setupChanges(); // before the values: a change in between is seen the next time
    LiveSetup setup{parameters.cutSettings(), parameters.liveSettings(), occasion.sampleRate_hz, false, 0};
    setup.previewOutside = isPreviewOutside(occasion, setup.live.preview_from);
    if (setup.cut.side_length_s == 0 && occasion.program)
        setup.cut.side_length_s = occasion.program->facts.length_s;
    knownRehearsals = liveRehearsal.changes();
    setup.isSought = !occasion.program;
    setup.rehearsed =
        setup.isSought ? liveRehearsal.profileFor(cut::profileTerms(setup.cut)) : occasion.rehearsed.profile;
    if (cut::areSame(setup.cut, occasion.rehearsed.settings))
        setup.rehearsedSide = occasion.rehearsed.side;
    shown.problems = problemsOf(setup);
    link.setupRefused.set(shown.problems.empty() ? 0 : 1);
    if (!shown.problems.empty()) {
        if (lastSerial != 0 && shown.setup.sampleRate_hz == occasion.sampleRate_hz
            && shown.setup.previewOutside == setup.previewOutside)
            return;
        setup.cut = {}; // the program must go through all the same
        setup.live = {};
        if (!problemsOf(setup).empty()) // a rate nothing can be cut at
            return;
    }
    setup.serial = ++lastSerial;
    auto made = std::make_unique<LiveCut>(setup);
    latency.set(made->latency_samples());
    setups[setup.serial] = setup;
    liveRehearsal.expect(setup.serial, cut::profileTerms(setup.cut));
    shown.setup = setup;
    link.cuts.offer(std::move(made));
}

void Service::readEvents() {
    for (std::size_t count = taken.size(); count == taken.size();) {
        count = link.events.drain(taken);
        readEdges(); // afterwards: those of the frames just read are there
        std::for_each_n(taken.begin(), count, [this](const auto& event) { take(event); });
    }
}

void Service::readEdges() {
    for (std::size_t count = takenEdges.size(); count == takenEdges.size();) {
        count = link.edges.drain(takenEdges);
        edges.insert(edges.end(), takenEdges.begin(),
                     takenEdges.begin() + static_cast<std::ptrdiff_t>(count));
    }
}

/// Passes on the edges that were told before this event, and forgets those of cuts that nobody has heard of.
void Service::passEdges(const handoff::CutEvent& before) {
    for (; edgesPassed < before.chunks && !edges.empty(); ++edgesPassed) {
        if (journal != nullptr && edges.front().cut == latestCut)
            journal->edges(edges.front().run());
        edges.pop_front();
    }
}

void Service::take(const handoff::CutEvent& event) {
    using Kind = handoff::CutEvent::Kind;
    if (event.kind == Kind::begun)
        latestCut = event.cut;
    else
        passEdges(event);
    if (journal == nullptr)
        return;
    switch (event.kind) {
    case Kind::begun:
        return journal->begin(setups.at(event.serial), occasion.program ? &*occasion.program : nullptr);
    case Kind::frame:
        return journal->frame(event.frame, event.number);
    case Kind::ended:
        journal->end(event.end, event.number);
        return tellIfEdgesAreWanted(); // the book may have been given up meanwhile
    case Kind::cue:
    case Kind::ridden:
    case Kind::mark:
    case Kind::rehearsal:
        return journal->event(event);
    }
}

} // namespace headland::plugin
