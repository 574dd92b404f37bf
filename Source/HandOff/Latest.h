// SPDX-License-Identifier: GPL-3.0-or-later
// The latest of a plain value, from one thread to one other: what the reader missed is gone, what it gets is whole.
// Three slots: one the writer fills, one the reader empties, and one between them that either exchanges for its own;
// its number, and whether it is new, are one atomic.
// Threads: publish() of a writer, read() of a reader. Made before and destroyed after both of them.
#pragma once

#include "HandOff/CacheLine.h"

#include <array>
#include <atomic>
#include <cstdint>
#include <type_traits>

namespace headland::handoff {

template <typename T>
class Latest {
    static_assert(std::is_trivially_copyable_v<T>, "a value is copied whole, by nothing that could allocate");
    static_assert(std::atomic<std::uint32_t>::is_always_lock_free);

public:
    Latest() = default;
    Latest(const Latest&) = delete;
    Latest& operator=(const Latest&) = delete;

    /// Writer: puts `value` in the place of what was published before. Wait-free.
    void publish(const T& value) noexcept {
        slots[writers].value = value;
        writers = between.exchange(writers | fresh, std::memory_order_acq_rel) & ~fresh;
    }

    /// Reader: the latest value, and true, if one was published since the last call; else false, and `value` is left
    /// as it is. Never goes back to an earlier one. Wait-free.
    bool read(T& value) noexcept {
        if ((between.load(std::memory_order_relaxed) & fresh) == 0)
            return false;
        readers = between.exchange(readers, std::memory_order_acq_rel) & ~fresh;
        value = slots[readers].value;
        return true;
    }

private:
    struct alignas(cacheLine_bytes) Slot {
        T value{};
    };
    static constexpr std::uint32_t fresh = 4; // beside a slot's number, 0 to 2

    std::array<Slot, 3> slots;
    alignas(cacheLine_bytes) std::uint32_t writers = 0;
    alignas(cacheLine_bytes) std::atomic<std::uint32_t> between{1};
    alignas(cacheLine_bytes) std::uint32_t readers = 2;
};

} // namespace headland::handoff
