// SPDX-License-Identifier: GPL-3.0-or-later
#include "Assembly/ProcessorAccess.h"

#include "Editor/Window.h"
#include "Files/Errors.h"
#include "Files/PresetFile.h"
#include "Log/BookPlace.h"
#include "Log/BookReader.h"
#include "Log/BookSchema.h"
#include "Log/BookTrouble.h"
#include "Log/CutEndText.h"
#include "Text/Figures.h"

namespace headland::assembly {

namespace {

CutBook& newBook(plugin::Processor& processor, const std::string& madeBy) {
    auto book = std::make_unique<CutBook>(madeBy);
    auto& made = *book;
    processor.service().setJournal(std::move(book));
    return made;
}

/// What can be seen of a book at once; an empty file is as good as none. Throws files::InputError.
void checkBook(const juce::File& place) {
    const auto folder = place.getParentDirectory();
    if (!folder.isDirectory())
        throw files::InputError("There is no folder " + folder.getFullPathName().toStdString()
                                + "; make it, or choose another place for the book.");
    try {
        log::checkBookPlace(place.getFullPathName().toStdString());
    } catch (const log::BookRefused& refusal) {
        throw files::InputError(log::bookPlace(place.getFullPathName().toStdString())
                                + " cannot be written into: " + refusal.what());
    }
    if (place.exists() && (place.isDirectory() || place.getSize() > 0))
        log::BookReader(place.getFullPathName().toStdString()).cuts();
}

/// The set-up wants a second head that is not there.
bool lacksPreview(const plugin::Report& report) {
    constexpr int secondHead = 2;
    return report.setup.live.preview_from == secondHead && report.status.serial != 0
           && !report.status.previewOutside;
}

/// Where nothing has been prepared yet, the service knows no rate and has found no problems.
constexpr double rateToCheckAt_hz = 48000;

} // namespace

ProcessorAccess::ProcessorAccess(plugin::Processor& p, const std::string& madeBy)
    : processor(p), book(newBook(p, madeBy)) {
    addFields(cut::settingsTable(), [](const auto&) { return false; });
    addFields(plugin::liveTable(), plugin::isRidden);
}

/// Every row of a table is a parameter under its key.
template <typename Table, typename IsRidden>
void ProcessorAccess::addFields(const Table& table, IsRidden isRidden) {
    for (const auto& setting : table) {
        const juce::String key(setting.key.data(), setting.key.size());
        for (auto* each : processor.getParameters())
            if (auto* parameter = dynamic_cast<plugin::SettingParameter*>(each);
                parameter != nullptr && parameter->paramID == key)
                fields_.push_back({&values.emplace_back(*parameter), setting.key, setting.label, setting.unit,
                                   setting.does, setting.reason, setting.least, setting.greatest,
                                   setting.isWhole(), setting.isPitch(), isRidden(setting)});
    }
}

editor::Glimpse ProcessorAccess::look() {
    processor.settleRides();
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
    if (!report.journalTrouble.empty())
        glimpse.troubles.push_back(report.journalTrouble);
    for (const auto& caution : {report.tellTrouble, processor.stateProblem()})
        if (!caution.empty())
            glimpse.cautions.push_back(caution);
    if (!processor.ridesEnded().empty())
        glimpse.notices.push_back(processor.ridesEnded());
    if (lacksPreview(report))
        glimpse.cautions.push_back("The second head is to make the preview, but the host gives no second "
                                   "input: connect one, or set Preview from to "
                                   "the processor's own delay, which makes it meanwhile.");
    if (report.status.previewOutside && report.setup.cut.preview_tolerance_s == 0)
        glimpse.notices.push_back(
            "A second head makes the preview, and its Preview tolerance is 0: set how far the "
            "delay may be off, about 5 ms for a tape path, or grooves may meet unforeseen.");
    glimpse.summary = book.summary();
    if (const auto end = book.lastEnd()) {
        glimpse.lastEnd = log::describe(*end);
        glimpse.lastEndIsFault = log::isFault(*end);
    }
    glimpse.log = book.logState();
    glimpse.listening = {report.rehearsal.isListening, report.rehearsal.heard_s, report.rehearsal.length_s,
                         report.rehearsal.why};
    return glimpse;
}

editor::Access::Refusal ProcessorAccess::listen(bool wanted) {
    auto& service = processor.service();
    if (!wanted) {
        service.rehearsal().stopListening();
        return {};
    }
    const auto status = service.report().status;
    if (status.serial == 0)
        return "Nothing comes in yet: start the host's sound or choose a sound device, then listen.";
    if (status.state != cut::State::up || status.lowering)
        return "The stylus is down; lift it, and listen while the tape runs without it.";
    service.rehearsal().listen();
    return {};
}

std::vector<std::string> ProcessorAccess::presetNames() {
    return files::builtInPresetNames();
}

editor::Access::Refusal ProcessorAccess::loadPreset(const std::string& nameOrFile) {
    try {
        return text::joined(processor.loadPreset(nameOrFile));
    } catch (const std::exception& problem) {
        return problem.what();
    }
}

editor::Access::Refusal ProcessorAccess::savePreset(const std::string& file) {
    try {
        const juce::File place(juce::String::fromUTF8(file.c_str()));
        files::writePreset(file, processor.state().cut, place.getFileNameWithoutExtension().toStdString(),
                           "Saved in Headland's window.", keptFiles());
        return {};
    } catch (const std::exception& problem) {
        return problem.what();
    }
}

/// The program that was cut last, the book, and the programs it names; of a book that cannot be read nobody knows them.
files::KeptFiles ProcessorAccess::keptFiles() {
    files::KeptFiles kept;
    if (const auto program = book.programPath(); !program.empty())
        kept.add(program, "the program");
    const auto path = processor.state().book.path;
    if (path.empty())
        return kept;
    kept.addBook(path, "the book");
    try {
        for (const auto& program : log::BookReader(path).programs())
            kept.add(program, "a program that the book names");
    } catch (const files::InputError&) { // not begun yet, or moved away
    }
    return kept;
}

editor::Access::Refusal ProcessorAccess::logInto(const std::string& path) {
    try {
        checkBook(juce::File(juce::String::fromUTF8(path.c_str())));
    } catch (const std::exception& problem) {
        return problem.what();
    }
    choose({path, processor.state().book.side});
    return {};
}

editor::Access::Refusal ProcessorAccess::nameSide(const log::SideName& side) {
    if (log::isBlank(side.job))
        return "The job has no name; write what the record is called.";
    if (log::isBlank(side.side))
        return "The side has no name; write a letter, or what it is called.";
    choose({processor.state().book.path, side});
    return {};
}

void ProcessorAccess::choose(const plugin::BookChoice& wanted) {
    processor.chooseBook(wanted);
    // The host is to save it with its session.
    processor.updateHostDisplay(juce::AudioProcessor::ChangeDetails().withNonParameterStateChanged(true));
}

editor::Access::Refusal ProcessorAccess::note(const editor::NotePlace& place, const std::string& text) {
    if (processor.service().note(place.cut, {place.time_s, text, log::utcNow()}))
        return {};
    return "The note is not kept: its cut is over and another has begun, or it is in no book. Write it with "
           "'headland "
           "note'.";
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
    *access = std::make_unique<ProcessorAccess>(*processor, "processor");
    return processor;
}

} // namespace headland::assembly
