// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/FitCommand.h"

#include "Console/BookOutput.h"
#include "Console/CheckedInput.h"
#include "Console/FitJson.h"
#include "Console/FitPicture.h"
#include "Console/FitText.h"
#include "Console/OpenOutputs.h"
#include "Console/Trials.h"
#include "Files/Errors.h"

#include <algorithm>
#include <ostream>

namespace headland::console {

namespace {

const FitQuantity& quantityNamed(const std::string& name) {
    const auto all = fitQuantities();
    const auto found = std::find_if(all.begin(), all.end(),
                                    [&](const FitQuantity& quantity) { return quantity.name == name; });
    if (found == all.end())
        throw files::InputError("--vary " + name + ": it can be level, land or depth.");
    return *found;
}

TenthRange rangeOf(const CheckedInput& input, const FitQuantity& quantity) {
    auto range = validTenths(input.settings, quantity, input.program.sampleRate_hz());
    if (range.empty())
        throw files::InputError("--vary " + std::string(quantity.name) + ": no whole tenth of "
                                + std::string(quantity.unit) + " agrees with the other settings; give "
                                + std::string(quantity.key) + " more room.");
    return range;
}

FitReport search(const FitRequest& request, const CheckedInput& input, const FitQuantity& quantity,
                 Progress& progress, const StopSignal& stop) {
    const auto range = rangeOf(input, quantity);
    auto cuts = 0;
    const auto cutAll = [&](const std::vector<cut::CutSettings>& trials) {
        const auto first = cuts + 1;
        cuts += static_cast<int>(trials.size());
        progress.begin("Cuts " + std::to_string(first)
                       + (cuts > first ? " and " + std::to_string(cuts) : ""));
        return cutTrials(request.program.program, trials, progress, stop);
    };
    return {files::factsOf(input.program, request.program.program), input.settings,
            searchFit(input.settings, quantity, range, cutAll)};
}

/// Every trial is a rehearsal of the side, in the book if one was named.
void noteTrials(const FitRequest& request, const CheckedInput& input, const FitReport& report) {
    std::vector<SearchTrial> trials;
    for (const auto& trial : report.result.trials)
        trials.push_back({std::string(report.result.quantity->key), trial.settings, &trial.summary});
    writeRehearsals(request.program, input, "fit", trials);
}

} // namespace

ExitCode fitCommand(const FitRequest& request, std::ostream& out) {
    const StopSignal stop;
    const auto& quantity = quantityNamed(request.vary);
    const auto input = checkInput(request.program);
    stop.check();
    OpenOutputs outputs(request.program, input.kept);
    Progress progress(!request.program.quiet);
    const auto report = search(request, input, quantity, progress, stop);
    noteTrials(request, input, report);
    if (outputs.json)
        outputs.json->write(fitJsonText(report));
    if (outputs.picture)
        writeDrawing(*outputs.picture, drawFitPicture(report));
    stop.check();
    outputs.commit();
    progress.wipe();
    out << (request.program.quiet ? answerSentence(report) + "\n" : fitText(report));
    return report.exitCode();
}

} // namespace headland::console
