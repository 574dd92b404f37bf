// SPDX-License-Identifier: GPL-3.0-or-later
// One number that any thread may set and any thread may read, by itself: nothing is promised about when it is seen
// beside other cells. For the values of parameters and for counters.
// Threads: any.
#pragma once

#include <atomic>

namespace headland::handoff {

template <typename T>
class Cell {
    static_assert(std::atomic<T>::is_always_lock_free);

public:
    Cell() = default;
    explicit Cell(T initial) noexcept : value(initial) {}

    /// Wait-free.
    T get() const noexcept { return value.load(std::memory_order_relaxed); }
    /// Wait-free.
    void set(T wanted) noexcept { value.store(wanted, std::memory_order_relaxed); }
    /// Counts one up, for whoever looks whether anything has changed: what was set before by this thread is then seen by
    /// who sees the count (seen()). Wait-free.
    void count() noexcept { value.fetch_add(1, std::memory_order_release); }
    /// The count, see count(). Wait-free.
    T seen() const noexcept { return value.load(std::memory_order_acquire); }

private:
    std::atomic<T> value{};
};

} // namespace headland::handoff
