// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/StopSignal.h"

#include "Console/ExitCode.h"

#include <atomic>
#include <string_view>
#include <unistd.h>

namespace headland::console {

namespace {

// A signal handler can reach nothing but a static; this is the tool's only mutable one.
std::atomic<bool> stopAsked{false};
static_assert(std::atomic<bool>::is_always_lock_free, "a signal handler may touch lock-free atomics only");

void noteSignal(int) {
    stopAsked.store(true, std::memory_order_relaxed);
    ::alarm(stopGrace_s);
}

/// In a signal handler: nothing but what POSIX allows there.
void endAtOnce(int) {
    constexpr std::string_view sentence = "headland: Stopped; a disk or a book did not answer, and what was "
                                          "to be written there last is lost.\n";
    static_cast<void>(!::write(STDERR_FILENO, sentence.data(), sentence.size()));
    ::_exit(static_cast<int>(ExitCode::stopped));
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
    install(SIGHUP, previousHangUp); // the terminal's window was closed
    struct sigaction alarmClock {};
    alarmClock.sa_handler = endAtOnce;
    sigemptyset(&alarmClock.sa_mask);
    sigaction(SIGALRM, &alarmClock, &previousAlarm);
}

StopSignal::~StopSignal() {
    ::alarm(0);
    sigaction(SIGALRM, &previousAlarm, nullptr);
    sigaction(SIGINT, &previousInterrupt, nullptr);
    sigaction(SIGTERM, &previousTerminate, nullptr);
    sigaction(SIGHUP, &previousHangUp, nullptr);
}

bool StopSignal::isSet() const noexcept {
    return stopAsked.load(std::memory_order_relaxed);
}

void StopSignal::check() const {
    if (isSet())
        throw Stopped{};
}

} // namespace headland::console
