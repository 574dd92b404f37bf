// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/TextTable.h"

#include "Text/Figures.h"

#include <algorithm>

namespace headland::console {

using text::columnsOf;

namespace {

constexpr std::size_t gap = 2; ///< spaces between two columns

std::vector<std::size_t> widths(const std::vector<TextRow>& rows) {
    std::vector<std::size_t> result;
    for (const auto& row : rows)
        for (std::size_t i = 0; i < row.size(); ++i) {
            result.resize(std::max(result.size(), i + 1), 0);
            result[i] = std::max(result[i], columnsOf(row[i]));
        }
    return result;
}

std::string rightAligned(const std::string& text, std::size_t columns) {
    return std::string(columns - columnsOf(text), ' ') + text;
}

} // namespace

std::string tableText(const std::vector<TextRow>& rows) {
    const auto columns = widths(rows);
    std::string text;
    for (const auto& row : rows) {
        std::string line;
        for (std::size_t i = 0; i < row.size(); ++i) {
            const auto isLast = i + 1 == columns.size();
            line += std::string(i == 0 ? 0 : gap, ' ') + (isLast ? row[i] : rightAligned(row[i], columns[i]));
        }
        line.erase(line.find_last_not_of(' ') + 1);
        text += line + "\n";
    }
    return text;
}

} // namespace headland::console
