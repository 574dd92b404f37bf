// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/PreviewPage.h"

#include "Editor/Look.h"
#include "Text/Times.h"

namespace headland::editor {

namespace {

constexpr int previewLineHeight = 26, previewFieldHeight = 68, fieldWidth = 300, previewGap = 6;

std::string stateOf(const Viewpoint& view, const DelayStudyResult& result, bool isBusy) {
    if (view.side() == nullptr)
        return "Cut a side, or review one: then other delays can be reckoned for its program.";
    if (result.delays.empty() && !isBusy)
        return "Press the button: every delay is planned again for the program of the cut that is shown.";
    const auto of =
        "For the program up to " + text::minutesSeconds(result.cutTo_s) + "; what was ridden is not in it.";
    return isBusy ? of + " Reckoning ..." : of;
}

} // namespace

PreviewPage::PreviewPage(Access& access, Viewpoint& viewpoint, const std::function<void(Typing&)>& prepare,
                         std::function<void(const std::string&)> onDone)
    : view(viewpoint) {
    setComponentID("preview page");
    for (const auto& field : access.fields())
        if (field.key == "preview_s") {
            delay = std::make_unique<ValueField>(field);
            prepare(*delay);
            addAndMakeVisible(*delay);
        }
    listen.setComponentID("listen");
    listen.setTooltip("Listens to a tape that runs with the stylus up. When it is then cut, the pitch is "
                      "planned with what was "
                      "heard, beyond the preview.");
    listen.onClick = [this, &access, onDone] { onDone(access.listen(!isListening)); };
    addAndMakeVisible(listen);
    go.setComponentID("study");
    go.setButtonText("Reckon other delays");
    go.setTooltip("Plans the program of the cut that is shown again with every delay of the list. The cut "
                  "goes on meanwhile.");
    go.onClick = [this] { study(); };
    addAndMakeVisible(go);
    addAndMakeVisible(chart);
}

void PreviewPage::study() {
    if (const auto* side = view.side())
        worker.begin(*side, view.sampleRate_hz());
}

void PreviewPage::show(const Glimpse& glimpse) {
    const auto result = worker.result();
    const auto isBusy = worker.isBusy();
    chart.show(result, glimpse.units);
    if (delay)
        delay->refresh(glimpse.units);
    go.setEnabled(view.side() != nullptr);
    isListening = glimpse.listening.isOn;
    listen.setButtonText(isListening ? "End listening" : "Listen to a tape");
    listen.setEnabled(isListening || !glimpse.file.running);
    const auto wanted =
        "Preview: " + delayText(glimpse.setup.preview_s, glimpse.setup.turn_s(), glimpse.units);
    const auto wantedState = stateOf(view, result, isBusy);
    if (wanted == line && wantedState == state)
        return;
    line = wanted;
    state = wantedState;
    setTitle(toJuce(line + ". " + state));
    repaint();
}

void PreviewPage::paint(juce::Graphics& g) {
    auto area = getLocalBounds().toFloat();
    g.setColour(colour(palette::text));
    drawWhole(g, toJuce(line), area.removeFromTop(previewLineHeight).reduced(4, 0), 18,
              juce::Justification::centredLeft, true);
    const auto words = area.removeFromTop(previewFieldHeight).withTrimmedLeft(fieldWidth + 190);
    drawWrapped(g, toJuce(state), words.reduced(4, 12), 15, colour(palette::text));
}

void PreviewPage::resized() {
    auto area = getLocalBounds().withTrimmedTop(previewLineHeight);
    auto row = area.removeFromTop(previewFieldHeight);
    if (delay)
        delay->setBounds(row.removeFromLeft(fieldWidth));
    row.removeFromLeft(previewGap);
    auto buttons = row.removeFromLeft(180);
    listen.setBounds(buttons.removeFromTop(buttons.getHeight() / 2).reduced(0, 2));
    go.setBounds(buttons.reduced(0, 2));
    area.removeFromTop(previewGap);
    chart.setBounds(area);
}

} // namespace headland::editor
