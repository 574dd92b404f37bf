// SPDX-License-Identifier: GPL-3.0-or-later
// The preview delay: what it is in seconds, turns and tape, a field to set it, and what other delays would have cost for the
// program of the cut that is shown. A live program is listened to here, for a cut to know what comes. Main thread.
#pragma once

#include "Editor/DelayChart.h"
#include "Editor/ValueField.h"
#include "Editor/Viewpoint.h"

#include <memory>

namespace headland::editor {

class PreviewPage final : public juce::Component {
public:
    /// `viewpoint` must outlive the page; `prepare` is given the field once, to listen to it; `onDone` what was refused, or nothing, after
    /// every action.
    PreviewPage(Access& access, Viewpoint& viewpoint, const std::function<void(Typing&)>& prepare,
                std::function<void(const std::string&)> onDone);

    void show(const Glimpse& glimpse);
    /// Begins to reckon with the frames there are.
    void study();
    /// Nothing is being reckoned.
    bool isSettled() const { return !worker.isBusy(); }
    const std::string& delayLine() const noexcept { return line; }

    void paint(juce::Graphics& g) override;
    void resized() override;

private:
    Viewpoint& view;
    std::unique_ptr<ValueField> delay; ///< null where the processor has none
    juce::TextButton listen, go;
    bool isListening = false;
    DelayStudy worker;
    DelayChart chart;
    std::string line, state;
};

} // namespace headland::editor
