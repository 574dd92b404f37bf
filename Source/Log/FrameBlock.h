// SPDX-License-Identifier: GPL-3.0-or-later
// The figures of some frames as they are, for as long as it takes to hand the frames on; filled in like a FrameList, figure
// by figure, and with the same figures to the last bit. One thread at a time, not the audio thread.
#pragma once

#include "Log/FrameColumns.h"

#include <array>
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
        rows.push_back({none, flags, state, grade});
    }
    /// Of the last frame, by the column's index: a whole number of its last decimal, or the figure itself.
    void set(std::size_t column, std::int64_t stored) noexcept {
        rows.back().figures[column] = static_cast<double>(stored) / powerOfTen(frameColumns[column].decimals);
    }
    void set(std::size_t column, double figure) noexcept {
        if (std::isfinite(figure))
            rows.back().figures[column] = figure;
    }
    /// Figures that take room of their own: here none does.
    static constexpr std::size_t others() noexcept { return 0; }

    std::size_t size() const noexcept { return rows.size(); }
    double time_s(std::size_t i) const noexcept { return rows[i].figures[columnNamed("time_s")]; }
    double turn(std::size_t i) const noexcept { return rows[i].figures[columnNamed("turn")]; }
    double radius_mm(std::size_t i) const noexcept { return rows[i].figures[columnNamed("radius_mm")]; }
    cut::CutFrame operator[](std::size_t i) const noexcept {
        cut::CutFrame frame{};
        fill(frame, rows[i].figures, std::make_index_sequence<frameColumns.size()>());
        frame.state = rows[i].state;
        frame.flags = rows[i].flags;
        frame.estimate.grade = rows[i].grade;
        return frame;
    }

private:
    using Figures = std::array<double, frameColumns.size()>;
    struct Row {
        Figures figures;
        std::uint16_t flags;
        cut::State state;
        disc::EstimateGrade grade;
    };
    static constexpr Figures none = [] {
        Figures figures{};
        for (std::size_t i = 0; i < figures.size(); ++i)
            figures[i] = frameColumns[i].absent;
        return figures;
    }();

    template <std::size_t... Columns>
    static void fill(cut::CutFrame& frame, const Figures& figures, std::index_sequence<Columns...>) noexcept {
        ((frameColumns[Columns].of(frame) = figures[Columns]), ...);
    }

    std::vector<Row> rows;
};

} // namespace headland::log
