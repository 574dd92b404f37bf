// SPDX-License-Identifier: GPL-3.0-or-later
// Where OSC is sent to, typed: the one part of the set-up that is a text. Return and leaving it take it over. Main thread.
#pragma once

#include "Editor/Access.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace headland::editor {

class AddressField final : public juce::Component {
public:
    explicit AddressField(Access& access);

    /// Shows the address as it is, unless it is being typed.
    void refresh();
    /// Puts a typed address in; refuses it below the field.
    void enter(const juce::String& text);
    const std::string& refusal() const noexcept { return refused; }

    void paint(juce::Graphics& g) override;
    void resized() override;

private:
    Access& access;
    juce::TextEditor typed;
    std::string refused;
};

} // namespace headland::editor
