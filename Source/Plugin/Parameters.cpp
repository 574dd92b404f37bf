// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/Parameters.h"

namespace headland::plugin {

namespace {

juce::StringArray cueChoices() {
    juce::StringArray choices{"As it is"};
    for (int i = 0; i < cut::cueCount; ++i)
        choices.add(name(static_cast<cut::Cue>(i)));
    return choices;
}

} // namespace

juce::String name(cut::Cue cue) {
    switch (cue) {
    case cut::Cue::lift:
        return "Lift";
    case cut::Cue::leadIn:
        return "Lower, lead-in";
    case cut::Cue::program:
        return "Program";
    case cut::Cue::band:
        return "Band";
    case cut::Cue::leadOut:
        return "Lead-out";
    case cut::Cue::finishing:
        return "Finishing groove";
    }
    return {};
}

Parameters::Parameters(juce::AudioProcessor& processor)
    : cue(new juce::AudioParameterChoice({"cue", 1}, "Cue", cueChoices(), 0)) {
    processor.addParameter(cue);
    const auto add = [&processor](std::vector<SettingParameter*>& list, auto* parameter) {
        list.push_back(parameter);
        processor.addParameter(parameter);
    };
    for (const auto& setting : liveTable())
        add(liveParameters,
            new SettingParameter(setting, isSetUp(setting) ? setupCount : otherCount, isRidden(setting)));
    for (const auto& setting : cut::settingsTable())
        add(cutParameters, new SettingParameter(setting, setupCount, false));
    knownFormat.set(cutSettings().format);
}

cut::CutSettings Parameters::cutSettings() const noexcept {
    cut::CutSettings settings;
    const auto table = cut::settingsTable();
    for (std::size_t i = 0; i < table.size(); ++i)
        cut::setNumber(settings, table[i], cutParameters[i]->value());
    return settings;
}

void Parameters::set(const cut::CutSettings& settings) noexcept {
    const auto table = cut::settingsTable();
    knownFormat.set(settings.format);
    for (std::size_t i = 0; i < table.size(); ++i)
        cutParameters[i]->setExactly(cut::getNumber(settings, table[i]));
}

LiveSettings Parameters::liveSettings() const noexcept {
    LiveSettings settings;
    const auto table = liveTable();
    for (std::size_t i = 0; i < table.size(); ++i)
        cut::setNumber(settings, table[i], liveParameters[i]->value());
    return settings;
}

void Parameters::set(const LiveSettings& settings) noexcept {
    const auto table = liveTable();
    for (std::size_t i = 0; i < table.size(); ++i)
        liveParameters[i]->setExactly(cut::getNumber(settings, table[i]));
}

void Parameters::ride(const LiveSetting& setting, double value) {
    auto& parameter = *liveParameters[static_cast<std::size_t>(&setting - liveTable().data())];
    parameter.beginChangeGesture();
    parameter.setExactly(value);
    parameter.sendValueChangedMessageToListeners(parameter.getValue());
    parameter.endChangeGesture();
}

std::optional<cut::Cue> Parameters::wantedCue() const noexcept {
    const auto index = cue->getIndex();
    return index == 0 ? std::nullopt : std::optional(static_cast<cut::Cue>(index - 1));
}

void Parameters::followFormat() noexcept {
    auto settings = cutSettings();
    if (settings.format == knownFormat.get())
        return;
    settings.applyFormat(settings.format);
    set(settings);
}

} // namespace headland::plugin
