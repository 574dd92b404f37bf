// SPDX-License-Identifier: GPL-3.0-or-later
// A child process for what may not be done to the process of the tests, or what only another process can do. Fork before
// the parent has threads. A child makes no assertion: it says how it went.
#pragma once

#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <exception>
#include <stdexcept>
#include <string>
#include <string_view>
#include <sys/wait.h>
#include <unistd.h>

namespace headland::test {

/// Starts `work`, which returns an exit code, in a child process.
template <typename Work>
pid_t startChild(Work work) {
    const auto child = ::fork();
    if (child < 0)
        throw std::runtime_error("no child process for the test");
    if (child != 0)
        return child;
    try {
        ::_exit(work());
    } catch (...) { // what was thrown is lost; the code tells
        ::_exit(99);
    }
}

/// Waits for its end; its exit code, or minus the signal that ended it.
inline int resultOf(pid_t child) {
    int status = 0;
    while (::waitpid(child, &status, 0) < 0 && errno == EINTR) {
    }
    return WIFEXITED(status) ? WEXITSTATUS(status) : -WTERMSIG(status);
}

/// Writes all of it, however it is cut up on the way.
inline bool sendAll(int descriptor, std::string_view text) {
    while (!text.empty()) {
        const auto sent_bytes = ::write(descriptor, text.data(), text.size());
        if (sent_bytes <= 0)
            return false;
        text.remove_prefix(static_cast<std::size_t>(sent_bytes));
    }
    return true;
}

/// Runs `work` in a child process and returns what it said.
template <typename Work>
std::string inChild(Work work) {
    int channel[2];
    if (::pipe(channel) != 0)
        throw std::runtime_error("no pipe for the child process");
    const auto child = startChild([&] {
        try {
            return sendAll(channel[1], work()) ? 0 : 1;
        } catch (const std::exception& error) {
            return sendAll(channel[1], std::string("thrown: ") + error.what()) ? 0 : 1;
        }
    });
    ::close(channel[1]);
    std::string text;
    char bytes[4096];
    for (ssize_t count; (count = ::read(channel[0], bytes, sizeof bytes)) > 0;)
        text.append(bytes, static_cast<std::size_t>(count));
    ::close(channel[0]);
    if (const auto code = resultOf(child); code != 0)
        text += " (the child ended with " + std::to_string(code) + ")";
    return text;
}

/// From here on this process is a user who may write only what is allowed: root may write everywhere. False: still root.
inline bool becomeNobody() {
    return ::geteuid() != 0 || ::setuid(65534) == 0;
}

} // namespace headland::test
