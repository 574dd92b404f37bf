// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/LiveRehearsal.h"

#include <algorithm>
#include <utility>

namespace headland::plugin {

namespace {

constexpr int pause_ms = 100;
constexpr auto binsPerTurn = static_cast<std::size_t>(plan::Profile::binsPerTurn);

} // namespace

LiveRehearsal::LiveRehearsal(Link& l) : Thread("Headland rehearsal"), link(l), taken(1024) {
    startThread();
}

LiveRehearsal::~LiveRehearsal() {
    stop();
}

void LiveRehearsal::stop() {
    if (isThreadRunning())
        stopThread(-1);
}

void LiveRehearsal::run() {
    while (!threadShouldExit()) {
        step();
        wait(pause_ms);
    }
}

void LiveRehearsal::listen() {
    const std::lock_guard held(lock);
    if (listening)
        return;
    listening.emplace();
    why.clear();
    tellIfWanted();
}

void LiveRehearsal::stopListening() {
    const std::lock_guard held(lock);
    endListening({});
}

LiveRehearsalReport LiveRehearsal::report() const {
    const std::lock_guard held(lock);
    return {listening.has_value(), listening ? listening->heard.length_s : 0,
            known == nullptr ? 0 : known->length_s, why.empty() ? unfit : why};
}

void LiveRehearsal::expect(std::uint32_t serial, const plan::ProfileTerms& made) {
    const std::lock_guard held(lock);
    terms[serial] = made;
}

std::shared_ptr<const plan::Profile> LiveRehearsal::profileFor(const plan::ProfileTerms& wanted) {
    const std::lock_guard held(lock);
    unfit.clear();
    if (known == nullptr)
        return nullptr;
    if (known->made.turn_s == wanted.turn_s && known->made.highpass_hz == wanted.highpass_hz)
        return known;
    unfit = std::string("What was listened to was heard with another ")
            + (known->made.turn_s == wanted.turn_s ? "High-pass" : "Speed")
            + ": a cut is planned as far as the preview reaches; listen again.";
    return nullptr;
}

void LiveRehearsal::tellIfWanted() noexcept {
    link.heardWanted.set(listening || known != nullptr ? 1 : 0);
}

void LiveRehearsal::endListening(const std::string& reason) {
    if (!listening)
        return;
    auto heard = std::move(listening->heard);
    listening.reset();
    why = reason;
    if (!heard.bins.empty()) {
        known = std::make_shared<const plan::Profile>(std::move(heard));
        changes_.count();
    }
    tellIfWanted();
}

void LiveRehearsal::step() {
    const std::lock_guard held(stepping);
    for (auto count = taken.size(); count == taken.size();) {
        count = link.heard.drain(taken);
        std::for_each_n(taken.begin(), count, [this](const auto& bin) { take(bin); });
    }
}

void LiveRehearsal::take(const handoff::HeardBin& bin) {
    {
        const std::lock_guard held(lock);
        terms.erase(terms.begin(), terms.lower_bound(bin.serial)); // nothing of theirs is under way
        if (listening)
            return hear(bin);
    }
    follow(bin);
}

/// Locked.
void LiveRehearsal::hear(const handoff::HeardBin& bin) {
    if (bin.isDown)
        return endListening(
            "The listening ended because the stylus was lowered: what was heard until then is kept.");
    auto& [serial, next, heard] = *listening;
    if (serial == 0) {
        const auto made = terms.find(bin.serial);
        if (made == terms.end())
            return;
        serial = bin.serial;
        next = bin.number;
        heard.made = made->second;
    }
    if (bin.serial != serial)
        return endListening(
            "The listening ended because the set-up was changed: what was heard until then is kept.");
    const auto missing = static_cast<std::size_t>(bin.number - next);
    heard.length_s += static_cast<double>(missing + 1) * heard.bin_s();
    if (heard.length_s > longest_s)
        return endListening("The listening ended after two hours: what was heard until then is kept.");
    heard.bins.resize(heard.bins.size() + missing); // there was no room for them: as if it had been quiet
    heard.bins.push_back(bin.bin);
    next = bin.number + 1;
}

/// A cut begins when the stylus is told to go down; with it up there is nothing to look for.
void LiveRehearsal::follow(const handoff::HeardBin& bin) {
    const auto profile = [this] {
        const std::lock_guard held(lock);
        return known;
    }();
    if (!bin.isDown || profile == nullptr)
        return following.reset();
    if (!following || following->serial != bin.serial || following->next != bin.number)
        following.emplace(Following{bin.serial, bin.number, bin.number, align::ProfileAligner(*profile), {}});
    auto& heard = following->heard;
    heard.push_back(bin.bin);
    ++following->next;
    if (heard.size() < binsPerTurn)
        return;
    following->aligner.hear(heard);
    heard.clear();
    const auto found = following->aligner.align();
    if (!found.found)
        return;
    const auto before_s = found.ratio * static_cast<double>(following->first) * profile->bin_s();
    link.found.publish({bin.serial, {found.offset_s - before_s, found.ratio}});
}

} // namespace headland::plugin
