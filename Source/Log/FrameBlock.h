// SPDX-License-Identifier: GPL-3.0-or-later
// Some frames as they are, for as long as it takes to hand them on; filled in like a FrameList, figure by figure, and with the
// same figures to the last bit. One thread at a time, not the audio thread.
#pragma once

#include "Log/FrameColumns.h"

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

namespace headland::log {

class FrameBlock {
public:
    /// For other frames in the same room.
    void clear() noexcept { rows.clear(); }
    /// A frame without any figure; set() fills them in.
    void addBlank(cut::State state, std::uint16_t flags, disc::EstimateGrade grade) {
        auto& frame = rows.emplace_back(none);
        frame.state = state;
        frame.flags = flags;
        frame.estimate.grade = grade;
    }
    /// Of the last frame, by the column's index: a whole number of its last decimal, or the figure itself.
    template <std::size_t Column>
    void set(std::int64_t stored) noexcept {
        constexpr auto& column = frameColumns[Column];
        column.of(rows.back()) = static_cast<double>(stored) / powerOfTen(column.decimals);
    }
    template <std::size_t Column>
    void set(double figure) noexcept {
        if (std::isfinite(figure))
            frameColumns[Column].of(rows.back()) = figure;
    }
    /// Figures that take room of their own: here none does.
    static constexpr std::size_t others() noexcept { return 0; }

    std::size_t size() const noexcept { return rows.size(); }
    double time_s(std::size_t i) const noexcept { return rows[i].time_s; }
    double turn(std::size_t i) const noexcept { return rows[i].turn; }
    double radius_mm(std::size_t i) const noexcept { return rows[i].radius_mm; }
    const cut::CutFrame& operator[](std::size_t i) const noexcept { return rows[i]; }

private:
    static constexpr cut::CutFrame none = [] {
        cut::CutFrame frame{};
        for (const auto& column : frameColumns)
            column.of(frame) = column.absent;
        return frame;
    }();

    std::vector<cut::CutFrame> rows;
};

} // namespace headland::log
