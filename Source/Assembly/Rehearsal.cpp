// SPDX-License-Identifier: GPL-3.0-or-later
#include "Assembly/Rehearsal.h"

#include "Cut/SameSettings.h"
#include "Files/ProgramFile.h"
#include "Files/RehearseProgram.h"

#include <algorithm>
#include <exception>
#include <utility>

namespace headland::assembly {

namespace {

constexpr double hearing = 0.2; ///< of all the work, before the cut

struct Stopped {};

class Frames final : public cut::FrameSink {
public:
    Frames(editor::SideHistory& all, disc::RehearsedSide& toProgramEnd) : history(all), side(toProgramEnd) {}
    void frame(const cut::CutFrame& frame) noexcept override {
        history.add({&frame, 1});
        if (frame.state == cut::State::leadIn || frame.state == cut::State::program)
            side.add(frame.time_s, frame.radius_mm);
    }

private:
    editor::SideHistory& history;
    disc::RehearsedSide& side;
};

} // namespace

void Rehearsal::wish(const std::string& program, const cut::CutSettings& wanted) {
    if (program == path && cut::areSame(wanted, settings) && !isHeld)
        return;
    begin(program);
    settings = wanted;
    isHeld = false;
    if (!path.empty())
        startThread(Priority::low);
}

void Rehearsal::hold(const std::string& program) {
    if (program == path && isHeld)
        return;
    begin(program);
    isHeld = true;
}

/// Nothing is rehearsed from here on; what is known of this program is old, of another one is forgotten.
void Rehearsal::begin(const std::string& program) {
    stopThread(-1);
    done.set(0);
    const std::lock_guard held(lock);
    if (program == path)
        made.isOld = true;
    else
        made = {};
    path = program;
}

Rehearsal::Result Rehearsal::result() const {
    const std::lock_guard held(lock);
    return made;
}

void Rehearsal::run() {
    auto result = rehearsed();
    const std::lock_guard held(lock);
    if (!threadShouldExit())
        made = std::move(result);
}

/// An unreadable file and a set-up that cannot be cut with are said in the words of whoever refused them.
Rehearsal::Result Rehearsal::rehearsed() {
    try {
        Result result;
        result.program.profile = files::rehearseProgram(path, settings, share(0, hearing));
        result.side = cutAll(result.program);
        const auto& summary = result.side->summary();
        result.verdict = summary.verdictLine();
        result.isScrap = summary.verdict() == cut::Verdict::cannotBeCut;
        return result;
    } catch (const Stopped&) {
        return {};
    } catch (const std::exception& problem) {
        Result failed;
        failed.verdict = problem.what();
        failed.isScrap = true;
        return failed;
    }
}

/// Says how far a part of the work is, and ends it when the thread is to stop.
files::BetweenBlocks Rehearsal::share(double from, double to) {
    return [=, this](double fraction) {
        done.set(from + (to - from) * std::min(1.0, fraction));
        if (threadShouldExit())
            throw Stopped{};
    };
}

std::shared_ptr<editor::SideHistory> Rehearsal::cutAll(cut::RehearsedProgram& program) {
    auto file = files::ProgramFile::open(path);
    auto& used = program.settings = settings;
    if (used.side_length_s == 0)
        used.side_length_s = file.length_s();
    auto all = std::make_shared<editor::SideHistory>(used);
    auto side = std::make_shared<disc::RehearsedSide>();
    Frames sink(*all, *side);
    files::cutProgram(file, used, sink, share(hearing, 1), program.profile);
    program.side = std::move(side);
    return all;
}

} // namespace headland::assembly
