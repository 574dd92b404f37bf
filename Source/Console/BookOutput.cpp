// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/BookOutput.h"

#include "Files/Errors.h"
#include "Log/BookPages.h"
#include "Log/BookReader.h"
#include "Log/BookSchema.h"
#include "Log/BookTrouble.h"
#include "Log/CutEndText.h"
#include "Text/Figures.h"
#include "Text/Safe.h"

#include <algorithm>
#include <filesystem>

namespace headland::console {

namespace {

using namespace std::chrono_literals;

constexpr auto patience = 5s; ///< with a book that does not get on
constexpr auto look = 100ms;

std::string wholePath(const std::string& path) {
    std::error_code error;
    const auto whole = std::filesystem::absolute(path, error);
    return error ? path : whole.lexically_normal().string();
}

/// The cut that is to be answered is in the book.
const std::string& checkAnswers(const std::string& path, const log::CutHead& head) {
    if (!head.answers)
        return path;
    const auto cuts = log::BookReader(path).cuts();
    if (std::none_of(cuts.begin(), cuts.end(), [&](const auto& entry) { return entry.cut == *head.answers; }))
        throw files::InputError(log::bookPlace(path) + " has no cut " + std::to_string(*head.answers)
                                + " to answer; 'headland review' with the book alone lists its cuts.");
    return path;
}

} // namespace

log::CutHead headOf(const ProgramRequest& request, const CheckedInput& input, const std::string& command) {
    log::CutHead head;
    head.side = request.side;
    if (head.side.side.empty())
        head.side.side = text::printable(std::filesystem::path(request.program).stem().string());
    head.answers = request.answers;
    head.madeBy = "headland " + command;
    head.program = {wholePath(request.program), files::factsOf(input.program, request.program)};
    head.settings = input.settings;
    head.sampleRate_hz = input.program.sampleRate_hz();
    head.preview = "own delay";
    return head;
}

BookOutput::BookOutput(const std::string& path, const log::CutHead& cutHead, const StopSignal& stop)
    : head(cutHead), writer(checkAnswers(path, head)) {
    while (!writer.opened(look))
        stop.check();
    if (const auto trouble = writer.status().cause; !trouble.empty())
        throw files::OutputError(trouble);
}

cut::FrameSink& BookOutput::begin(std::shared_ptr<const plan::Profile> profile) {
    head.profile = std::move(profile);
    return recorder.emplace(writer, head);
}

void BookOutput::finish(const files::CutOutcome& outcome, handoff::CutEnd end) {
    recorder->end({log::describe(end), log::isFault(end), recorder->frames(), outcome.badSamples,
                   outcome.badSamples > 0 ? outcome.firstBadSample_s : NAN});
}

void BookOutput::breakOff(const std::string& ending, bool isFault) {
    if (!recorder)
        return; // nothing has been cut
    recorder->end({ending, isFault, recorder->frames(), 0, NAN});
    writer.flush(2s);
}

std::string BookOutput::shortfall(Progress& progress, const StopSignal& stop) {
    auto waiting = writer.status().framesWaiting;
    progress.begin("Writing the book");
    const auto whole = static_cast<double>(std::max<std::size_t>(1, waiting));
    for (auto until = std::chrono::steady_clock::now() + patience; !writer.flush(look);) {
        stop.check();
        const auto status = writer.status();
        progress.show(1 - static_cast<double>(status.framesWaiting) / whole);
        const auto now = std::chrono::steady_clock::now();
        if (status.framesWaiting < waiting)
            until = now + patience;
        waiting = status.framesWaiting;
        if (now > until)
            return status.cause + " " + text::counted(static_cast<long long>(waiting), "sector")
                   + " of the cut " + (waiting == 1 ? "is" : "are") + " not in it, and lost.";
    }
    return {};
}

std::string BookOutput::sentence() const {
    return "Logged as cut " + std::to_string(writer.status().cut) + " of " + text::printable(writer.path())
           + ": " + text::printable(head.side.job) + ", side " + text::printable(head.side.side) + ".";
}

void writeRehearsals(const ProgramRequest& request, const CheckedInput& input, const std::string& command,
                     const std::vector<SearchTrial>& trials) {
    if (!request.book)
        return;
    try {
        log::BookPages pages(*request.book);
        log::Transaction transaction(pages.database());
        auto head = headOf(request, input, command);
        for (const auto& trial : trials) {
            head.settings = trial.settings;
            pages.rehearsal(head, trial.varied, *trial.summary);
        }
        transaction.commit();
    } catch (const log::DatabaseError& error) {
        throw files::OutputError(log::writingTrouble(*request.book, error));
    } catch (const log::BookRefused& refusal) {
        throw files::OutputError(log::bookPlace(*request.book)
                                 + " cannot be written into: " + refusal.what());
    }
}

} // namespace headland::console
