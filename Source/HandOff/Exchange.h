// SPDX-License-Identifier: GPL-3.0-or-later
// Hands an object that is too big to copy to the audio thread, and takes the one before it back to be destroyed.
// Two places between the threads: the newest object on offer, and the one the audio thread has done with. The audio
// thread switches only while the second is free, so it never has to destroy anything.
// Threads: offer() and collect() of a service thread, take() and current() of the audio thread. Made before and
// destroyed after both of them.
#pragma once

#include "HandOff/CacheLine.h"

#include <atomic>
#include <memory>

namespace headland::handoff {

template <typename T>
class Exchange {
    static_assert(std::atomic<T*>::is_always_lock_free);

public:
    Exchange() = default;
    Exchange(const Exchange&) = delete;
    Exchange& operator=(const Exchange&) = delete;

    /// Destroys whatever is left: on offer, in use or retired.
    ~Exchange() {
        delete offered.load(std::memory_order_acquire);
        delete retired.load(std::memory_order_acquire);
        delete inUse;
    }

    /// Service thread: puts `object` on offer; an earlier offer that was not taken is destroyed here. Without an object
    /// it only withdraws the earlier offer. Wait-free, but for what T's destructor does.
    void offer(std::unique_ptr<T> object) noexcept {
        delete offered.exchange(object.release(), std::memory_order_acq_rel);
    }

    /// Audio thread: the object to use until the next call. It is the newest on offer, if the one before the present
    /// one was collected; otherwise the present one. Null until the first offer is taken. Destroys nothing. Wait-free.
    T* take() noexcept {
        return take([](T&, T&) noexcept {});
    }

    /// The same; `onSwitch(newest, before)` is called while both are still the audio thread's.
    template <typename Switch>
    T* take(Switch onSwitch) noexcept {
        if (retired.load(std::memory_order_acquire) != nullptr)
            return inUse;
        if (auto* newest = offered.exchange(nullptr, std::memory_order_acq_rel)) {
            if (inUse != nullptr)
                onSwitch(*newest, *inUse);
            retired.store(inUse, std::memory_order_release);
            inUse = newest;
        }
        return inUse;
    }

    /// Audio thread: the object in use, without looking for a newer one. Wait-free.
    T* current() noexcept { return inUse; }

    /// Service thread: destroys the object the audio thread has done with, if there is one; to be called now and then,
    /// for while one lies there no offer is taken. Wait-free, but for what T's destructor does.
    void collect() noexcept { delete retired.exchange(nullptr, std::memory_order_acq_rel); }

private:
    alignas(cacheLine_bytes) std::atomic<T*> offered{nullptr};
    alignas(cacheLine_bytes) std::atomic<T*> retired{nullptr};
    alignas(cacheLine_bytes) T* inUse = nullptr; // the audio thread's
};

} // namespace headland::handoff
