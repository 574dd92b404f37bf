// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/Trials.h"

#include "Files/CutRun.h"

#include <juce_core/juce_core.h>

#include <algorithm>
#include <chrono>
#include <future>
#include <memory>
#include <mutex>
#include <numeric>

namespace headland::console {

namespace {

constexpr std::chrono::milliseconds lookInterval{100};

/// How far each trial is: told by those who cut, asked by the one who draws.
class Tally {
public:
    explicit Tally(std::size_t trials) : fractions(trials, 0.0) {}

    void set(std::size_t trial, double fraction) {
        const std::lock_guard lock(mutex);
        fractions[trial] = fraction;
    }
    /// Of the whole work, 0 to 1.
    double mean() {
        const std::lock_guard lock(mutex);
        return std::accumulate(fractions.begin(), fractions.end(), 0.0)
               / static_cast<double>(fractions.size());
    }

private:
    std::mutex mutex;
    std::vector<double> fractions;
};

cut::CutSummary cutTrial(const std::string& path, const cut::CutSettings& settings,
                         const std::shared_ptr<const plan::Profile>& profile, const StopSignal& stop,
                         const files::BetweenBlocks& between) {
    stop.check(); // opening a compressed file takes as long as decoding it
    auto program = files::ProgramFile::open(path);
    cut::SummaryBuilder summary(settings);
    files::cutProgram(program, settings, summary, between, profile);
    return summary.summary();
}

} // namespace

std::vector<cut::CutSummary> cutTrials(const std::string& path, const std::vector<cut::CutSettings>& trials,
                                       Progress& progress, const StopSignal& stop,
                                       std::shared_ptr<const plan::Profile> profile) {
    Tally tally(trials.size());
    std::vector<std::future<cut::CutSummary>> results;
    // The last to be made is the first to go: it waits for its jobs while what they use is still there.
    juce::ThreadPool pool(std::clamp(static_cast<int>(trials.size()), 1, juce::SystemStats::getNumCpus()));
    for (std::size_t i = 0; i < trials.size(); ++i) {
        const auto task = std::make_shared<std::packaged_task<cut::CutSummary()>>([&, i] {
            return cutTrial(path, trials[i], profile, stop, [&, i](double fraction) {
                stop.check();
                tally.set(i, fraction);
            });
        });
        results.push_back(task->get_future());
        pool.addJob([task] { (*task)(); }); // what it throws is kept in the future
    }
    for (auto& result : results)
        while (result.wait_for(lookInterval) == std::future_status::timeout)
            progress.show(tally.mean());
    stop.check();
    std::vector<cut::CutSummary> summaries;
    for (auto& result : results)
        summaries.push_back(result.get());
    return summaries;
}

} // namespace headland::console
