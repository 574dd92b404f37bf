// SPDX-License-Identifier: GPL-3.0-or-later
#include "Log/CsvWriter.h"

#include <array>
#include <charconv>
#include <cmath>
#include <utility>

namespace headland::log {

namespace {

constexpr std::size_t pieceSize_bytes = 1 << 16;
constexpr std::size_t rowRoom_bytes = 1 << 13; ///< more than the longest row
constexpr std::size_t numberRoom_bytes = 340;  ///< the greatest double with all its digits
constexpr std::string_view lineEnd = "\r\n";

/// One column of numbers.
struct Column {
    std::string_view name;
    int decimals;
    double (*get)(const cut::CutFrame&);
};

using F = const cut::CutFrame&;

/// The columns before and after `state` and `flags`.
constexpr std::array columnsBefore{
    Column{"time_s", 6, [](F f) { return f.time_s; }},
    Column{"turn", 6, [](F f) { return f.turn; }},
    Column{"radius_mm", 6, [](F f) { return f.radius_mm; }},
    Column{"pitch_um", 4, [](F f) { return f.pitch_um; }},
    Column{"pitch_command_um", 4, [](F f) { return f.pitchCommand_um; }},
    Column{"depth_um", 4, [](F f) { return f.depth_um; }},
    Column{"depth_command_um", 4, [](F f) { return f.depthCommand_um; }},
    Column{"land_min_um", 4, [](F f) { return f.landMin_um; }},
    Column{"width_min_um", 4, [](F f) { return f.widthMin_um; }},
    Column{"lateral_peak_cm_s", 4, [](F f) { return f.lateralPeak_cm_s; }},
    Column{"vertical_peak_cm_s", 4, [](F f) { return f.verticalPeak_cm_s; }},
    Column{"slope_peak", 5, [](F f) { return f.slopePeak; }},
    Column{"curvature_min_um", 4, [](F f) { return f.curvatureMin_um; }},
};
constexpr std::array columnsAfter{
    Column{"demand_um", 4, [](F f) { return f.demand_um; }},
    Column{"shortfall_um", 4, [](F f) { return f.shortfall_um; }},
    Column{"peak_dbfs", 3, [](F f) { return f.peak_dbfs; }},
    Column{"left_mm", 4, [](F f) { return f.estimate.left_mm; }},
    Column{"left_min", 4, [](F f) { return f.estimate.left_min; }},
    Column{"end_diameter_mm", 3, [](F f) { return f.estimate.endDiameter_mm; }},
    Column{"end_diameter_uncertainty_mm", 3, [](F f) { return f.estimate.endDiameterUncertainty_mm; }},
};

constexpr std::array<double, 7> powersOfTen{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6};

/// Writes a number with this many decimals, nothing when it is not finite; returns the end of what was written. As a
/// whole number of the last place, because std::to_chars is several times faster with those.
char* writeNumber(char* to, double value, int decimals) {
    constexpr auto exactUpTo = 9e15; // below 2^53 every whole number is a double
    auto* const end = to + numberRoom_bytes;
    if (!std::isfinite(value))
        return to;
    const auto power = powersOfTen[static_cast<std::size_t>(decimals)];
    if (std::abs(value) * power > exactUpTo)
        return std::to_chars(to, end, value, std::chars_format::fixed, decimals).ptr;
    const auto places = std::llround(std::abs(value) * power);
    const auto unit = static_cast<long long>(power);
    if (value < 0 && places > 0)
        *to++ = '-';
    to = std::to_chars(to, end, places / unit).ptr;
    auto* point = to;
    to = std::to_chars(to, end, unit + places % unit).ptr; // "1" and the decimals
    *point = '.';
    return to;
}

char* writeText(char* to, std::string_view text) {
    return to + text.copy(to, text.size());
}

char* writeFlags(char* to, const cut::CutFrame& frame) {
    auto first = true;
    for (int bit = 0; frame.flags != 0 && bit < cut::flagCount; ++bit) {
        if (!frame.has(cut::flagAt(bit)))
            continue;
        to = writeText(to, first ? "" : ";");
        to = writeText(to, cut::name(cut::flagAt(bit)));
        first = false;
    }
    return to;
}

char* writeRow(char* to, const cut::CutFrame& frame) {
    for (const auto& column : columnsBefore) {
        to = writeNumber(to, column.get(frame), column.decimals);
        *to++ = ',';
    }
    to = writeText(to, cut::name(frame.state));
    *to++ = ',';
    to = writeFlags(to, frame);
    for (const auto& column : columnsAfter) {
        *to++ = ',';
        to = writeNumber(to, column.get(frame), column.decimals);
    }
    return writeText(to, lineEnd);
}

} // namespace

std::string csvNames() {
    std::string row;
    for (const auto& column : columnsBefore)
        row += std::string(column.name) + ",";
    row += "state,flags";
    for (const auto& column : columnsAfter)
        row += "," + std::string(column.name);
    return row += lineEnd;
}

void appendCsvRow(std::string& text, const cut::CutFrame& frame) {
    std::array<char, rowRoom_bytes> row;
    static_assert((columnsBefore.size() + columnsAfter.size() + 1) * numberRoom_bytes < rowRoom_bytes);
    text.append(row.data(), writeRow(row.data(), frame));
}

CsvWriter::CsvWriter(Write w) : write(std::move(w)), held(csvNames()) {
    held.reserve(pieceSize_bytes + rowRoom_bytes);
}

void CsvWriter::frame(const cut::CutFrame& frame) noexcept {
    if (failure)
        return;
    appendCsvRow(held, frame);
    if (held.size() < pieceSize_bytes)
        return;
    try {
        flush();
    } catch (...) {
        failure = std::current_exception();
    }
}

void CsvWriter::check() const {
    if (failure)
        std::rethrow_exception(failure);
}

void CsvWriter::flush() {
    check();
    write(held);
    held.clear();
}

} // namespace headland::log
