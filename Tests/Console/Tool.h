// SPDX-License-Identifier: GPL-3.0-or-later
// Runs the finished tool as a person would: its arguments in, exit code and text out, with signals and terminals where
// a test wants them.

#pragma once

#include <cerrno>
#include <csignal>
#include <fcntl.h>
#include <poll.h>
#include <spawn.h>
#include <stdexcept>
#include <string>
#include <sys/wait.h>
#include <unistd.h>
#include <vector>

extern char** environ;

namespace headland::test {

/// What a run left behind.
struct ToolResult {
    int code = -1; ///< exit code; -1 when it was killed
    std::string out;
    std::string err;
};

/// One run of the tool, its standard output and error in pipes unless other descriptors are given.
class ToolRun {
public:
    explicit ToolRun(std::vector<std::string> arguments, int outDescriptor = -1, int errDescriptor = -1) {
        const auto out = outDescriptor < 0 ? openPipe(outRead) : outDescriptor;
        const auto err = errDescriptor < 0 ? openPipe(errRead) : errDescriptor;
        start(std::move(arguments), out, err);
        if (outDescriptor < 0)
            ::close(out);
        if (errDescriptor < 0)
            ::close(err);
    }
    ~ToolRun() {
        if (process > 0 && !ended) {
            ::kill(process, SIGKILL);
            ::waitpid(process, nullptr, 0);
        }
        for (const auto descriptor : {outRead, errRead})
            if (descriptor >= 0)
                ::close(descriptor);
    }
    ToolRun(const ToolRun&) = delete;
    ToolRun& operator=(const ToolRun&) = delete;

    void signal(int number) { ::kill(process, number); }

    /// Reads all the tool says and waits for its end.
    ToolResult wait() {
        ToolResult result;
        readAll(result);
        int status = 0;
        while (::waitpid(process, &status, 0) < 0 && errno == EINTR) {
        }
        ended = true;
        result.code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
        return result;
    }

private:
    static int openPipe(int& readEnd) {
        int ends[2];
        if (::pipe2(ends, O_CLOEXEC) != 0)
            throw std::runtime_error("no pipe for the tool");
        readEnd = ends[0];
        return ends[1];
    }

    void start(std::vector<std::string> arguments, int out, int err) {
        arguments.insert(arguments.begin(), HEADLAND_TOOL);
        std::vector<char*> values;
        for (auto& argument : arguments)
            values.push_back(argument.data());
        values.push_back(nullptr);
        posix_spawn_file_actions_t actions;
        posix_spawn_file_actions_init(&actions);
        posix_spawn_file_actions_adddup2(&actions, out, STDOUT_FILENO);
        posix_spawn_file_actions_adddup2(&actions, err, STDERR_FILENO);
        posix_spawnattr_t attributes;
        posix_spawnattr_init(&attributes);
        sigset_t toDefault; // a test run in the background would hand on an ignored SIGINT
        sigemptyset(&toDefault);
        sigaddset(&toDefault, SIGINT);
        sigaddset(&toDefault, SIGTERM);
        sigaddset(&toDefault, SIGHUP);
        sigaddset(&toDefault, SIGXFSZ);
        posix_spawnattr_setsigdefault(&attributes, &toDefault);
        posix_spawnattr_setflags(&attributes, POSIX_SPAWN_SETSIGDEF);
        const auto failed =
            ::posix_spawn(&process, HEADLAND_TOOL, &actions, &attributes, values.data(), environ);
        posix_spawn_file_actions_destroy(&actions);
        posix_spawnattr_destroy(&attributes);
        if (failed != 0)
            throw std::runtime_error("the tool cannot be started: " HEADLAND_TOOL);
    }

    /// Takes what there is; false at the end.
    static bool readSome(int descriptor, std::string& text) {
        char bytes[4096];
        const auto count = ::read(descriptor, bytes, sizeof bytes);
        if (count > 0)
            text.append(bytes, static_cast<std::size_t>(count));
        return count > 0 || (count < 0 && errno == EINTR);
    }

    void readAll(ToolResult& result) {
        pollfd ends[2]{{outRead, POLLIN, 0}, {errRead, POLLIN, 0}}; // a negative one is passed over
        while (ends[0].fd >= 0 || ends[1].fd >= 0) {
            if (::poll(ends, 2, -1) < 0)
                continue;
            if (ends[0].revents != 0 && !readSome(outRead, result.out))
                ends[0].fd = -1;
            if (ends[1].revents != 0 && !readSome(errRead, result.err))
                ends[1].fd = -1;
        }
    }

    pid_t process = -1;
    int outRead = -1;
    int errRead = -1;
    bool ended = false;
};

/// Runs the tool to its end.
inline ToolResult runTool(std::vector<std::string> arguments) {
    return ToolRun(std::move(arguments)).wait();
}

} // namespace headland::test
