// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/TuneText.h"

#include "Console/SummaryText.h"
#include "Console/TextTable.h"
#include "Cut/TapePath.h"
#include "Text/Figures.h"
#include "Text/Times.h"

#include <algorithm>
#include <cctype>
#include <cmath>

namespace headland::console {

using text::fixed;
using text::minutesTenths;
using text::plain;
using text::sideLength;

namespace {

using cut::Flag;

constexpr double percent = 100;

double usedAt(const TuneReport& report, std::size_t trial) {
    return report.trials[trial].summary.used_mm;
}

/// What a trial saves against another, as a share of what the other uses; below zero when it costs.
double savedShare(const TuneReport& report, std::size_t trial, std::size_t against) {
    const auto used_mm = usedAt(report, against);
    return used_mm > 0 ? (used_mm - usedAt(report, trial)) / used_mm : 0;
}

std::string shareText(double share) {
    return fixed(percent * std::abs(share), 1) + " %";
}

/// "1.8 s, would save 0.02 mm of radius (0.1 %)"
std::string comparison(const TuneReport& report, std::size_t other) {
    const auto best = report.choice.best;
    const auto saved_mm = usedAt(report, best) - usedAt(report, other);
    const auto amount_mm = fixed(std::abs(saved_mm), 2);
    const auto amount = amount_mm + " mm of radius" + (saved_mm < 0 ? " more (" : " (")
                        + shareText(savedShare(report, other, best)) + ")";
    const auto& trial = report.trials[other];
    const auto loss = !report.best().keepsLand() || trial.keepsLand() ? ""
                      : trial.canBeCut()                              ? ", but land would fall short"
                                                                      : ", but the side could not be cut";
    return plain(trial.delay_s) + " s, would "
           + (amount_mm == "0.00" ? "take as much disc" : (saved_mm > 0 ? "save " : "take ") + amount) + loss;
}

/// Why of all candidates this one: what the longer ones do not buy.
std::string whyNotLonger(const TuneReport& report) {
    return report.choice.best == report.choice.candidates.back()
               ? ""
               : "no longer one buys " + shareText(worthOfATurn / 2)
                     + " of the disc used for each half turn that it adds";
}

std::string whyNotShorter(const TuneReport& report) {
    const auto& candidates = report.choice.candidates;
    return report.choice.best == candidates.front()
               ? ""
               : "this one saves " + shareText(savedShare(report, report.choice.best, candidates.front()))
                     + " of the disc used against " + plain(report.trials[candidates.front()].delay_s) + " s";
}

/// The parts that are not empty: "a", "a, and b", "a, b, and c".
std::string joined(std::vector<std::string> parts) {
    std::erase(parts, "");
    std::string text;
    for (std::size_t i = 0; i < parts.size(); ++i)
        text += (i == 0 ? "" : i + 1 == parts.size() ? ", and " : ", ") + parts[i];
    return text;
}

std::string landKeptReason(const TuneReport& report) {
    const auto& candidates = report.choice.candidates;
    if (report.trials.size() == 1)
        return "it is the only delay that could be tried";
    if (candidates.size() == report.trials.size())
        return joined({"the side can be cut without a shortfall at every delay tried", whyNotShorter(report),
                       whyNotLonger(report)});
    if (report.choice.best == candidates.front())
        return joined({"it is the shortest tried at which the side can be cut without a shortfall",
                       whyNotLonger(report)});
    return joined({"the side can be cut without a shortfall from "
                       + plain(report.trials[candidates.front()].delay_s) + " s up",
                   whyNotShorter(report), whyNotLonger(report)});
}

/// "28.0 µm at 1:36.0"
std::string missingText(const TuneReport& report) {
    const auto& trial = report.best();
    const auto missing_um = trial.missingLand_um(report.settings.land_min_um);
    const auto& shortfall = trial.summary.shortfallGreatest;
    const auto isAnnounced = trial.isShort() && shortfall.value >= missing_um;
    return fixed(missing_um, 1) + " µm at "
           + minutesTenths(isAnnounced ? shortfall.time_s : trial.summary.landLeast.time_s);
}

std::string latheReason(const TuneReport& report) {
    const auto limit = report.best().sectorsUnder(Flag::limit) > 0
                           ? "the lathe is the limit (its greatest pitch or depth)"
                           : "the lathe is the limit (how fast its pitch and depth open)";
    return "land falls short at every delay tried, at best by " + missingText(report)
           + ", and a longer delay gives none of it back: " + limit;
}

std::string verdictCell(const cut::CutSummary& summary) {
    if (canBeCut(summary))
        return "yes";
    std::string reasons;
    const auto add = [&](bool is, std::string_view reason) {
        if (is)
            reasons += (reasons.empty() ? "" : ", ") + std::string(reason);
    };
    add(sectorsUnder(summary, Flag::overcut) > 0, "overcut");
    add(sectorsUnder(summary, Flag::lifted) > 0, "lifts");
    add(sectorsUnder(summary, Flag::tooDeep) > 0, "too deep");
    add(!summary.fits, "too long");
    return "no: " + reasons;
}

/// Behind the row of a trial.
std::string remark(const TuneReport& report, bool isBest, bool isSet) {
    const std::string best = report.best().canBeCut() ? "recommended" : "best of them";
    return isBest && isSet ? "  < " + best + ", as set" : isBest ? "  < " + best : isSet ? "  < as set" : "";
}

std::string tapeCell(const DelayTrial& trial, const cut::TapeSpeed& speed) {
    return fixed(cut::tapePath_mm(trial.delay_s, speed), 0);
}

TextRow rowOf(const TuneReport& report, std::size_t index, int decimals) {
    const auto& trial = report.trials[index];
    const auto& summary = trial.summary;
    const auto passages = summary.flaggedPassages[cut::indexOf(Flag::previewShort)];
    TextRow row{fixed(trial.delay_s, decimals), fixed(trial.turns, 2)};
    for (const auto& speed : cut::tapeSpeeds)
        row.push_back(tapeCell(trial, speed));
    row.insert(row.end(),
               {fixed(summary.used_mm, 2), fixed(summary.pitchTravel_um, 1),
                summary.endDiameter_mm > 0 ? fixed(summary.endDiameter_mm, 1) : "past middle",
                summary.landLeast.valid ? fixed(summary.landLeast.value, 1) : "-", std::to_string(passages),
                trial.isShort() ? fixed(summary.shortfallGreatest.value, 1) : "-",
                verdictCell(summary) + remark(report, index == report.choice.best, index == report.asSet)});
    return row;
}

std::string table(const TuneReport& report) {
    std::vector<TextRow> rows{{"delay", "", "tape, mm", "", "disc used", "travel", "end dia.", "least land",
                               "shortfall", "up to", "can it be cut?"},
                              {"s", "turns"}};
    for (const auto& speed : cut::tapeSpeeds)
        rows.back().push_back("at " + std::string(speed.name));
    rows.back().insert(rows.back().end(), {"mm", "µm/turn", "mm", "µm", "passages", "µm"});
    const auto decimals = delayDecimals(report);
    for (std::size_t i = 0; i < report.trials.size(); ++i)
        rows.push_back(rowOf(report, i, decimals));
    return tableText(rows);
}

std::string percentText(double value) {
    return plain(value) + " %";
}

std::string steadinessTable(const TuneReport& report) {
    std::vector<TextRow> rows{{"steady pitch", "disc used", "travel", "can it be cut?"},
                              {"%", "mm", "µm/turn"}};
    for (std::size_t i = 0; i < report.steadiness.size(); ++i) {
        const auto& [percent_, summary] = report.steadiness[i];
        rows.push_back(
            {plain(percent_), fixed(summary.used_mm, 2), fixed(summary.pitchTravel_um, 1),
             verdictCell(summary) + remark(report, i == report.steadinessBest, i == report.steadinessAsSet)});
    }
    return tableText(rows);
}

/// "the platter held to 0.02 % (0.1 % now)"
std::string betterText(const TuneReport& report, const BetterKnown& better) {
    const auto now = cut::getNumber(report.settings, *better.setting);
    return better.setting->key == "speed_tolerance"
               ? "the platter held to " + percentText(percent * better.settings.speed_tolerance) + " ("
                     + percentText(percent * now) + " now)"
               : "the preview known exactly (to " + plain(1000 * now) + " ms now)";
}

std::string steadinessRows(const TuneReport& report) {
    if (report.steadiness.empty())
        return {};
    const auto better = betterKnownText(report);
    return "\nAt " + delayText(report.best().delay_s, report.best().turns) + ":\n\n" + steadinessTable(report)
           + "\n" + labelled("Steady pitch", steadinessText(report))
           + (better.empty() ? "" : labelled("Better known", better));
}

std::string leftOutRows(const TuneReport& report) {
    std::string text;
    for (const auto& delay : report.leftOut)
        text += labelled(text.empty() ? "Left out" : "",
                         delayText(delay.delay_s, delay.delay_s / report.settings.turn_s()) + ": "
                             + delay.reason);
    return text;
}

std::string headRows(const TuneReport& report) {
    return labelled("Program", files::describe(report.program) + ", " + sideLength(report.program.length_s))
           + labelled("Disc", std::string(report.settings.discFormat().name) + ", disc level "
                                  + plain(report.settings.disc_level_db) + " dB, land "
                                  + plain(report.settings.land_min_um) + " µm")
           + labelled("Tape", "38 and 76 cm/s are the trade's names of 15 and 30 in/s: 38.1 and 76.2 cm/s");
}

} // namespace

std::string delayText(double delay_s, double turns) {
    return plain(delay_s) + " s (" + fixed(turns, 2) + (turns == 1 ? " turn)" : " turns)");
}

std::string reasonText(const TuneReport& report) {
    switch (report.choice.outcome) {
    case DelayOutcome::landKept:
        return landKeptReason(report);
    case DelayOutcome::stillShort:
        return "land falls short at every delay tried, least at the longest, by " + missingText(report)
               + ": a lathe this slow needs a longer delay still, or a pitch and depth that open faster";
    case DelayOutcome::latheLimits:
        return latheReason(report);
    case DelayOutcome::discLimits:
        return joined({"the side fits at no delay tried, so the disc is the limit", whyNotShorter(report),
                       whyNotLonger(report)});
    case DelayOutcome::stylusLifts:
        return "the stylus lifts at every delay tried, so the depth of the groove is the limit";
    case DelayOutcome::tooDeep:
        return "the groove is too deep at every delay tried, so the lacquer is the limit";
    }
    return "";
}

std::string longerOnes(const TuneReport& report) {
    if (!report.choice.nextLonger)
        return report.trials.size() > 1 && report.choice.outcome != DelayOutcome::stillShort
                   ? "It is the longest delay tried."
                   : "";
    const auto next = *report.choice.nextLonger, last = report.trials.size() - 1;
    return "The next longer one, " + comparison(report, next)
           + (next == last ? "." : "; the longest, " + comparison(report, last) + ".");
}

int delayDecimals(const TuneReport& report) {
    const auto isInHundredths = [](const DelayTrial& trial) {
        return std::abs(100 * trial.delay_s - std::round(100 * trial.delay_s)) < 0.05;
    };
    return std::all_of(report.trials.begin(), report.trials.end(), isInHundredths) ? 2 : 3;
}

std::string headline(const TuneReport& report) {
    return report.best().canBeCut() ? "Recommended" : "None will do";
}

std::string recommendation(const TuneReport& report) {
    const auto& best = report.best();
    std::string paths;
    for (const auto& speed : cut::tapeSpeeds)
        paths += (paths.empty() ? "" : ", ") + tapeCell(best, speed) + " mm of tape at "
                 + std::string(speed.name) + " cm/s";
    return delayText(best.delay_s, best.turns) + ", " + paths
           + (best.canBeCut() ? ": " : ", is the best of them: ") + reasonText(report) + ".";
}

std::string steadinessText(const TuneReport& report) {
    if (report.steadiness.empty())
        return {};
    const auto& best = report.steadiest();
    const auto& steadiest = report.steadiness.back().summary;
    const auto& loosest = report.steadiness.front().summary;
    return percentText(best.percent) + " of the disc for a steady pitch: half the travel is worth "
           + percentText(percent * worthOfHalfTheTravel) + " of the disc used. From "
           + plain(report.steadiness.front().percent) + " to " + percentText(report.steadiness.back().percent)
           + " the pitch travels " + fixed(loosest.pitchTravel_um, 0) + " to "
           + fixed(steadiest.pitchTravel_um, 0) + " µm a turn, and the side takes "
           + fixed(loosest.used_mm, 2) + " to " + fixed(steadiest.used_mm, 2) + " mm of radius.";
}

std::string betterKnownText(const TuneReport& report) {
    std::vector<std::string> parts;
    for (const auto& better : report.betterKnown) {
        const auto saved_mm = report.steadiest().summary.used_mm - better.summary.used_mm;
        parts.push_back(betterText(report, better) + " would " + (saved_mm < 0 ? "take " : "save ")
                        + fixed(std::abs(saved_mm), 2) + " mm of radius" + (saved_mm < 0 ? " more" : ""));
    }
    auto text = joined(parts);
    if (text.empty())
        return text;
    text.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(text.front())));
    return text + ".";
}

std::string tuneText(const TuneReport& report) {
    return headRows(report) + "\n" + table(report) + "\n"
           + labelled(headline(report), recommendation(report) + " " + longerOnes(report))
           + (report.best().canBeCut() ? "" : labelled("At that delay", report.best().summary.verdictLine()))
           + leftOutRows(report) + steadinessRows(report) + "\n" + wrapped(caution, 100) + "\n";
}

} // namespace headland::console
