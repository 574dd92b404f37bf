// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/Units.h"

#include "Cut/UnitText.h"
#include "Text/Figures.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <iterator>
#include <regex>

namespace headland::editor {

using text::fixed;

namespace {

constexpr double um_per_mil = 25.4, mm_per_in = 25.4, cm_per_in = 2.54;
constexpr double um_per_in = 25400, um_per_cm = 10000;

/// How a metric unit is shown in inches, and how finely: so many decimals more than the metric figure has, and no fewer
/// than `least`.
struct Row {
    std::string_view metric, inch;
    double size;
    int more, least;
};

/// The longer spelling first: each is looked for in this order.
constexpr Row rows[] = {
    {"µm/rev/s", "mil/rev/s", um_per_mil, 1, 2},
    {"µm/s", "mil/s", um_per_mil, 1, 2},
    {"µm", "mil", um_per_mil, 1, 2},
    {"mm/s", "in/s", mm_per_in, 2, 3},
    {"mm", "in", mm_per_in, 2, 3},
    {"cm/s", "in/s", cm_per_in, 1, 2},
    {"cm²", "sq in", cm_per_in* cm_per_in, 1, 2},
    {"cm", "in", cm_per_in, 1, 1},
};

const Row* findRow(std::string_view metric) noexcept {
    const auto* found =
        std::find_if(std::begin(rows), std::end(rows), [&](const Row& row) { return row.metric == metric; });
    return found == std::end(rows) ? nullptr : found;
}

std::string withUnit(double value, int decimals, std::string_view unit) {
    return std::isfinite(value) ? fixed(value, decimals) + " " + std::string(unit) : "-";
}

double numberOf(const std::string& digits) {
    double number = NAN;
    std::from_chars(digits.data(), digits.data() + digits.size(), number);
    return number;
}

/// A disc of 30 cm is one of 12 in: whole centimetres of a big thing are a name more than a measure.
bool isNominal(const Row& row, double value, int decimals) noexcept {
    constexpr double big_cm = 10;
    return row.metric == "cm" && decimals == 0 && value >= big_cm;
}

/// The figure's own digits in the other unit: no more and no fewer than they are worth.
std::string digitsInInches(const std::string& digits, const Row& row) {
    const auto value = numberOf(digits);
    if (value == 0)
        return "0";
    const auto point = digits.find('.');
    const auto decimals = point == std::string::npos ? 0 : static_cast<int>(digits.size() - point - 1);
    return fixed(value / row.size,
                 isNominal(row, value, decimals) ? 0 : std::max(row.least, decimals + row.more));
}

/// What is looked for: the sub-expressions of pattern() in their order.
enum Part { all, name, lineCount, lineUnit, figures, unit, usual };

/// Names first, so that no figure in them is taken for one. ECMAScript as std::regex has it looks ahead, but not back:
/// a word or number is matched whole so that no figure is found inside it.
std::string pattern() {
    std::string units;
    for (const auto& row : rows)
        units += (units.empty() ? "" : "|") + std::string(row.metric);
    const std::string number = R"(-?\d+(?:\.\d+)?(?:e[-+]?\d+)?)";
    const std::string end = R"((?![A-Za-z0-9_/-]|²|\.[A-Za-z0-9]))";
    const std::string quoted = R"('[^']*')";
    const std::string path = R"((?:^|[ (])/[^:;,\n]*(?:/|\.[A-Za-z])[^\s:;,]*)";
    const std::string word = R"([A-Za-z_][\w']*)";
    return "(" + quoted + "|" + path + ")|(" + number + ") lines per (inch|cm)" + end + "|((?:between "
           + number + " and |(?:" + number + "(?: to | ± |–))*)" + number + ") ?(" + units + ")" + end
           + "|usual (" + number + " to " + number + ")(?=[;,.]|$)|" + word + R"(|[\d.]+)";
}

/// Every number in the text, in inches.
std::string numbersInInches(const std::string& text, const Row& row) {
    static const std::regex number(R"(-?\d+(?:\.\d+)?(?:e[-+]?\d+)?)");
    std::string done;
    auto from = text.begin();
    for (std::sregex_iterator found(text.begin(), text.end(), number), none; found != none; ++found) {
        done.append(from, (*found)[0].first);
        done += digitsInInches(found->str(), row);
        from = (*found)[0].second;
    }
    return done.append(from, text.end());
}

std::string linesInUnits(const std::smatch& found, Units units) {
    const auto is = found.str(lineUnit) == "inch" ? Units::inch : Units::metric;
    const auto perLength = numberOf(found.str(lineCount));
    return is == units ? found.str() : lines((is == Units::inch ? um_per_in : um_per_cm) / perLength, units);
}

} // namespace

std::string shortLength(double length_um, Units units, int decimals) {
    return units == Units::metric ? withUnit(length_um, decimals, "µm")
                                  : withUnit(length_um / um_per_mil, decimals + 1, "mil");
}

std::string longLength(double length_mm, Units units, int decimals) {
    return units == Units::metric ? withUnit(length_mm, decimals, "mm")
                                  : withUnit(length_mm / mm_per_in, decimals + 2, "in");
}

std::string lines(double pitch_um, Units units) {
    constexpr double standing_um = 0.05; // would be shown as 0.0
    if (!std::isfinite(pitch_um))
        return "-";
    if (pitch_um < standing_um)
        return "standing still";
    return units == Units::metric ? withUnit(um_per_cm / pitch_um, 1, "lines per cm")
                                  : withUnit(um_per_in / pitch_um, 0, "lines per inch");
}

ShownUnit shownUnit(std::string_view unit, Units units) noexcept {
    const auto* row = units == Units::inch ? findRow(unit) : nullptr;
    return row == nullptr ? ShownUnit{unit, 1} : ShownUnit{row->inch, row->size};
}

std::string shownValue(double value, std::string_view unit, Units units) {
    const auto shown = shownUnit(unit, units);
    return std::isfinite(value) ? cut::textWithUnit(value / shown.size, shown.name) : "-";
}

std::string inUnits(const std::string& text, Units units) {
    if (units == Units::metric && text.find("lines per inch") == std::string::npos)
        return text; // it is looked through 30 times a second
    static const std::regex wanted(pattern());
    std::string done;
    const Row* last = nullptr; // the unit of the figure before
    auto from = text.begin();
    for (std::sregex_iterator at(text.begin(), text.end(), wanted), none; at != none; ++at) {
        const auto& found = *at;
        done.append(from, found[all].first);
        from = found[all].second;
        if (found[lineCount].matched)
            done += linesInUnits(found, units);
        else if (found[figures].matched && units == Units::inch) {
            last = findRow(found.str(unit));
            done += numbersInInches(found.str(figures), *last) + " " + std::string(last->inch);
        } else if (found[usual].matched && last != nullptr)
            done += "usual " + numbersInInches(found.str(usual), *last);
        else
            done += found.str();
    }
    return done.append(from, text.end());
}

} // namespace headland::editor
