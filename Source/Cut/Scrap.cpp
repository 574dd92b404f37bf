// SPDX-License-Identifier: GPL-3.0-or-later
#include "Cut/Scrap.h"

#include "Text/Times.h"

#include <cstdio>

namespace headland::cut {

namespace {

std::string text(const char* pattern, double value) {
    char line[200];
    std::snprintf(line, sizeof line, pattern, value);
    return line;
}

/// The disc may have ended first: then how much more it needs is reckoned at the mean pitch.
Spoiling doesNotFit(const CutSummary& summary) {
    const auto& end = summary.discEnd;
    return {std::string(spoilingText(Flag::pastEnd)),
            text(end.valid ? "by about %.1f mm of radius" : "by %.2f mm of radius",
                 summary.notCut_mm - summary.left_mm)
                + " (" + text::minutesTenths(summary.sideLength_s - summary.fitLength_s) + " of program)",
            {},
            end.valid ? text("; the disc ended at %.1f mm diameter", 2 * end.value) + ", at "
                            + text::minutesTenths(end.time_s)
                      : std::string()};
}

} // namespace

std::string_view spoilingText(Flag flag) noexcept {
    switch (flag) {
    case Flag::overcut:
        return "it overcuts";
    case Flag::lifted:
        return "the stylus lifts";
    case Flag::tooDeep:
        return "the groove is too deep";
    case Flag::pastEnd:
    case Flag::discEnd:
        return "it does not fit";
    default:
        return {};
    }
}

std::vector<Spoiling> spoilings(const CutSummary& summary) {
    std::vector<Spoiling> all;
    const auto add = [&](Flag flag, const char* by, double factor) {
        if (const auto worst = summary.worstOf(flag); worst.valid)
            all.push_back({std::string(spoilingText(flag)),
                           text(by, factor * worst.value),
                           "at " + text::minutesTenths(worst.time_s),
                           {}});
    };
    add(Flag::overcut, "by %.1f µm", -1);
    add(Flag::lifted, "by %.1f µm", -0.5);
    add(Flag::tooDeep, "%.1f µm", 1);
    if (!summary.fits)
        all.push_back(doesNotFit(summary));
    return all;
}

std::string scrap(const CutSummary& summary) {
    std::string all;
    for (const auto& spoiling : spoilings(summary))
        all += (all.empty() ? "" : "; ") + spoiling.whole();
    return all;
}

} // namespace headland::cut
