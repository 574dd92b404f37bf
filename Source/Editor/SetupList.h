// SPDX-License-Identifier: GPL-3.0-or-later
// The set-up: a row for every parameter that is not ridden and the address of OSC, in a list that scrolls, and above it
// whether it is frozen. Main thread.
#pragma once

#include "Editor/Access.h"
#include "Editor/TextField.h"
#include "Editor/ValueField.h"

#include <memory>
#include <vector>

namespace headland::editor {

class SetupList final : public juce::Component {
public:
    /// `prepare` is given every field once, to listen to it.
    SetupList(Access& access, const std::function<void(Typing&)>& prepare);

    void show(const Glimpse& glimpse);
    /// What stands above the rows.
    const std::string& heading() const noexcept { return head; }

    void paint(juce::Graphics& g) override;
    void resized() override;

private:
    std::string head;
    bool frozen = false;
    juce::Component rows;
    juce::Viewport view;
    std::vector<std::unique_ptr<ValueField>> values;
    TextField oscAddress; ///< below the values
};

} // namespace headland::editor
