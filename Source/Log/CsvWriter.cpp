// SPDX-License-Identifier: GPL-3.0-or-later
#include "Log/CsvWriter.h"

#include "Log/FrameColumns.h"

#include <array>
#include <charconv>
#include <cmath>
#include <span>
#include <utility>

namespace headland::log {

namespace {

constexpr std::size_t pieceSize_bytes = 1 << 16;
constexpr std::size_t rowRoom_bytes = 1 << 13; ///< more than the longest row
constexpr std::size_t numberRoom_bytes = 340;  ///< the greatest double with all its digits
constexpr std::string_view lineEnd = "\r\n";

/// The columns before and after `state` and `flags`.
constexpr auto columnsBefore = std::span(frameColumns).first<csvColumnsBefore>();
constexpr auto columnsAfter =
    std::span(frameColumns).subspan<csvColumnsBefore, csvColumns - csvColumnsBefore>();

/// Writes a number with this many decimals, nothing when it is not finite; returns the end of what was written. As a
/// whole number of the last place, because std::to_chars is several times faster with those.
char* writeNumber(char* to, double value, int decimals) {
    auto* const end = to + numberRoom_bytes;
    if (!std::isfinite(value))
        return to;
    if (!hasPlaces(value, decimals))
        return std::to_chars(to, end, value, std::chars_format::fixed, decimals).ptr;
    const auto count = places(std::abs(value), decimals);
    const auto unit = static_cast<std::int64_t>(powerOfTen(decimals));
    if (value < 0 && count > 0)
        *to++ = '-';
    to = std::to_chars(to, end, count / unit).ptr;
    auto* point = to;
    to = std::to_chars(to, end, unit + count % unit).ptr; // "1" and the decimals
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
