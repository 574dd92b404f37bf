// SPDX-License-Identifier: GPL-3.0-or-later
// A gate the audio thread goes through for each block, and another thread can close: once it is closed no block is under
// way and none begins until it is opened. One atomic: open, somebody inside, closed.
// Threads: enter() and leave() of one audio thread, close() and open() of one other.
#pragma once

#include <atomic>
#include <chrono>
#include <thread>

namespace headland::handoff {

class Gate {
public:
    /// Audio thread: true when it may go through; then leave() must follow. Wait-free.
    bool enter() noexcept {
        auto expected = free;
        return state.compare_exchange_strong(expected, inside, std::memory_order_acquire,
                                             std::memory_order_relaxed);
    }

    /// Audio thread: it is through. Wait-free.
    void leave() noexcept { state.store(free, std::memory_order_release); }

    /// The other thread: waits until nobody is inside, and lets nobody in from then on. Blocks for at most a block.
    void close() noexcept {
        for (auto expected = free; !state.compare_exchange_strong(expected, closed, std::memory_order_acquire,
                                                                  std::memory_order_relaxed)
                                   && expected != closed;
             expected = free)
            std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }

    /// The other thread: lets the audio thread in again. Wait-free.
    void open() noexcept { state.store(free, std::memory_order_release); }

private:
    static constexpr int free = 0, inside = 1, closed = 2;
    static_assert(std::atomic<int>::is_always_lock_free);

    std::atomic<int> state{free};
};

} // namespace headland::handoff
