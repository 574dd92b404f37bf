// SPDX-License-Identifier: GPL-3.0-or-later
// A first-in first-out ring of plain values from one thread to one other; what does not fit is refused and counted.
// Two running indices, each written by one side only, released by its writer and acquired by the other side.
// Threads: push() of a producer, pop() and drain() of a consumer, refused() and capacity() of anybody.
// The ring is made before and destroyed after both of them.
#pragma once

#include "HandOff/CacheLine.h"

#include <algorithm>
#include <atomic>
#include <bit>
#include <cstdint>
#include <span>
#include <type_traits>
#include <vector>

namespace headland::handoff {

template <typename T>
class Queue {
    static_assert(std::is_trivially_copyable_v<T>, "a value is copied whole, by nothing that could allocate");
    static_assert(std::atomic<std::size_t>::is_always_lock_free);
    static_assert(std::atomic<std::uint64_t>::is_always_lock_free);

public:
    /// Room for at least `leastCapacity` values (1 or more), rounded up to a power of two. Allocates.
    explicit Queue(std::size_t leastCapacity)
        : slots(std::bit_ceil(std::max<std::size_t>(leastCapacity, 1))), mask(slots.size() - 1) {}

    Queue(const Queue&) = delete;
    Queue& operator=(const Queue&) = delete;

    /// Producer: puts one value in; false, and counted, when there is no room. Wait-free.
    bool push(const T& value) noexcept {
        const auto at = written.load(std::memory_order_relaxed);
        if (at - taken.load(std::memory_order_acquire) > mask) {
            refusals.store(refusals.load(std::memory_order_relaxed) + 1, std::memory_order_relaxed);
            return false;
        }
        slots[at & mask] = value;
        written.store(at + 1, std::memory_order_release);
        return true;
    }

    /// Consumer: takes the oldest value; false, and `value` left alone, when there is none. Wait-free.
    bool pop(T& value) noexcept { return drain({&value, 1}) == 1; }

    /// Consumer: takes the oldest values, as many as there are or as `values` has room for; returns how many.
    /// Wait-free: what is pushed meanwhile stays for the next time.
    std::size_t drain(std::span<T> values) noexcept {
        const auto at = taken.load(std::memory_order_relaxed);
        const auto count = std::min(written.load(std::memory_order_acquire) - at, values.size());
        for (std::size_t i = 0; i < count; ++i)
            values[i] = slots[(at + i) & mask];
        taken.store(at + count, std::memory_order_release);
        return count;
    }

    /// How many values push() has refused since construction; from the producer exact, from others of late. Wait-free.
    std::uint64_t refused() const noexcept { return refusals.load(std::memory_order_relaxed); }

    /// How many values fit. Wait-free.
    std::size_t capacity() const noexcept { return slots.size(); }

private:
    std::vector<T> slots;
    std::size_t mask;
    alignas(cacheLine_bytes) std::atomic<std::size_t> written{0}; // by the producer: values pushed, ever
    std::atomic<std::uint64_t> refusals{0};                       // by the producer
    alignas(cacheLine_bytes) std::atomic<std::size_t> taken{0};   // by the consumer: values taken, ever
};

} // namespace headland::handoff
