// SPDX-License-Identifier: GPL-3.0-or-later
#include "Assembly/ProcessorAccess.h"

#include "Editor/Window.h"
#include "Files/PresetFile.h"
#include "Files/Text.h"

namespace headland::assembly {

namespace {

CutBook& newBook(plugin::Processor& processor) {
    auto book = std::make_unique<CutBook>();
    auto& made = *book;
    processor.service().setJournal(std::move(book));
    return made;
}

/// Which rows of a table are parameters, and what they say of themselves.
template <typename Table, typename IsRidden>
void addFields(std::vector<editor::Field>& fields, const Table& table, juce::AudioProcessor& processor,
               IsRidden isRidden) {
    for (const auto& setting : table) {
        const juce::String key(setting.key.data(), setting.key.size());
        for (auto* parameter : processor.getParameters())
            if (const auto* named = dynamic_cast<juce::AudioProcessorParameterWithID*>(parameter);
                named != nullptr && named->paramID == key)
                fields.push_back({parameter, setting.key, setting.label, setting.unit, setting.does,
                                  setting.reason, setting.least, setting.greatest, setting.isWhole(),
                                  setting.isPitch(), isRidden(setting)});
    }
}

/// Where nothing has been prepared yet, the service knows no rate and has found no problems.
constexpr double rateToCheckAt_hz = 48000;

} // namespace

ProcessorAccess::ProcessorAccess(plugin::Processor& p) : processor(p), book(newBook(p)) {}

editor::Glimpse ProcessorAccess::look() {
    const auto report = processor.service().report();
    editor::Glimpse glimpse;
    glimpse.status = report.status;
    glimpse.problems = report.problems;
    glimpse.setup = report.setup.cut;
    glimpse.isFed = report.status.serial != 0;
    if (report.setup.serial == 0 && report.problems.empty()) {
        const auto state = processor.state();
        glimpse.setup = state.cut;
        glimpse.problems = cut::validate(state.cut, rateToCheckAt_hz);
    }
    glimpse.changesWait = report.changesWait;
    for (const auto& trouble : {report.journalTrouble, report.tellTrouble, processor.stateProblem()})
        if (!trouble.empty())
            glimpse.troubles.push_back(trouble);
    glimpse.summary = book.summary();
    if (const auto end = book.lastEnd()) {
        glimpse.lastEnd = plugin::describe(*end);
        glimpse.lastEndIsFault = plugin::isFault(*end);
    }
    glimpse.logFolder = book.folder();
    return glimpse;
}

std::vector<editor::Field> ProcessorAccess::fields() {
    std::vector<editor::Field> fields;
    addFields(fields, cut::settingsTable(), processor, [](const auto&) { return false; });
    addFields(fields, plugin::liveTable(), processor, plugin::isRidden);
    return fields;
}

std::vector<std::string> ProcessorAccess::presetNames() {
    return files::builtInPresetNames();
}

editor::Access::Refusal ProcessorAccess::loadPreset(const std::string& nameOrFile) {
    try {
        return files::joined(processor.loadPreset(nameOrFile));
    } catch (const std::exception& problem) {
        return problem.what();
    }
}

editor::Access::Refusal ProcessorAccess::savePreset(const std::string& file) {
    try {
        const juce::File place(juce::String::fromUTF8(file.c_str()));
        files::writePreset(file, processor.state().cut, place.getFileNameWithoutExtension().toStdString(),
                           "Saved in Headland's window.");
        return {};
    } catch (const std::exception& problem) {
        return problem.what();
    }
}

editor::Access::Refusal ProcessorAccess::logInto(const std::string& folder) {
    const juce::File place(juce::String::fromUTF8(folder.c_str()));
    if (!place.isDirectory())
        return folder + " is no folder; choose one that exists.";
    if (!place.hasWriteAccess())
        return folder + " cannot be written into; choose another folder for the log.";
    book.logInto(folder);
    return {};
}

std::string ProcessorAccess::oscHost() {
    return processor.state().oscHost;
}

editor::Access::Refusal ProcessorAccess::sendOscTo(const std::string& host) {
    if (host.empty() || host.find_first_of(" \t/:") != std::string::npos)
        return "'" + host + "' is no address; write a name or numbers, such as 127.0.0.1.";
    processor.sendOscTo(host);
    return {};
}

std::unique_ptr<plugin::Processor> makeProcessor() {
    // The window is made by the processor, and what it looks through is made with the processor: it is put in afterwards.
    const auto access = std::make_shared<std::unique_ptr<ProcessorAccess>>();
    auto processor = std::make_unique<plugin::Processor>([access](plugin::Processor& shown) {
        return static_cast<juce::AudioProcessorEditor*>(new editor::Window(shown, **access));
    });
    *access = std::make_unique<ProcessorAccess>(*processor);
    return processor;
}

} // namespace headland::assembly
