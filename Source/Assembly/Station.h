// SPDX-License-Identifier: GPL-3.0-or-later
// The processor on its own: with a sound device it is live, and without one it cuts program files. What is chosen (set-up,
// book, device) is kept in a file of settings and is there again the next time.
// Main thread.
#pragma once

#include "Assembly/DeviceFeed.h"
#include "Assembly/KeptChoices.h"
#include "Assembly/ProcessorAccess.h"
#include "Assembly/Rehearsal.h"
#include "Plugin/FileCut.h"

#include <juce_audio_devices/juce_audio_devices.h>
#include <juce_gui_extra/juce_gui_extra.h>

#include <chrono>
#include <optional>

namespace headland::assembly {

class Station final : private juce::Timer {
public:
    /// `settings`: where what is chosen is kept. `withDevice`: looks for a sound device.
    Station(const juce::File& settings, bool withDevice);
    ~Station() override;

    editor::Access& access() noexcept { return desk; }
    plugin::Processor& processor() noexcept { return *made; }
    /// What no file that is written may take the place of.
    files::KeptFiles keptFiles() { return desk.keptFiles(); }
    /// Writes down what is chosen.
    void keep();

    /// Whether the program may end now. With the stylus down, or while something of a cut waits for its book, the first
    /// wish is only answered in words, in the window.
    bool mayQuit();
    /// Waits until every cut that has ended is in its book, at most that long; what is not, one sentence, or nothing.
    std::string finishBook(std::chrono::milliseconds atMost);
    /// A file is being cut.
    bool isCutting() const noexcept { return cutting.has_value(); }
    /// It is, and is held.
    bool isHeld() const noexcept { return cutting && cutting->isPaused(); }
    /// Holds the cut of the file when the stylus is at that program time.
    void holdAt(double time_s);
    bool isRehearsing() const noexcept { return rehearsal.fraction() < 1; }
    /// What the timer does: gives the processor back when the file has been cut.
    void poll();
    /// Called when a file's cut has ended by itself, with what went wrong or nothing.
    std::function<void(const std::string&)> onCutEnd;

private:
    /// The window's way to what a processor alone does not have.
    class Desk final : public ProcessorAccess {
    public:
        explicit Desk(Station& station) : ProcessorAccess(*station.made, "standalone"), station(station) {}
        editor::Glimpse look() override;
        Refusal logInto(const std::string& path) override;
        Refusal nameSide(const log::SideName& side) override { return kept(ProcessorAccess::nameSide(side)); }
        bool cutsFiles() const override { return true; }
        files::KeptFiles keptFiles() override;
        Refusal openFile(const std::string& path) override { return station.openFile(path); }
        Refusal cutFile(double speed) override { return station.cutFile(speed); }
        void stopFile() override { station.endCut(); }
        void setFileSpeed(double speed) override { station.setSpeed(speed); }
        void pauseFile(bool wanted) override { station.pause(wanted); }
        std::vector<std::string> recentFiles() override;
        std::shared_ptr<const editor::SideHistory> rehearsal() override {
            return station.rehearsal.result().side;
        }
        void cue(cut::Cue cue) override;
        std::unique_ptr<juce::Component> makeDeviceChooser() override;

        std::string missing() const { return book.missing(); }

    private:
        Refusal kept(const Refusal& refusal);

        Station& station;
    };

    /// Why the program should not end now.
    enum class Obstacle { none, stylusIsDown, bookWaits };

    Obstacle obstacle() const;
    std::string answer() const;

    std::string openFile(const std::string& path);
    std::string cutFile(double speed);
    void setSpeed(double speed);
    void pause(bool wanted);
    void rehearse(const editor::Glimpse& glimpse);
    void endCut();
    void restore();
    void timerCallback() override { poll(); }

    ChoicesFile settings;
    std::unique_ptr<plugin::Processor> made;
    Desk desk{*this};
    DeviceFeed feed{*made};
    juce::AudioDeviceManager devices;
    std::string deviceTrouble;
    Obstacle answered = Obstacle::none; ///< in words, when somebody wanted to quit
    editor::FileState file;
    std::optional<plugin::FileCut> cutting;
    juce::RecentlyOpenedFilesList recent;
    Rehearsal rehearsal;
};

} // namespace headland::assembly
