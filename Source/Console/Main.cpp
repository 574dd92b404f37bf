// SPDX-License-Identifier: GPL-3.0-or-later
// The command-line tool: reads the arguments, hands over to a command, and turns what went wrong into one sentence and
// an exit code.

#include "Console/CutCommand.h"
#include "Console/DemoCommand.h"
#include "Console/FitCommand.h"
#include "Console/FitQuantity.h"
#include "Console/ListCommands.h"
#include "Console/NoteCommand.h"
#include "Console/Progress.h"
#include "Console/ReviewCommand.h"
#include "Console/StopSignal.h"
#include "Console/SummaryText.h"
#include "Console/TuneCommand.h"
#include "Files/Errors.h"
#include "Text/Safe.h"

#pragma GCC diagnostic push // a warning in somebody else's header is not ours to fix
#pragma GCC diagnostic ignored "-Wall"
#pragma GCC diagnostic ignored "-Wextra"
#include <CLI/CLI.hpp>
#pragma GCC diagnostic pop

#include <csignal>
#include <iostream>
#include <sstream>

namespace headland::console {

namespace {

/// What `headland demo` is asked for.
struct DemoRequest {
    std::string path;
    bool replaces = false; ///< a file that is there already
};

/// Exit codes and caution, below every --help.
std::string helpFooter() {
    std::string text = "\nExit codes (of fit, 3: nothing will do; of the other commands, 0: done):\n";
    for (const auto& [code, meaning] : exitMeanings) {
        const auto number = std::to_string(static_cast<int>(code));
        text += "  " + number + std::string(5 - number.size(), ' ') + std::string(meaning) + "\n";
    }
    return text + "\n" + wrapped(caution, 100);
}

ExitCode demoCommand(const DemoRequest& request) {
    const StopSignal stop;
    Progress progress(true);
    progress.begin("Playing the demo program");
    const auto code = writeDemo(request.path, request.replaces, [&](double fraction) {
        progress.show(fraction);
        return !stop.isSet();
    });
    if (stop.isSet())
        throw Stopped{};
    progress.wipe();
    std::cout << "The demo program is in " << text::printable(request.path) << ".\n";
    return static_cast<ExitCode>(code);
}

/// What every command that cuts a program takes: the program and its settings.
CLI::App& addProgramCommand(CLI::App& app, const std::string& name, const std::string& does,
                            ProgramRequest& request) {
    auto& command = *app.add_subcommand(name, does);
    command
        .add_option("PROGRAM", request.program,
                    "The side: WAV, RF64, W64, AIFF, CAF or FLAC, 44.1 to 192 kHz")
        ->required();
    command
        .add_option("--preset", request.settings.presets,
                    "Built-in preset or preset file; repeatable, in order")
        ->type_name("NAME|FILE")
        ->allow_extra_args(false);
    command.add_option("--set", request.settings.sets, "One setting, over the presets; repeatable")
        ->type_name("KEY=VALUE")
        ->allow_extra_args(false);
    command.footer(helpFooter());
    return command;
}

/// The book, and where in it.
void addBook(CLI::App& command, ProgramRequest& request, const std::string& what) {
    auto* const book = command.add_option("--book", request.book, what)->type_name("FILE");
    command.add_option("--job", request.side.job, "With --book: the job it belongs to")
        ->needs(book)
        ->capture_default_str();
    command
        .add_option("--side", request.side.side,
                    "With --book: the side of the job; without it, the program's name")
        ->needs(book);
}

void addCut(CLI::App& app, ProgramRequest& request) {
    auto& cut = addProgramCommand(
        app, "cut", "Cut a side from a sound file, simulated: can it be cut, and how?", request);
    cut.add_option("--csv", request.csv, "Write the cut log, a row a sector")->type_name("FILE");
    cut.add_option("--json", request.json, "Write settings, summary and flagged passages")->type_name("FILE");
    cut.add_option("--picture", request.picture, "Draw pitch, depth, land and diameter against time")
        ->type_name("FILE.svg|.png");
    auto* const rehearse = cut.add_flag(
        "--rehearse", request.rehearse,
        "Hear the whole program before it is cut: the plan then looks further ahead than the preview");
    auto* const profile =
        cut.add_option("--profile", request.profile, "Write what such a rehearsal has heard")
            ->type_name("FILE");
    cut.add_option("--rehearsed", request.rehearsed,
                   "Look further ahead with what an earlier rehearsal has written")
        ->type_name("FILE")
        ->excludes(rehearse)
        ->excludes(profile);
    addBook(cut, request, "Log the cut into a book of cuts, which is begun if it is not there");
    cut.add_option("--answers", request.answers, "With --book: the number of the cut it is to be better than")
        ->needs("--book");
    cut.add_flag("--quiet", request.quiet,
                 "Print the verdict line only; no progress, no search for a level that fits");
}

void addFit(CLI::App& app, FitRequest& request) {
    auto& fit = addProgramCommand(
        app, "fit", "Find the highest level (or land, or depth) at which a side fits and is clean",
        request.program);
    std::vector<std::string> names;
    for (const auto& quantity : fitQuantities())
        names.emplace_back(quantity.name);
    request.vary = names.front();
    fit.add_option("--vary", request.vary, "What is varied; the other settings are held")
        ->check(CLI::IsMember(names))
        ->capture_default_str();
    fit.add_option("--json", request.program.json, "Write the answer and every trial")->type_name("FILE");
    fit.add_option("--picture", request.program.picture,
                   "Draw diameter, pitch, land, width and slope against it")
        ->type_name("FILE.svg|.png");
    addBook(fit, request.program, "Log every trial into a book of cuts, as a rehearsal");
    fit.add_flag("--quiet", request.program.quiet, "Print the answer's sentence only; no progress");
}

void addTune(CLI::App& app, ProgramRequest& request) {
    auto& tune = addProgramCommand(
        app, "tune", "Find the preview delay worth having: cut a side at a quarter turn to four turns",
        request);
    tune.add_option("--json", request.json, "Write settings, delays and recommendation")->type_name("FILE");
    tune.add_option("--picture", request.picture, "Draw disc used, land and shortfall against the delay")
        ->type_name("FILE.svg|.png");
    addBook(tune, request, "Log every trial into a book of cuts, as a rehearsal");
    tune.add_flag("--quiet", request.quiet, "Print the recommendation only; no progress");
}

void addReview(CLI::App& app, ReviewRequest& request) {
    auto& review = *app.add_subcommand("review", "Look at a book of cuts, or at one cut in it");
    review.add_option("BOOK", request.book, "The book")->required();
    review.add_option("CUT", request.cut, "Number of the cut; without it the book's cuts are listed");
    review.add_option("--csv", request.csv, "Write the cut log, a row a sector")->type_name("FILE");
    review.add_option("--json", request.json, "Write settings, summary, passages, notes and events")
        ->type_name("FILE");
    review.add_option("--picture", request.picture, "Draw pitch, depth, land and diameter against time")
        ->type_name("FILE.svg|.png");
    review.add_option("--profile", request.profile, "Write what the cut was given of a rehearsal")
        ->type_name("FILE");
    review
        .add_option_function<std::vector<std::string>>(
            "--groove",
            [&request](const std::vector<std::string>& words) {
                for (std::size_t i = 0; i + 1 < words.size(); i += 2)
                    request.grooves.push_back({words[i], words[i + 1]});
            },
            "Draw the groove around a time, in plan and to scale; repeatable")
        ->type_size(2)
        ->type_name("TIME FILE.svg|.png");
    review.add_option("--program", request.program, "The program's file, if it is not where it was")
        ->type_name("FILE");
    review.add_flag("--check", request.check, "Look at every page of the book first");
    review.add_flag("--quiet", request.quiet, "Print the verdict line only; no progress");
    review.footer(helpFooter());
}

void addNote(CLI::App& app, NoteRequest& request) {
    auto& note =
        *app.add_subcommand("note", "Write a note on a cut into its book, write it anew, or delete it");
    note.add_option("BOOK", request.book, "The book")->required();
    note.add_option("CUT", request.cut, "Number of the cut")->required();
    note.add_option("TEXT", request.text, "The note");
    note.add_option("--at", request.time, "Time in the program; without it the note is of the whole cut")
        ->type_name("TIME");
    note.add_option("--edit", request.edited,
                    "Number of the note that gets these words; the book keeps what it said")
        ->type_name("NOTE");
    note.add_option("--delete", request.deleted,
                    "Number of the note to delete; the book keeps it, marked as deleted")
        ->type_name("NOTE");
    note.footer(helpFooter());
}

void addDemo(CLI::App& app, DemoRequest& request) {
    auto& demo = *app.add_subcommand("demo", "Write a four-minute demo program to try it with");
    demo.add_option("FILE", request.path, "The WAV file to write")->required();
    demo.add_flag("--force", request.replaces, "Replace a file that is there already");
}

/// What the arguments ask for.
struct Arguments {
    ProgramRequest cut;
    FitRequest fit;
    ProgramRequest tune;
    ReviewRequest review;
    NoteRequest note;
    DemoRequest demo;
};

ExitCode run(CLI::App& app, const Arguments& arguments) {
    if (app.got_subcommand("cut"))
        return cutCommand(arguments.cut, std::cout);
    if (app.got_subcommand("fit"))
        return fitCommand(arguments.fit, std::cout);
    if (app.got_subcommand("tune"))
        return tuneCommand(arguments.tune, std::cout);
    if (app.got_subcommand("review"))
        return reviewCommand(arguments.review, std::cout);
    if (app.got_subcommand("note"))
        return noteCommand(arguments.note, std::cout);
    if (app.got_subcommand("demo"))
        return demoCommand(arguments.demo);
    if (app.got_subcommand("settings"))
        settingsCommand(std::cout);
    else
        presetsCommand(std::cout);
    return ExitCode::done;
}

ExitCode runAndFlush(CLI::App& app, const Arguments& arguments) {
    const auto code = run(app, arguments);
    if (!std::cout.flush())
        throw files::OutputError("The result could not be written to standard output; is its disk full?");
    return code;
}

/// Says what went wrong, each line as a sentence of its own.
ExitCode say(const std::string& text, ExitCode code) {
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);)
        std::cerr << "headland: " << line << '\n';
    return code;
}

ExitCode runSayingErrors(CLI::App& app, const Arguments& arguments) {
    try {
        return runAndFlush(app, arguments);
    } catch (const Stopped& stopped) {
        return say(stopped.sentence, ExitCode::stopped);
    } catch (const files::InputError& error) {
        return say(error.what(), ExitCode::badInput);
    } catch (const files::OutputError& error) {
        return say(error.what(), ExitCode::outputFailed);
    } catch (const std::exception& error) {
        return say("A fault in headland itself: " + text::printable(error.what()) + ".", ExitCode::ourFault);
    }
}

int mainOf(int argumentCount, char** argumentValues) {
    ::signal(SIGXFSZ,
             SIG_IGN); // a file that may not grow further is a write that fails, and is said as any other
    CLI::App app("Headland: pitch and depth for cutting a disc, simulated from a sound file.", "headland");
    Arguments arguments;
    app.set_version_flag("--version", "headland " HEADLAND_VERSION);
    app.failure_message([](const CLI::App*, const CLI::Error& error) {
        return text::printable(error.what()) + "\nRun with --help for more information.\n";
    });
    app.require_subcommand(1);
    app.footer(helpFooter());
    addCut(app, arguments.cut);
    addFit(app, arguments.fit);
    addTune(app, arguments.tune);
    addReview(app, arguments.review);
    addNote(app, arguments.note);
    addDemo(app, arguments.demo);
    app.add_subcommand("settings", "List every setting: key, unit, range, default, what it does and why");
    app.add_subcommand("presets", "List the built-in presets");
    try {
        app.parse(argumentCount, argumentValues);
    } catch (const CLI::ParseError& error) { // also --help and --version, which are no errors
        return app.exit(error) == 0 ? 0 : static_cast<int>(ExitCode::badInput);
    }
    return static_cast<int>(runSayingErrors(app, arguments));
}

} // namespace

} // namespace headland::console

int main(int argumentCount, char** argumentValues) {
    return headland::console::mainOf(argumentCount, argumentValues);
}
