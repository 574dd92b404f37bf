// SPDX-License-Identifier: GPL-3.0-or-later
#include "Log/FrameList.h"

#include <limits>
#include <utility>

namespace headland::log {

namespace {

/// Whether a stored number means itself, in a place of this type.
template <typename Stored>
constexpr bool hasRoom(std::int64_t places) noexcept {
    return places > std::numeric_limits<Stored>::min() + 1 && places <= std::numeric_limits<Stored>::max();
}

} // namespace

FrameList::FrameList(std::span<const cut::CutFrame> frames) {
    for (const auto& frame : frames)
        push_back(frame);
}

FrameList::Row& FrameList::addRow() {
    if (count % chunkRows == 0) {
        chunks.emplace_back();
        chunks.back().reserve(chunkRows);
    }
    ++count;
    return chunks.back().emplace_back();
}

void FrameList::addBlank(cut::State state, std::uint16_t flags, disc::EstimateGrade grade) {
    auto& row = addRow();
    row.wide.fill(std::numeric_limits<std::int64_t>::min());
    row.narrow.fill(std::numeric_limits<std::int32_t>::min());
    row.flags = flags;
    row.state = state;
    row.grade = grade;
}

void FrameList::set(std::size_t column, std::int64_t stored) {
    auto& row = chunks.back().back();
    const auto place = packing::places[column];
    if (place.wide && hasRoom<std::int64_t>(stored))
        row.wide[place.slot] = stored;
    else if (!place.wide && hasRoom<std::int32_t>(stored))
        row.narrow[place.slot] = static_cast<std::int32_t>(stored);
    else
        set(column, static_cast<double>(stored) / powerOfTen(frameColumns[column].decimals));
}

void FrameList::set(std::size_t column, double figure) {
    if (!std::isfinite(figure))
        return;
    auto& row = chunks.back().back();
    const auto place = packing::places[column];
    if (place.wide)
        row.wide[place.slot] = std::numeric_limits<std::int64_t>::min() + 1;
    else
        row.narrow[place.slot] = std::numeric_limits<std::int32_t>::min() + 1;
    otherFigures[keyOf(count - 1, column)] = figure;
}

void FrameList::push_back(const cut::CutFrame& frame) {
    addBlank(frame.state, frame.flags, frame.estimate.grade);
    for (std::size_t i = 0; i < frameColumns.size(); ++i) {
        const auto figure = frameColumns[i].get(frame);
        if (std::isfinite(figure) && hasPlaces(figure, frameColumns[i].decimals))
            set(i, log::places(figure, frameColumns[i].decimals));
        else
            set(i, figure);
    }
}

void FrameList::append(FrameList&& more) {
    for (const auto& [key, figure] : more.otherFigures)
        otherFigures[key + keyOf(count, 0)] = figure;
    if (count % chunkRows == 0) { // as they are
        count += more.count;
        chunks.insert(chunks.end(), std::make_move_iterator(more.chunks.begin()),
                      std::make_move_iterator(more.chunks.end()));
    } else
        for (auto& chunk : more.chunks) {
            for (const auto& row : chunk)
                addRow() = row;
            chunk = {}; // as it goes: never all of it twice
        }
    more = {};
}

double FrameList::programEnd_s() const {
    auto ended = count;
    while (ended > 0 && state(ended - 1) != cut::State::program)
        --ended;
    return ended > 0 ? time_s(ended - 1) : 0;
}

double FrameList::otherFigure(std::size_t row, std::size_t column) const {
    return otherFigures.at(keyOf(row, column));
}

template <std::size_t... Columns>
void FrameList::fill(cut::CutFrame& frame, std::size_t i, std::index_sequence<Columns...>) const {
    ((frameColumns[Columns].of(frame) = figure<Columns>(i)), ...);
}

cut::CutFrame FrameList::operator[](std::size_t i) const {
    cut::CutFrame frame{};
    const auto& row = rowAt(i);
    frame.state = row.state;
    frame.flags = row.flags;
    frame.estimate.grade = row.grade;
    fill(frame, i, std::make_index_sequence<frameColumns.size()>());
    return frame;
}

} // namespace headland::log
