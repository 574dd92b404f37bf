// SPDX-License-Identifier: GPL-3.0-or-later
// What is asked of a person: a sheet of the window's own over its page, with a name and a button that closes it. It is never
// modal: what is beside it works on, and Escape closes it and lifts. Main thread.
#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

#include <functional>
#include <memory>

namespace headland::editor {

class Sheet : public juce::Component {
public:
    /// `content` may be nothing: then whoever derives from it lays out contentArea().
    Sheet(const juce::String& name, std::unique_ptr<juce::Component> content);

    std::function<void()> onClose;  ///< it is to go
    std::function<void()> onEscape; ///< pressed while something in it is typed

    /// Gives the keyboard to what is used first.
    virtual void takeKeyboard();

    void paint(juce::Graphics& g) override;
    void resized() override;

protected:
    juce::Rectangle<int> contentArea() const;

private:
    std::unique_ptr<juce::Component> content;
    juce::Viewport view; ///< scrolls it where it has no room
    juce::TextButton closeButton{"Close"};
};

/// Whoever shows sheets.
class Sheets {
public:
    virtual ~Sheets() = default;
    /// Opens it instead of what is open, unless the stylus is down, which is said.
    virtual void open(std::unique_ptr<Sheet> sheet) = 0;
    /// Closes what is open; it may still be running, and goes later.
    virtual void closeSheet() = 0;
};

} // namespace headland::editor
