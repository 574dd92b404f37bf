// SPDX-License-Identifier: GPL-3.0-or-later
// A desk for tests: what is behind it is made up, and everything it asks for is kept. No display is needed.
#pragma once

#include "Editor/Window.h"
#include "Tests/Editor/KeptParameter.h"
#include "Tests/Editor/StagedCut.h"

#include <memory>
#include <string>
#include <vector>

namespace headland::test {

/// A processor with three parameters that are ridden and two that are not.
class QuietProcessor final : public juce::AudioProcessor {
public:
    QuietProcessor() {
        const auto add = [this](const char* key, const char* label, double least, double greatest,
                                double value) {
            addParameter(new KeptParameter(key, label, least, greatest, value));
        };
        add("land_add_um", "Land add", 0, 100, 0);
        add("depth_add_um", "Depth add", 0, 60, 0);
        add("level_trim_db", "Level trim", -24, 12, 0);
        add("land_min_um", "Least land", 0, 200, 12);
        add("osc_on", "OSC", 0, 1, 0);
    }
    const juce::String getName() const override { return "Quiet"; }
    void prepareToPlay(double, int) override {}
    void releaseResources() override {}
    void processBlock(juce::AudioBuffer<float>&, juce::MidiBuffer&) override {}
    using AudioProcessor::processBlock;
    double getTailLengthSeconds() const override { return 0; }
    bool acceptsMidi() const override { return false; }
    bool producesMidi() const override { return false; }
    juce::AudioProcessorEditor* createEditor() override { return nullptr; }
    bool hasEditor() const override { return false; }
    int getNumPrograms() override { return 1; }
    int getCurrentProgram() override { return 0; }
    void setCurrentProgram(int) override {}
    const juce::String getProgramName(int) override { return {}; }
    void changeProgramName(int, const juce::String&) override {}
    void getStateInformation(juce::MemoryBlock&) override {}
    void setStateInformation(const void*, int) override {}

    double value(int index) const { return kept(*this, index).get(); }
};

class KeepingAccess final : public editor::Access {
public:
    explicit KeepingAccess(juce::AudioProcessor& p, bool files = true) : processor(p), files(files) {}

    editor::Glimpse glimpse;
    int looks = 0;
    std::vector<cut::Cue> cues;
    int marks = 0;                 ///< where the stylus is
    std::vector<double> marksAt_s; ///< where it was when a key was pressed
    std::vector<std::pair<editor::NotePlace, std::string>> notes;
    std::vector<std::string> deeds; ///< "open side.wav", "cut 0", "stop"
    std::string refusal;            ///< of every deed
    /// What the views are fed from; none: nothing has been cut.
    StagedCut* staged = nullptr;
    std::shared_ptr<const editor::SideHistory> rehearsed;
    std::vector<std::string> recent;

    editor::Glimpse look() override {
        ++looks;
        return glimpse;
    }
    editor::CutNews news(std::uint32_t cut, std::size_t seen) override {
        return staged == nullptr ? editor::CutNews() : staged->news(cut, seen);
    }
    bool foresee(plan::Foresight& coming) override { return staged != nullptr && staged->foresee(coming); }
    std::optional<cut::GroovePatch> grooveAtStylus(double halfLength_mm) override {
        return staged == nullptr ? std::nullopt : staged->view().atStylus(halfLength_mm);
    }
    std::optional<cut::GroovePatch> grooveKept(double time_s, double within_s) override {
        return staged == nullptr ? std::nullopt : staged->view().keptNear(time_s, within_s);
    }
    std::shared_ptr<const editor::SideHistory> rehearsal() override { return rehearsed; }
    std::vector<std::string> recentFiles() override { return recent; }
    void setFileSpeed(double speed) override { keep("speed " + juce::String(speed).toStdString()); }
    void pauseFile(bool wanted) override { keep(wanted ? "hold" : "go on"); }
    std::vector<editor::Field> fields() override {
        const auto all = [this](int index) { return &kept(processor, index); };
        return {{all(0), "land_add_um", "Land add", "µm", "More land.", "None.", 0, 100, false, false, true},
                {all(1), "depth_add_um", "Depth add", "µm", "Deeper.", "None.", 0, 60, false, false, true},
                {all(2), "level_trim_db", "Level trim", "dB", "Level.", "None.", -24, 12, false, false, true},
                {all(3), "land_min_um", "Least land", "µm", "Land.", "None.", 0, 200, false, false, false},
                {all(4), "osc_on", "OSC", "", "Sends.", "None.", 0, 1, true, false, false}};
    }
    std::string address = "127.0.0.1";
    std::string oscHost() override { return address; }
    Refusal sendOscTo(const std::string& host) override {
        if (refusal.empty())
            address = host;
        return refusal;
    }
    void cue(cut::Cue cue) override { cues.push_back(cue); }
    std::vector<std::string> presetNames() override { return {"30cm-33"}; }
    Refusal loadPreset(const std::string& name) override { return keep("load " + name); }
    Refusal savePreset(const std::string& file) override { return keep("save " + file); }
    Refusal logInto(const std::string& book) override { return keep("log " + book); }
    Refusal nameSide(const log::SideName& side) override {
        if (refusal.empty())
            glimpse.log.chosen.side = side;
        return keep("name " + side.job + ", " + side.side);
    }
    Refusal listen(bool wanted) override { return keep(wanted ? "listen" : "end listening"); }
    void mark() override { ++marks; }
    Refusal note(const editor::NotePlace& place, const std::string& text) override {
        if (refusal.empty() && text.empty())
            marksAt_s.push_back(place.time_s);
        else if (refusal.empty())
            notes.push_back({place, text});
        return refusal;
    }
    bool cutsFiles() const override { return files; }
    bool hasDevices = false;
    std::unique_ptr<juce::Component> makeDeviceChooser() override {
        if (!hasDevices)
            return nullptr;
        auto panel = std::make_unique<juce::Component>();
        auto* part = new juce::TextButton("Part");
        part->setComponentID("sound part");
        panel->addAndMakeVisible(part);
        owned.emplace_back(part);
        return panel;
    }
    Refusal openFile(const std::string& path) override { return keep("open " + path); }
    Refusal cutFile(double speed) override { return keep("cut " + juce::String(speed).toStdString()); }
    void stopFile() override { keep("stop"); }

private:
    Refusal keep(const std::string& deed) {
        deeds.push_back(deed);
        return refusal;
    }
    juce::AudioProcessor& processor;
    bool files;
    std::vector<std::unique_ptr<juce::Component>> owned;
};

/// A frame in mid-side, with figures that are easy to find again.
inline cut::CutFrame frameInMidSide() {
    cut::CutFrame frame{};
    frame.time_s = 754;
    frame.turn = 419;
    frame.radius_mm = 111.25;
    frame.pitch_um = 101.6;
    frame.depth_um = 31.5;
    frame.landMin_um = 14.2;
    frame.peak_dbfs = -9.3;
    frame.estimate = {35, 50.9, 0, 0, 21.5, 152.4, 3.6, disc::EstimateGrade::lengthKnown};
    frame.state = cut::State::program;
    return frame;
}

/// Cutting, nothing wrong.
inline editor::Glimpse midSide() {
    editor::Glimpse glimpse;
    glimpse.isFed = true;
    glimpse.status.state = cut::State::program;
    glimpse.status.previewFull = true;
    glimpse.status.cuts = 1;
    glimpse.status.serial = 1;
    glimpse.status.frame = frameInMidSide();
    return glimpse;
}

/// The same, logged as cut 3 of a book.
inline editor::Glimpse loggedMidSide() {
    auto glimpse = midSide();
    glimpse.log.chosen = glimpse.log.current = {"/books/lantern.headland", {"Lantern Sessions", "A"}};
    glimpse.log.cut = 3;
    return glimpse;
}

inline bool samePicture(const juce::Image& a, const juce::Image& b) {
    if (a.getBounds() != b.getBounds())
        return false;
    for (int y = 0; y < a.getHeight(); ++y)
        for (int x = 0; x < a.getWidth(); ++x)
            if (a.getPixelAt(x, y) != b.getPixelAt(x, y))
                return false;
    return true;
}

/// A desk of a size, and what stands behind it.
struct DeskRig {
    explicit DeskRig(bool files = true, int width = 900, int height = 600) : access(processor, files) {
        window = std::make_unique<editor::Window>(processor, access);
        window->setSize(width, height);
        keepTime();
    }
    /// Key presses have the time of the rig.
    void keepTime() {
        desk().keepTimeBy([this] { return now_ms; });
    }
    /// Time passes, and the window looks.
    void wait(double ms) {
        now_ms += ms;
        desk().refresh();
    }
    /// One press of a key, and then nothing for longer than a hand that types needs. A capital letter: with Shift.
    bool press(const juce::KeyPress& key) {
        const auto isTaken = desk().keyPressed(key);
        desk().keyStateChanged(false);
        wait(editor::Keystrokes::alone_ms + 1);
        return isTaken;
    }
    bool press(char key) { return press(keyOf(key)); }
    static juce::KeyPress keyOf(char key) {
        const auto isCapital = key >= 'A' && key <= 'Z';
        return {key, isCapital ? juce::ModifierKeys::shiftModifier : juce::ModifierKeys::noModifiers,
                static_cast<juce::juce_wchar>(key)};
    }
    /// A text with nothing that takes it, a key each `each_ms`.
    void type(const std::string& text, double each_ms) {
        for (const auto key : text) {
            desk().keyPressed(keyOf(key));
            desk().keyStateChanged(false);
            wait(each_ms);
        }
    }
    editor::Desk& desk() { return window->desk(); }
    void show(const editor::Glimpse& glimpse) {
        access.glimpse = glimpse;
        desk().showIn(glimpse.units);
    }
    template <typename Part>
    Part& part(const juce::String& id) {
        return *dynamic_cast<Part*>(find(desk(), id));
    }
    juce::Image picture() { return window->createComponentSnapshot(window->getLocalBounds(), true, 1.0f); }

    juce::ScopedJuceInitialiser_GUI juceIsUp;
    double now_ms = 1e6;
    QuietProcessor processor;
    KeepingAccess access;
    std::unique_ptr<editor::Window> window;

    static juce::Component* find(juce::Component& in, const juce::String& id) {
        if (in.getComponentID() == id)
            return &in;
        for (auto* child : in.getChildren())
            if (auto* found = find(*child, id))
                return found;
        return nullptr;
    }
};

} // namespace headland::test
