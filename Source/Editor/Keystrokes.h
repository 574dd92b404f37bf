// SPDX-License-Identifier: GPL-3.0-or-later
// Tells a command from a hand that types into the wrong place, a second press from a first, and a press from a key that is
// held. A character that follows another one within 0.4 s is typing, and so is what stood before it: nothing of a path,
// typed without a field, is a command. What must not be done by mistake therefore waits until its key has stood alone for
// 0.4 s; what only changes what is seen is done at once. What moves the lathe or drops the stylus needs Shift, or a second
// press of its key within a second. Time is the caller's, in ms. Main thread.
#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

#include <functional>
#include <optional>
#include <vector>

namespace headland::editor {

class Keystrokes final {
public:
    static constexpr double alone_ms = 400;   ///< between characters that are not typing
    static constexpr double second_ms = 1000; ///< for the second press
    static constexpr double held_ms = 1200;   ///< a key that is held repeats sooner than this
    static constexpr double told_ms = 4000;   ///< that typing went astray
    static constexpr double bounce_ms = 40;   ///< between letting go and pressing again: no hand is as quick

    enum class Kind {
        view,       ///< changes what is seen: at once
        deed,       ///< changes something: when it has stood alone
        deliberate, ///< moves the lathe or drops the stylus: with Shift or pressed twice, when it has stood alone
    };

    /// How a key stands, for its button.
    enum class Standing { idle, armed, waiting };

    /// A key went down, or repeats. False: it is none of a person's commands, being typed or held; do nothing. Every key
    /// is to be told, whatever it is for.
    bool press(const juce::KeyPress& key, double now_ms);
    /// A key that press() has let through is for this. `deed` is called at once or in settle().
    void command(const juce::KeyPress& key, Kind kind, std::function<void()> deed, double now_ms);
    /// Does what has stood alone long enough. Often.
    void settle(double now_ms);
    /// Some key was let go; `isDown` knows which are not.
    void released(const std::function<bool(int keyCode)>& isDown, double now_ms);
    /// Nothing that was pressed counts any more.
    void forget();

    /// As of settle(), the last time.
    Standing standing(char key) const;
    /// Characters have been typed that were no commands, just now.
    bool hasStrayed(double now_ms) const { return isTyping && now_ms - last.at_ms < told_ms; }

private:
    struct Press {
        int key = 0;
        double at_ms = -1e9;
    };
    struct Held {
        int key;
        double pressed_ms;
        std::optional<double> released_ms;
    };
    struct Waiting {
        int key;
        double since_ms;
        std::vector<std::function<void()>> deeds;
    };

    bool isHeld(int key, double now_ms);

    Press last; ///< character
    bool isTyping = false;
    std::optional<Press> armed;
    std::optional<Held> held;
    std::optional<Waiting> waiting;
};

/// Whether a key writes a character; capital letters for letters.
bool isCharacter(const juce::KeyPress& key);
int capitalOf(const juce::KeyPress& key);

} // namespace headland::editor
