// SPDX-License-Identifier: GPL-3.0-or-later
// What the window costs: a side is cut in real time in a window of 1600 x 1000, and what the main thread takes of a core and
// how often the picture is drawn are measured; then the same with the window hidden. Needs a display, such as Xvfb's; the
// display's own work is not in it. Exit code 1 when a bound is broken.
// Run: window_benchmark program.wav

#include "Assembly/Station.h"
#include "Editor/Window.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <cstdio>
#include <ctime>
#include <functional>
#include <memory>

namespace {

using namespace headland;

constexpr int width = 1600, height = 1000;
constexpr double framesLeast = 30, coreGreatest = 0.25, hiddenGreatest = 0.02;
constexpr double begin_s = 120; ///< of program that is cut before anything is measured, as fast as possible
constexpr int settle_ms = 3000, measure_ms = 15000, hidden_ms = 5000;

double seconds(clockid_t clock) {
    timespec now{};
    clock_gettime(clock, &now);
    return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

/// Lies over the window and is painted whenever anything below it is.
class PaintCounter final : public juce::Component {
public:
    PaintCounter() { setInterceptsMouseClicks(false, false); }
    void paint(juce::Graphics&) override { ++paints; }
    int paints = 0;
};

class WindowBenchmark final : public juce::JUCEApplication, private juce::Timer {
public:
    const juce::String getApplicationName() override { return "Headland window benchmark"; }
    const juce::String getApplicationVersion() override { return "1"; }

    void initialise(const juce::String& program) override {
        station = std::make_unique<assembly::Station>(settings.getFile(), false);
        window = std::make_unique<juce::DocumentWindow>("Headland", juce::Colours::black,
                                                        juce::DocumentWindow::allButtons);
        window->setUsingNativeTitleBar(true);
        window->setContentOwned(station->processor().createEditorIfNeeded(), true);
        window->setTopLeftPosition(0, 0);
        window->getContentComponent()->setSize(width, height);
        window->setVisible(true);
        counter.setBounds(0, 0, width, height);
        window->getContentComponent()->addAndMakeVisible(counter);
        auto& access = station->access();
        if (const auto refusal = access.openFile(program.unquoted().toStdString()); !refusal.empty())
            return fail(refusal);
        if (const auto refusal = access.cutFile(0); !refusal.empty())
            return fail(refusal);
        station->holdAt(begin_s);
        next = [this] { goOn(); };
        startTimer(100);
    }
    void shutdown() override {
        window.reset();
        station.reset();
    }

private:
    struct Sample {
        double thread_s, process_s, wall_s;
        int paints;
    };
    Sample sample() const {
        return {seconds(CLOCK_THREAD_CPUTIME_ID), seconds(CLOCK_PROCESS_CPUTIME_ID), seconds(CLOCK_MONOTONIC),
                counter.paints};
    }

    void timerCallback() override { next(); }

    void after(int wait_ms, std::function<void()> what) {
        next = std::move(what);
        startTimer(wait_ms);
    }

    void goOn() {
        if (!station->isHeld())
            return;
        station->access().setFileSpeed(1);
        station->access().pauseFile(false);
        after(settle_ms, [this] {
            start = sample();
            after(measure_ms, [this] { seen(); });
        });
    }

    void seen() {
        report("1600 x 1000, cutting in real time");
        const auto end = sample();
        if (perSecond(end) < framesLeast || share(end) > coreGreatest)
            isBroken = true;
        window->setVisible(false);
        after(settle_ms, [this] {
            start = sample();
            after(hidden_ms, [this] { hidden(); });
        });
    }

    void hidden() {
        report("hidden, cutting in real time");
        const auto end = sample();
        if (end.paints != start.paints || share(end) > hiddenGreatest)
            isBroken = true;
        station->access().stopFile();
        setApplicationReturnValue(isBroken ? 1 : 0);
        quit();
    }

    double perSecond(const Sample& end) const {
        return (end.paints - start.paints) / (end.wall_s - start.wall_s);
    }
    double share(const Sample& end) const {
        return (end.thread_s - start.thread_s) / (end.wall_s - start.wall_s);
    }

    void report(const char* what) const {
        const auto end = sample();
        std::printf("%s: %.1f pictures a second, main thread %.1f %% of a core, whole process %.1f %%\n",
                    what, perSecond(end), 100 * share(end),
                    100 * (end.process_s - start.process_s) / (end.wall_s - start.wall_s));
        std::fflush(stdout);
    }

    void fail(const std::string& sentence) {
        std::fprintf(stderr, "window_benchmark: %s\n", sentence.c_str());
        setApplicationReturnValue(2);
        quit();
    }

    juce::TemporaryFile settings{".settings"};
    std::unique_ptr<assembly::Station> station;
    std::unique_ptr<juce::DocumentWindow> window;
    PaintCounter counter;
    std::function<void()> next;
    Sample start{};
    bool isBroken = false;
};

} // namespace

START_JUCE_APPLICATION(WindowBenchmark)
