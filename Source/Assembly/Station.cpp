// SPDX-License-Identifier: GPL-3.0-or-later
#include "Assembly/Station.h"

#include "Assembly/SoundPanel.h"
#include "Editor/Window.h"
#include "Text/Times.h"

namespace headland::assembly {

namespace {

constexpr int fileLooksPerSecond = 20; ///< whether the file has been cut
constexpr int channels = 4; ///< in: program and preview, out: program and control, as far as there are any
constexpr int recentMost = 12;
constexpr std::chrono::seconds bookPatience{1}; ///< with a book, before it is said to wait

using Texts = std::map<std::string, std::string>;
constexpr auto deviceTag = "DEVICESETUP", midiTag = "MIDIINPUT"; ///< as JUCE's device manager has them

/// What the device manager has chosen is a flat list of attributes.
void readDevice(const juce::XmlElement& chosen, KeptChoices& choices) {
    for (int i = 0; i < chosen.getNumAttributes(); ++i)
        choices.device[chosen.getAttributeName(i).toStdString()] = chosen.getAttributeValue(i).toStdString();
    for (const auto* input : chosen.getChildWithTagNameIterator(midiTag))
        choices.midi[input->getStringAttribute("identifier").toStdString()] =
            input->getStringAttribute("name").toStdString();
}

std::unique_ptr<juce::XmlElement> deviceOf(const KeptChoices& choices) {
    if (choices.device.empty())
        return nullptr;
    auto chosen = std::make_unique<juce::XmlElement>(deviceTag);
    for (const auto& [name, value] : choices.device)
        if (juce::XmlElement::isValidXmlName(editor::toJuce(name)))
            chosen->setAttribute(editor::toJuce(name), editor::toJuce(value));
    for (const auto& [identifier, name] : choices.midi) {
        auto* input = chosen->createNewChildElement(midiTag);
        input->setAttribute("identifier", editor::toJuce(identifier));
        input->setAttribute("name", editor::toJuce(name));
    }
    return chosen;
}

} // namespace

Station::Station(const juce::File& place, bool withDevice)
    : settings(place.getFullPathName().toStdString()),
      made(std::make_unique<plugin::Processor>([this](plugin::Processor& shown) {
          return static_cast<juce::AudioProcessorEditor*>(new editor::Window(shown, desk));
      })) {
    restore();
    if (withDevice) {
        deviceTrouble =
            devices.initialise(channels, channels, deviceOf(settings.choices()).get(), true).toStdString();
        devices.addAudioCallback(&feed);
        devices.addMidiInputDeviceCallback({}, &feed);
    }
}

Station::~Station() {
    cutting.reset();
    devices.removeMidiInputDeviceCallback({}, &feed);
    devices.removeAudioCallback(&feed);
}

void Station::restore() {
    const auto& kept = settings.choices();
    if (!kept.state.empty())
        made->setStateInformation(kept.state.data(), static_cast<int>(kept.state.size()));
    recent.setMaxNumberOfItems(recentMost);
    for (auto path = kept.programs.rbegin(); path != kept.programs.rend(); ++path)
        if (juce::File::isAbsolutePath(editor::toJuce(*path)))
            recent.addFile(juce::File(editor::toJuce(*path)));
    for (const auto* kind : editor::Access::fileKinds)
        if (const auto folder = kept.folders.find(kind); folder != kept.folders.end())
            desk.folderOf(kind) = folder->second;
}

/// A file that is there no more is forgotten.
std::vector<std::string> Station::Desk::recentFiles() {
    station.recent.removeNonExistentFiles();
    std::vector<std::string> all;
    for (const auto& path : station.recent.getAllFilenames())
        all.push_back(path.toStdString());
    return all;
}

/// What is held goes on: a cue is heeded with the next block.
void Station::Desk::cue(cut::Cue cue) {
    ProcessorAccess::cue(cue);
    station.pause(false);
}

void Station::setSpeed(double speed) {
    file.speed = speed;
    if (cutting)
        cutting->setSpeed(speed);
}

void Station::pause(bool wanted) {
    if (cutting)
        cutting->pause(wanted);
}

void Station::holdAt(double time_s) {
    if (cutting)
        cutting->pauseAt(time_s);
}

/// Not while a file is cut: what is cut then is what was rehearsed, and the processor is busy.
void Station::rehearse(const editor::Glimpse& glimpse) {
    if (cutting)
        return;
    if (glimpse.problems.empty())
        rehearsal.wish(file.path, processor().state().cut);
    else
        rehearsal.hold(file.path);
}

void Station::keep() {
    KeptChoices choices;
    juce::MemoryBlock state;
    made->getStateInformation(state);
    choices.state = state.toString().toStdString();
    for (const auto& path : recent.getAllFilenames())
        choices.programs.push_back(path.toStdString());
    for (const auto* kind : editor::Access::fileKinds)
        choices.folders[kind] = desk.folderOf(kind);
    if (const auto device = devices.createStateXml())
        readDevice(*device, choices);
    else { // nothing was chosen this time
        choices.device = settings.choices().device;
        choices.midi = settings.choices().midi;
    }
    settings.write(choices);
}

Station::Obstacle Station::obstacle() const {
    const auto status = made->service().report().status;
    if (status.state != cut::State::up || status.lowering)
        return Obstacle::stylusIsDown;
    return desk.missing().empty() ? Obstacle::none : Obstacle::bookWaits;
}

bool Station::mayQuit() {
    if (obstacle() == Obstacle::bookWaits)
        finishBook(bookPatience);
    const auto now = obstacle();
    const auto mayQuit = now == Obstacle::none || now == answered;
    answered = now;
    return mayQuit;
}

std::string Station::finishBook(std::chrono::milliseconds atMost) {
    made->service().step(); // what the audio thread has left behind
    const auto until = std::chrono::steady_clock::now() + atMost;
    while (!desk.missing().empty() && std::chrono::steady_clock::now() < until)
        juce::Thread::sleep(10);
    made->service().step(); // and how the book has fared with it
    return desk.missing();
}

std::string Station::openFile(const std::string& path) {
    if (cutting)
        return "A file is being cut; stop that before you open another.";
    try {
        const auto opened = files::ProgramFile::open(path);
        const auto facts = files::factsOf(opened, path);
        const auto speed = file.speed;
        made->endRides("a program has been opened");
        file = {};
        file.path = path;
        file.about = files::describe(facts) + ", " + text::sideLength(facts.length_s);
        file.speed = speed;
        recent.addFile(
            juce::File::getCurrentWorkingDirectory().getChildFile(juce::String::fromUTF8(path.c_str())));
        keep();
        return {};
    } catch (const std::exception& problem) {
        return problem.what();
    }
}

std::string Station::cutFile(double speed) {
    if (file.path.empty())
        return "No program is open; open one and cut that.";
    if (cutting)
        return "A file is being cut already.";
    file.failure.clear();
    file.speed = speed;
    feed.silence();
    try {
        cutting.emplace(*made, file.path, speed, rehearsal.result().program);
    } catch (const std::exception& problem) {
        feed.resume();
        return problem.what();
    }
    startTimerHz(fileLooksPerSecond);
    return {};
}

void Station::endCut() {
    stopTimer();
    if (!cutting)
        return;
    file.fraction = cutting->fraction();
    file.failure = cutting->isDone() ? cutting->failure() : std::string();
    cutting.reset();
    feed.resume();
}

void Station::poll() {
    if (!cutting || !cutting->isDone())
        return;
    endCut();
    if (onCutEnd)
        onCutEnd(file.failure);
}

std::string Station::answer() const {
    switch (answered) {
    case Obstacle::none:
        return {};
    case Obstacle::stylusIsDown:
        return "The stylus is down: lift it before you quit, or close the window once more, which lifts it.";
    case Obstacle::bookWaits:
        return desk.missing() + " Close the window once more to quit all the same, which loses it.";
    }
    return {};
}

editor::Glimpse Station::Desk::look() {
    auto glimpse = ProcessorAccess::look();
    const auto* device = station.devices.getCurrentAudioDevice();
    const auto isCutting = station.cutting.has_value();
    glimpse.isFed = isCutting || device != nullptr;
    glimpse.file = station.file;
    glimpse.file.running = isCutting;
    if (isCutting) {
        glimpse.file.fraction = station.cutting->fraction();
        glimpse.file.paused = station.cutting->isPaused();
    }
    for (const auto& trouble : station.settings.troubles())
        glimpse.troubles.push_back(trouble);
    station.rehearse(glimpse);
    glimpse.file.rehearsing = station.rehearsal.fraction();
    const auto rehearsed = station.rehearsal.result();
    glimpse.file.rehearsed = rehearsed.verdict;
    glimpse.file.rehearsedIsScrap = rehearsed.isScrap;
    glimpse.file.rehearsedIsOld = rehearsed.isOld;
    if (station.obstacle() != station.answered)
        station.answered = Obstacle::none;
    if (const auto words = station.answer(); !words.empty())
        (station.answered == Obstacle::bookWaits ? glimpse.troubles : glimpse.cautions).push_back(words);
    if (device == nullptr)
        glimpse.notices.push_back(
            "There is no sound device"
            + (station.deviceTrouble.empty() ? std::string() : " (" + station.deviceTrouble + ")")
            + ": program files can be cut all the same.");
    return glimpse;
}

files::KeptFiles Station::Desk::keptFiles() {
    auto kept = ProcessorAccess::keptFiles();
    if (!station.file.path.empty())
        kept.add(station.file.path, "the program");
    kept.add(station.settings.place().string(), "the file of the program's settings");
    return kept;
}

/// What is chosen is there again even if the program never ends as it should.
editor::Access::Refusal Station::Desk::kept(const Refusal& refusal) {
    if (refusal.empty())
        station.keep();
    return refusal;
}

editor::Access::Refusal Station::Desk::logInto(const std::string& path) {
    const auto refusal = ProcessorAccess::logInto(path);
    if (refusal.empty())
        station.settings.answer();
    return kept(refusal);
}

std::unique_ptr<juce::Component> Station::Desk::makeDeviceChooser() {
    return std::make_unique<SoundPanel>(station.devices, [this] { station.keep(); });
}

} // namespace headland::assembly
