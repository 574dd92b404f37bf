// SPDX-License-Identifier: GPL-3.0-or-later
#include "Cut/DelayList.h"

#include <algorithm>
#include <cmath>

namespace headland::cut {

namespace {

constexpr double perMillisecond = 1000;

double inMilliseconds(double delay_s) {
    return std::round(delay_s * perMillisecond) / perMillisecond;
}

bool isSame(double delay_s, double other_s) {
    return std::abs(delay_s - other_s) < 0.5 / perMillisecond;
}

std::string joined(const std::vector<std::string>& problems) {
    std::string text;
    for (const auto& problem : problems)
        text += (text.empty() ? "" : " ") + problem;
    return text;
}

} // namespace

DelayList delaysToTry(const CutSettings& settings, double sampleRate_hz) {
    DelayList list;
    list.trials.push_back(settings);
    for (const auto turns : delays_turns) {
        auto trial = settings;
        trial.preview_s = inMilliseconds(turns * settings.turn_s());
        if (isSame(trial.preview_s, settings.preview_s))
            continue;
        if (const auto problems = validate(trial, sampleRate_hz); problems.empty())
            list.trials.push_back(trial);
        else
            list.leftOut.push_back({trial.preview_s, joined(problems)});
    }
    std::sort(list.trials.begin(), list.trials.end(),
              [](const auto& a, const auto& b) { return a.preview_s < b.preview_s; });
    list.asSet = static_cast<std::size_t>(
        std::find_if(list.trials.begin(), list.trials.end(),
                     [&](const auto& trial) { return trial.preview_s == settings.preview_s; })
        - list.trials.begin());
    return list;
}

} // namespace headland::cut
