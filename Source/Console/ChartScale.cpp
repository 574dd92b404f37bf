// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/ChartScale.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace headland::console {

namespace {

constexpr double slack = 1e-9; // of one step: what rounding may take from a tick at the very end

std::vector<double> multiplesOf(double step, double least, double greatest) {
    std::vector<double> ticks;
    const auto first = std::ceil(least / step - slack);
    const auto last = std::floor(greatest / step + slack);
    for (auto i = first; i <= last; ++i)
        ticks.push_back(i * step);
    return ticks;
}

bool fits(double step, double least, double greatest, int countMax) {
    return std::floor(greatest / step + slack) - std::ceil(least / step - slack) + 1 <= countMax;
}

} // namespace

double ChartScale::operator()(double value) const noexcept {
    const auto span = greatest - least;
    const auto along = span > 0 ? std::clamp((value - least) / span, 0.0, 1.0) : 0.0;
    return atLeast_px + along * (atGreatest_px - atLeast_px);
}

std::vector<double> roundTicks(double least, double greatest, int countMax) {
    if (!(greatest > least) || !std::isfinite(greatest - least))
        return {least};
    for (auto decade = std::pow(10.0, std::floor(std::log10((greatest - least) / countMax)));; decade *= 10)
        for (const auto factor : {1.0, 2.0, 5.0})
            if (fits(factor * decade, least, greatest, countMax))
                return multiplesOf(factor * decade, least, greatest);
}

std::vector<double> timeTicks(double least_s, double greatest_s, int countMax) {
    constexpr std::array<double, 14> steps_s{1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200};
    if (!(greatest_s > least_s))
        return {least_s};
    for (const auto step_s : steps_s)
        if (fits(step_s, least_s, greatest_s, countMax))
            return multiplesOf(step_s, least_s, greatest_s);
    return roundTicks(least_s, greatest_s, countMax);
}

int decimalsFor(const std::vector<double>& ticks) {
    if (ticks.size() < 2)
        return 0;
    const auto step = ticks[1] - ticks[0];
    return std::max(0, static_cast<int>(std::ceil(-std::log10(step) - slack)));
}

} // namespace headland::console
