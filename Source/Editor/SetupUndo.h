// SPDX-License-Identifier: GPL-3.0-or-later
// Undo for the set-up: every parameter that is not ridden, as a row of states through which one can go back and forth.
// A deed is one step, however many values it changed. What changes without a deed, because the host or a state it loaded did it, is
// part of the next deed's step, or a step by itself if undo comes first. What a format brings with it a moment later, on a
// thread of the processor's, belongs to the deed that chose the format. Values go back to the last bit. Main thread.
#pragma once

#include "Editor/Access.h"

#include <deque>
#include <optional>
#include <string>
#include <vector>

namespace headland::editor {

class SetupUndo {
public:
    static constexpr std::size_t depth = 100; ///< steps; the oldest is forgotten

    /// `access` must outlive it. The values as they are now are the first state.
    explicit SetupUndo(Access& access);

    /// After a deed: a step, if any value has changed.
    void note();
    /// With every look: for half a second after a format was chosen or put back, what follows from it is taken into the step,
    /// or put back as well.
    void settle();

    /// Puts the last step's values back, and returns what that was in words, or why nothing was: "Undone: Land is 12 µm
    /// again." Refused with the stylus down: the set-up is frozen then.
    std::string undo(Units units);
    /// The same forwards again, until something else is changed: "Done again: Land is 20 µm."
    std::string redo(Units units);

private:
    using State = std::vector<double>; ///< exact, in the order of the fields
    using States = std::deque<State>;

    State now() const;
    bool changesFormat(const State& from, const State& to) const;
    void put(const State& wanted);
    std::string go(States& from, States& to, Units units, bool isBack);
    std::string told(const State& before, Units units, bool isBack) const;

    Access& access;
    std::vector<Field> fields;
    State known;
    States past, future;
    std::optional<State> wanted; ///< put back lately, with another format in it
    int looksToSettle = 0;
};

} // namespace headland::editor
