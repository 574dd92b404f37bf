// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/SetupUndo.h"

#include "Editor/Words.h"
#include "Text/Figures.h"

#include <algorithm>
#include <utility>

namespace headland::editor {

namespace {

constexpr int settlingLooks = 15; // half a second

bool isFrozen(const Glimpse& glimpse) {
    return glimpse.status.state != cut::State::up || glimpse.status.lowering;
}

} // namespace

SetupUndo::SetupUndo(Access& a) : access(a), fields(a.fields()) {
    fields.erase(
        std::remove_if(fields.begin(), fields.end(), [](const Field& field) { return field.isRidden; }),
        fields.end());
    known = now();
}

SetupUndo::State SetupUndo::now() const {
    State state;
    for (const auto& field : fields)
        state.push_back(field.value->get());
    return state;
}

bool SetupUndo::changesFormat(const State& from, const State& to) const {
    for (std::size_t i = 0; i < fields.size(); ++i)
        if (fields[i].key == "format" && from[i] != to[i])
            return true;
    return false;
}

void SetupUndo::note() {
    auto current = now();
    if (current == known)
        return;
    wanted.reset();
    looksToSettle = changesFormat(known, current) ? settlingLooks : 0;
    past.push_back(std::exchange(known, std::move(current)));
    if (past.size() > depth)
        past.pop_front();
    future.clear();
}

void SetupUndo::settle() {
    if (looksToSettle == 0)
        return;
    --looksToSettle;
    if (wanted)
        put(*wanted);
    known = now();
}

/// Only what has another value is told to the host.
void SetupUndo::put(const State& state) {
    for (std::size_t i = 0; i < fields.size(); ++i) {
        auto& value = *fields[i].value;
        if (value.get() == state[i])
            continue;
        value.beginGesture();
        value.set(state[i]);
        value.endGesture();
    }
}

std::string SetupUndo::undo(Units units) {
    return go(past, future, units, true);
}

std::string SetupUndo::redo(Units units) {
    return go(future, past, units, false);
}

std::string SetupUndo::go(States& from, States& to, Units units, bool isBack) {
    if (isFrozen(access.look()))
        return std::string("The set-up is frozen while the stylus is down: lift it before you ")
               + (isBack ? "undo." : "redo.");
    settle();
    note();
    while (!from.empty() && from.back() == known) // the host has gone there by itself
        from.pop_back();
    if (from.empty())
        return isBack ? "There is nothing to undo: no earlier state of the set-up is known."
                      : "There is nothing to do again: nothing has been undone since the last change.";
    const auto before = known;
    const auto state = std::move(from.back());
    from.pop_back();
    wanted.reset();
    put(state);
    known = now();
    looksToSettle = changesFormat(before, known) ? settlingLooks : 0;
    if (looksToSettle > 0)
        wanted = state;
    to.push_back(before);
    return told(before, units, isBack);
}

std::string SetupUndo::told(const State& before, Units units, bool isBack) const {
    std::string first;
    long long others = -1;
    for (std::size_t i = 0; i < fields.size(); ++i)
        if (known[i] != before[i] && ++others == 0)
            first = std::string(fields[i].label) + " is " + valueText(fields[i], units);
    return (isBack ? "Undone: " + first + " again" : "Done again: " + first)
           + (others > 0 ? ", and " + text::counted(others, "other value") + (others == 1 ? " goes" : " go")
                               + " with it."
                         : ".");
}

} // namespace headland::editor
