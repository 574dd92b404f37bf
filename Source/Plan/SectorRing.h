// SPDX-License-Identifier: GPL-3.0-or-later
// A window of values addressed by their sector's (or boundary's) own number, however long the side runs: the newest
// `capacity` ones are kept, an older one's place is taken over. Sized once; audio thread.
#pragma once

#include <bit>
#include <cstdint>
#include <vector>

namespace headland::plan {

template <typename T>
class SectorRing {
public:
    SectorRing() = default;
    explicit SectorRing(std::int64_t least, T initial = {})
        : values(std::bit_ceil(static_cast<std::size_t>(least)), initial) {}

    T& operator[](std::int64_t index) noexcept { return values[slot(index)]; }
    const T& operator[](std::int64_t index) const noexcept { return values[slot(index)]; }

private:
    std::size_t slot(std::int64_t index) const noexcept {
        return static_cast<std::size_t>(index) & (values.size() - 1);
    }
    std::vector<T> values;
};

} // namespace headland::plan
