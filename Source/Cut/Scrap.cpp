// SPDX-License-Identifier: GPL-3.0-or-later
#include "Cut/Scrap.h"

#include "Text/Figures.h"
#include "Text/Times.h"

namespace headland::cut {

namespace {

/// The disc may have ended first: then how much more it needs is reckoned at the mean pitch.
Spoiling doesNotFit(const CutSummary& summary) {
    const auto& end = summary.discEnd;
    return {std::string(spoilingText(Flag::pastEnd)),
            (end.valid ? "by about " : "by ")
                + text::fixed(summary.notCut_mm - summary.left_mm, end.valid ? 1 : 2) + " mm of radius ("
                + text::minutesTenths(summary.sideLength_s - summary.fitLength_s) + " of program)",
            {},
            end.valid ? "; the disc ended at " + text::fixed(2 * end.value, 1) + " mm diameter, at "
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
    const auto add = [&](Flag flag, const std::string& by, double factor) {
        if (const auto worst = summary.worstOf(flag); worst.valid)
            all.push_back({std::string(spoilingText(flag)),
                           by + text::fixed(factor * worst.value, 1) + " µm",
                           "at " + text::minutesTenths(worst.time_s),
                           {}});
    };
    add(Flag::overcut, "by ", -1);
    add(Flag::lifted, "by ", -0.5);
    add(Flag::tooDeep, "", 1);
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
