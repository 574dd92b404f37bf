// SPDX-License-Identifier: GPL-3.0-or-later
// The standalone program: its command line, its window, and how it ends. Main thread.
#pragma once

#include "Assembly/Station.h"

#include <optional>
#include <string>
#include <vector>

namespace headland::assembly {

/// What the command line asks for.
struct Wishes {
    std::string program;                        ///< file; empty: none
    std::optional<std::string> book, job, side; ///< none: that of the last time
    std::string settingsFile;                   ///< empty: the person's own
    std::vector<std::string> presets;           ///< names or files, put over the set-up in this order
    bool cut = false;                           ///< at once
    bool realTime = false;                      ///< instead of as fast as possible
    std::optional<double> holdAt_s;             ///< program time at which the cut is held
    std::optional<std::int64_t> review;         ///< number of the cut in the book that is shown
    std::optional<double> lookAt_s;             ///< program time that is looked at
    std::string page = "stylus";                ///< of the window
    bool inch = false;                          ///< lengths in mil and in
    bool quit = false;                          ///< when that has been done
    std::string picture;       ///< file for a picture of the window when that has been done; empty: none
    int width = 0, height = 0; ///< of the window; 0: as it likes
};

class Application final : public juce::JUCEApplication, private juce::Timer {
public:
    Application();
    ~Application() override;

    const juce::String getApplicationName() override { return "Headland"; }
    const juce::String getApplicationVersion() override;
    bool moreThanOneInstanceAllowed() override { return true; }

    void initialise(const juce::String&) override;
    void shutdown() override;
    void systemRequestedQuit() override;

private:
    class Frame;

    bool begin();
    std::string prepare();
    std::string show();
    bool isDone() const;
    void finish();
    void timerCallback() override;
    void fail(const std::string& sentence);

    Wishes wishes;
    int looks = 0; ///< since all has been done
    std::unique_ptr<Station> station;
    std::unique_ptr<Frame> frame;
};

} // namespace headland::assembly
