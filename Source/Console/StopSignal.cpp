// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/StopSignal.h"

#include <atomic>

namespace headland::console {

namespace {

// A signal handler can reach nothing but a static; this is the tool's only mutable one.
std::atomic<bool> stopAsked{false};
static_assert(std::atomic<bool>::is_always_lock_free, "a signal handler may touch lock-free atomics only");

void noteSignal(int) {
    stopAsked.store(true, std::memory_order_relaxed);
}

/// Notes the signal, unless the tool was started with it ignored (nohup, or in the background of a script).
void install(int signalNumber, struct sigaction& previous) {
    struct sigaction action {};
    action.sa_handler = noteSignal;
    action.sa_flags = SA_RESTART; // a read from disk under way goes on; we stop between blocks
    sigemptyset(&action.sa_mask);
    sigaction(signalNumber, nullptr, &previous);
    if (previous.sa_handler != SIG_IGN)
        sigaction(signalNumber, &action, nullptr);
}

} // namespace

StopSignal::StopSignal() {
    stopAsked.store(false, std::memory_order_relaxed);
    install(SIGINT, previousInterrupt);
    install(SIGTERM, previousTerminate);
}

StopSignal::~StopSignal() {
    sigaction(SIGINT, &previousInterrupt, nullptr);
    sigaction(SIGTERM, &previousTerminate, nullptr);
}

bool StopSignal::isSet() const noexcept {
    return stopAsked.load(std::memory_order_relaxed);
}

void StopSignal::check() const {
    if (isSet())
        throw Stopped{};
}

} // namespace headland::console
