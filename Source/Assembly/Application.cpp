// SPDX-License-Identifier: GPL-3.0-or-later
#include "Assembly/Application.h"

#include "Editor/Window.h"
#include "Files/Caution.h"
#include "Files/Errors.h"
#include "Files/OutputFileStream.h"
#include "Text/Safe.h"
#include "Text/Times.h"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <iostream>
#include <utility>

namespace headland::assembly {

namespace {

constexpr int looksPerSecond = 20;           ///< whether what was asked for has been done
constexpr int badInput = 2;                  ///< exit code, as the command-line tool's
constexpr std::chrono::seconds patience{10}; ///< with a book that does not get on, as the tool's

juce::File ownSettings() {
    return juce::File::getSpecialLocation(juce::File::userApplicationDataDirectory)
        .getChildFile("Headland")
        .getChildFile("Headland.settings");
}

/// A file or folder as it was named on the command line.
juce::File named(const std::string& path) {
    return juce::File::getCurrentWorkingDirectory().getChildFile(juce::String::fromUTF8(path.c_str()));
}

/// Throws CLI::ValidationError.
double readTime(const std::string& text) {
    const auto time_s = text::timeFromText(text);
    if (!time_s)
        throw CLI::ValidationError("'" + text + "' is no time; write seconds or m:ss, such as 96 or 1:36.");
    return *time_s;
}

std::vector<std::string> pageWords() {
    return {"stylus", "set-up", "preview", "book"};
}

/// What the command line names and neither the picture nor the settings may take the place of.
files::KeptFiles namedFiles(const Wishes& wishes) {
    const auto path = [](const std::string& name) { return named(name).getFullPathName().toStdString(); };
    files::KeptFiles kept;
    if (!wishes.program.empty())
        kept.add(path(wishes.program), "the program");
    for (const auto& preset : wishes.presets)
        kept.add(path(preset), "the preset");
    if (wishes.book)
        kept.addBook(path(*wishes.book), "the book");
    return kept;
}

/// The same for the picture, with what the station has open.
files::KeptFiles keptFiles(const Wishes& wishes, Station& station) {
    auto kept = station.keptFiles();
    for (const auto& preset : wishes.presets)
        kept.add(named(preset).getFullPathName().toStdString(), "the preset");
    return kept;
}

/// Why something of what the command line names would be written over, one sentence, or nothing.
std::string clash(const Wishes& wishes) {
    auto kept = namedFiles(wishes);
    const auto taken = [&kept](const std::string& option, const juce::File& file) {
        const auto role = kept.roleAt(file.getFullPathName().toStdString());
        return role.empty() ? std::string()
                            : option + " names the same file as " + role + "; name another one.";
    };
    auto problem =
        wishes.settingsFile.empty() ? std::string() : taken("--settings", named(wishes.settingsFile));
    if (problem.empty() && !wishes.picture.empty()) {
        if (!wishes.settingsFile.empty())
            kept.add(named(wishes.settingsFile).getFullPathName().toStdString(), "--settings");
        problem = taken("--picture", named(wishes.picture));
    }
    return problem;
}

void describe(CLI::App& line, Wishes& wishes) {
    line.description("Headland: pitch and depth for cutting a disc, live or from a program file.");
    line.footer(std::string(files::caution));
    line.failure_message([](const CLI::App*, const CLI::Error& error) {
        return text::printable(error.what()) + "\nRun with --help for more information.\n";
    });
    line.add_option("program", wishes.program, "Program file to open (WAV, RF64, W64, AIFF, CAF or FLAC)");
    line.add_flag("--cut", wishes.cut, "Cut the program at once, as fast as possible")->needs("program");
    line.add_flag("--real-time", wishes.realTime, "With --cut: in real time")->needs("--cut");
    line.add_option_function<std::string>(
            "--hold-at", [&wishes](const std::string& text) { wishes.holdAt_s = readTime(text); },
            "With --cut: hold the cut at this program time, seconds or m:ss")
        ->type_name("TIME")
        ->needs("--cut");
    line.add_option("--review", wishes.review, "Show this cut of the book")->type_name("CUT");
    line.add_option_function<std::string>(
            "--look-at", [&wishes](const std::string& text) { wishes.lookAt_s = readTime(text); },
            "Look at this program time of the cut, seconds or m:ss")
        ->type_name("TIME");
    line.add_option("--page", wishes.page, "Page of the window")->check(CLI::IsMember(pageWords()));
    line.add_flag("--inch", wishes.inch, "Lengths in mil and in instead of µm and mm");
    line.add_flag("--quit", wishes.quit,
                  "Quit when all that has been done; exit code 2 when it could not be");
    line.add_option("--picture", wishes.picture, "PNG of the window when all that has been done")
        ->type_name("FILE");
    line.add_option("--preset", wishes.presets, "Preset to put over the set-up, a name or a file")
        ->allow_extra_args(false);
    line.add_option("--book", wishes.book, "Book that every cut is logged into, begun if it is not there")
        ->type_name("FILE");
    line.add_option("--job", wishes.job, "Job that cuts are logged as")->type_name("TITLE");
    line.add_option("--side", wishes.side, "Side of the job that cuts are logged as")->type_name("NAME");
    line.add_option("--settings", wishes.settingsFile,
                    "File that set-up, book and device are kept in, instead of your own");
    line.add_option("--width", wishes.width, "Width of the window")->check(CLI::Range(900, 7200));
    line.add_option("--height", wishes.height, "Height of the window")->check(CLI::Range(600, 4800));
}

} // namespace

/// Holds the editor, and asks the application before it closes.
class Application::Frame final : public juce::DocumentWindow {
public:
    Frame(plugin::Processor& processor, int width, int height)
        : DocumentWindow("Headland", juce::Colours::black, allButtons) {
        setUsingNativeTitleBar(true);
        setContentOwned(processor.createEditorIfNeeded(), true);
        setResizable(true, false);
        setResizeLimits(editor::Window::widthLeast, editor::Window::heightLeast, 8000, 5000);
        centreWithSize(width > 0 ? width : getWidth(), height > 0 ? height : getHeight());
        setVisible(true);
        window().desk().grabKeyboardFocus();
    }
    ~Frame() override { clearContentComponent(); }

    /// A picture of what the window holds; why there is none, one sentence, or nothing.
    std::string drawInto(const juce::File& file, const files::KeptFiles& kept) {
        auto& content = window();
        desk().settleForPicture();
        const auto picture = content.createComponentSnapshot(content.getLocalBounds(), true, 1.0f);
        try {
            files::OutputFile out(file.getFullPathName().toStdString(), kept);
            files::OutputFileStream stream(out);
            juce::PNGImageFormat().writeImageToStream(picture, stream); // what fails, commit() says
            out.commit();
            return {};
        } catch (const files::OutputError& problem) {
            return problem.what();
        }
    }

    editor::Desk& desk() { return window().desk(); }
    /// Says what was refused, in the window.
    void say(const std::string& refusal) { desk().say(editor::Desk::Spot::window, refusal); }

    bool keyPressed(const juce::KeyPress& key) override { return window().keyPressed(key); }

    void closeButtonPressed() override { getInstance()->systemRequestedQuit(); }

private:
    editor::Window& window() { return dynamic_cast<editor::Window&>(*getContentComponent()); }
};

Application::Application() = default;
Application::~Application() = default;

const juce::String Application::getApplicationVersion() {
    return HEADLAND_VERSION;
}

void Application::initialise(const juce::String&) {
    CLI::App line;
    describe(line, wishes);
    auto words = getCommandLineParameterArray();
    std::vector<std::string> reversed; // as CLI11 wants them
    for (auto i = words.size(); --i >= 0;)
        reversed.push_back(words[i].toStdString());
    try {
        line.parse(reversed);
    } catch (const CLI::ParseError& end) {
        setApplicationReturnValue(line.exit(end) == 0 ? 0 : badInput);
        return quit();
    }
    if (!begin())
        quit();
}

bool Application::begin() {
    if (juce::Desktop::getInstance().getDisplays().displays.isEmpty()) {
        fail("there is no screen to show the window on (DISPLAY is not set, or not to be reached); "
             "'headland cut' cuts a program without one.");
        return false;
    }
    if (const auto problem = clash(wishes); !problem.empty()) {
        fail(problem);
        return false;
    }
    station = std::make_unique<Station>(
        wishes.settingsFile.empty() ? ownSettings() : named(wishes.settingsFile), true);
    frame = std::make_unique<Frame>(station->processor(), wishes.width, wishes.height);
    auto refusal = prepare();
    station->onCutEnd = [this](const std::string& failure) {
        if (!failure.empty())
            fail(failure);
    };
    if (refusal.empty() && wishes.cut)
        refusal = station->access().cutFile(wishes.realTime ? 1 : 0);
    if (wishes.holdAt_s)
        station->holdAt(*wishes.holdAt_s);
    if (refusal.empty())
        refusal = show();
    if (refusal.empty()) {
        if (wishes.quit || !wishes.picture.empty())
            startTimerHz(looksPerSecond);
        return true;
    }
    fail(refusal);
    return !wishes.quit; // otherwise a person sees it in the window
}

/// Presets, book, side and program; stops at the first that is refused and returns why.
std::string Application::prepare() {
    auto& access = station->access();
    for (const auto& preset : wishes.presets)
        if (auto refusal = access.loadPreset(preset); !refusal.empty())
            return refusal;
    if (wishes.book)
        if (auto refusal = access.logInto(named(*wishes.book).getFullPathName().toStdString());
            !refusal.empty())
            return refusal;
    if (wishes.job || wishes.side) {
        const auto last = station->processor().state().book.side;
        if (auto refusal = access.nameSide({wishes.job.value_or(last.job), wishes.side.value_or(last.side)});
            !refusal.empty())
            return refusal;
    }
    return wishes.program.empty() ? std::string() : access.openFile(wishes.program);
}

/// What the window shows; why not, one sentence, or nothing.
std::string Application::show() {
    auto& desk = frame->desk();
    if (wishes.inch)
        desk.showIn(editor::Units::inch);
    const auto pages = pageWords();
    desk.turnTo(
        static_cast<editor::Page>(std::find(pages.begin(), pages.end(), wishes.page) - pages.begin()));
    if (!wishes.review)
        return {};
    const auto book = station->processor().state().book.path;
    if (book.empty())
        return "No book is chosen to review a cut of; name it with --book.";
    return desk.review(book, *wishes.review);
}

/// Whether what the command line asks for has been done, so far as it takes time.
bool Application::isDone() const {
    return (!station->isCutting() || station->isHeld()) && !station->isRehearsing()
           && frame->desk().isSettled();
}

/// First all that takes time, then what is shown of it, then the picture.
void Application::timerCallback() {
    if (!isDone())
        return;
    auto& desk = frame->desk();
    desk.refresh(); // the newest frames
    if (const auto time_s = std::exchange(wishes.lookAt_s, std::nullopt))
        desk.viewpoint().lookAt(*time_s);
    else if (std::exchange(wishes.page, "") == "preview")
        desk.studyDelays();
    else if (++looks > 3) // what is asked for is answered by the next look
        finish();
}

void Application::finish() {
    stopTimer();
    if (const auto missing = station->isCutting() ? std::string() : station->finishBook(patience);
        !missing.empty())
        fail(missing);
    if (!wishes.picture.empty())
        if (const auto trouble = frame->drawInto(named(wishes.picture), keptFiles(wishes, *station));
            !trouble.empty())
            fail(trouble);
    if (wishes.quit)
        quit();
}

void Application::fail(const std::string& sentence) {
    std::cerr << "headland: " << text::printable(sentence) << "\n";
    if (frame)
        frame->say(sentence);
    setApplicationReturnValue(badInput);
}

void Application::shutdown() {
    frame.reset();
    if (station)
        station->keep();
    station.reset();
}

void Application::systemRequestedQuit() {
    if (station == nullptr || station->mayQuit())
        quit();
}

} // namespace headland::assembly
