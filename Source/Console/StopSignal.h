// SPDX-License-Identifier: GPL-3.0-or-later
// Ctrl-C, a polite kill and a terminal that is closed (SIGINT, SIGTERM, SIGHUP) while a cut runs: noted, and asked about between blocks, so that the work
// ends in order and leaves no half-written file. Work that does not end within a few seconds, because a disk or a lock does
// not answer, is ended all the same, by the system's alarm clock. The previous handling is restored at the end. One at a
// time, on the main thread.
#pragma once

#include <signal.h>

namespace headland::console {

/// Thrown by the work when it finds that the user has stopped it.
struct Stopped {
    const char* sentence = "Stopped; nothing has been written."; ///< as said to a person
};

/// How long after the first signal the work may take to end in order.
inline constexpr unsigned stopGrace_s = 5;

/// Notes the signals for as long as it lives.
class StopSignal {
public:
    /// Begins to note; a signal noted by an earlier one is forgotten.
    StopSignal();
    ~StopSignal();
    StopSignal(const StopSignal&) = delete;
    StopSignal& operator=(const StopSignal&) = delete;

    /// True once the user has asked to stop.
    bool isSet() const noexcept;

    /// Throws Stopped once the user has asked to stop.
    void check() const;

private:
    struct sigaction previousInterrupt {};
    struct sigaction previousTerminate {};
    struct sigaction previousHangUp {};
    struct sigaction previousAlarm {};
};

} // namespace headland::console
