// SPDX-License-Identifier: GPL-3.0-or-later
// The frames of a cut, packed: every figure as the log keeps it, a whole number of its last decimal, in about half the room
// of a CutFrame. What comes out is what a book gives back of what went in. Three hours of 256 sectors a turn take 190 MB.
// One thread at a time; for readers alone any number.
#pragma once

#include "Log/FrameColumns.h"

#include <array>
#include <cstddef>
#include <cstdint>
#include <iterator>
#include <span>
#include <string_view>
#include <unordered_map>
#include <utility>
#include <vector>

namespace headland::log {

/// Where a packed frame keeps its figures.
namespace packing {

/// Figures that go beyond 32 bits as a matter of course.
constexpr bool isWide(std::size_t column) noexcept {
    const auto name = frameColumns[column].name;
    return name == "time_s" || name == "turn" || name == "curvature_min_um";
}
inline constexpr std::size_t wideCount = 3;

struct Place {
    bool wide;
    std::uint8_t slot; ///< among its kind
};
inline constexpr auto places = [] {
    std::array<Place, frameColumns.size()> all{};
    std::uint8_t wide = 0, narrow = 0;
    for (std::size_t i = 0; i < all.size(); ++i)
        all[i] = isWide(i) ? Place{true, wide++} : Place{false, narrow++};
    return all;
}();

} // namespace packing

class FrameList {
public:
    FrameList() = default;
    explicit FrameList(std::span<const cut::CutFrame> frames);

    void push_back(const cut::CutFrame& frame);
    void clear() { *this = {}; }
    /// A frame without any figure; set() fills them in.
    void addBlank(cut::State state, std::uint16_t flags, disc::EstimateGrade grade);
    /// Of the last frame, by the column's index: a whole number of its last decimal, or the figure itself.
    void set(std::size_t column, std::int64_t stored);
    void set(std::size_t column, double figure);
    /// How many figures of all frames are no whole number of their place.
    std::size_t others() const noexcept { return otherFigures.size(); }
    /// Takes over all of another list, which is empty afterwards.
    void append(FrameList&& more);

    std::size_t size() const noexcept { return count; }
    bool empty() const noexcept { return count == 0; }
    cut::CutFrame operator[](std::size_t i) const;
    cut::CutFrame front() const { return (*this)[0]; }
    cut::CutFrame back() const { return (*this)[count - 1]; }
    /// Single figures, without unpacking the rest.
    double time_s(std::size_t i) const { return figure<columnNamed("time_s")>(i); }
    double turn(std::size_t i) const { return figure<columnNamed("turn")>(i); }
    double radius_mm(std::size_t i) const { return figure<columnNamed("radius_mm")>(i); }
    cut::State state(std::size_t i) const noexcept { return rowAt(i).state; }
    /// Program time up to which there is program; 0: there is none.
    double programEnd_s() const;

    /// Index of the first frame of which `isBefore(i)` is false; size() when there is none. It must be true of the first so
    /// many, and of no other.
    template <typename IsBefore>
    std::size_t firstNot(IsBefore isBefore) const {
        std::size_t from = 0;
        for (auto left = count; left > 0;) {
            const auto half = left / 2;
            if (isBefore(from + half)) {
                from += half + 1;
                left -= half + 1;
            } else
                left = half;
        }
        return from;
    }

    /// For loops over all: frames by value, one after the other.
    class Iterator {
    public:
        using value_type = cut::CutFrame;
        using difference_type = std::ptrdiff_t;
        Iterator() = default;
        Iterator(const FrameList& frames, std::size_t index) noexcept : list(&frames), at(index) {}
        cut::CutFrame operator*() const { return (*list)[at]; }
        Iterator& operator++() noexcept {
            ++at;
            return *this;
        }
        Iterator operator++(int) noexcept {
            auto before = *this;
            ++at;
            return before;
        }
        bool operator==(const Iterator& other) const noexcept { return at == other.at; }

    private:
        const FrameList* list = nullptr;
        std::size_t at = 0;
    };
    Iterator begin() const noexcept { return {*this, 0}; }
    Iterator end() const noexcept { return {*this, count}; }

private:
    /// The least two values of either kind stand for: no such figure, and: it is in `otherFigures`.
    struct Row {
        std::array<std::int64_t, packing::wideCount> wide;
        std::array<std::int32_t, frameColumns.size() - packing::wideCount> narrow;
        std::uint16_t flags;
        cut::State state;
        disc::EstimateGrade grade;
    };

    static constexpr std::size_t chunkRows = 4096;

    Row& rowAt(std::size_t i) noexcept { return chunks[i / chunkRows][i % chunkRows]; }
    const Row& rowAt(std::size_t i) const noexcept { return chunks[i / chunkRows][i % chunkRows]; }
    std::uint64_t keyOf(std::size_t row, std::size_t column) const noexcept {
        return static_cast<std::uint64_t>(row) * frameColumns.size() + column;
    }
    Row& addRow();
    template <std::size_t Column>
    double figure(std::size_t i) const;
    double otherFigure(std::size_t row, std::size_t column) const;
    template <std::size_t... Columns>
    void fill(cut::CutFrame& frame, std::size_t i, std::index_sequence<Columns...>) const;

    std::vector<std::vector<Row>> chunks; ///< full but for the last: none is ever moved to grow
    std::size_t count = 0;
    std::unordered_map<std::uint64_t, double>
        otherFigures; ///< figures that are no whole number of that size, by keyOf()
};

template <std::size_t Column>
double FrameList::figure(std::size_t i) const {
    constexpr auto& column = frameColumns[Column];
    const auto decoded = [&](auto stored) {
        using Stored = decltype(stored);
        constexpr auto absent = std::numeric_limits<Stored>::min();
        if (stored > absent + 1) [[likely]]
            return static_cast<double>(stored) / powerOfTen(column.decimals);
        return stored == absent ? column.absent : otherFigure(i, Column);
    };
    constexpr auto place = packing::places[Column];
    if constexpr (place.wide)
        return decoded(rowAt(i).wide[place.slot]);
    else
        return decoded(rowAt(i).narrow[place.slot]);
}

} // namespace headland::log
