// SPDX-License-Identifier: GPL-3.0-or-later
// What a run of a whole program costs, as the system counts it; the time a thread has worked; and the program file that the
// benchmarks share.
#pragma once

#include "Tests/Files/TestFolder.h"
#include "Tests/Reference/Command.h"

#include <catch2/catch.hpp>
#include <chrono>
#include <ctime>
#include <fcntl.h>
#include <spawn.h>
#include <sstream>
#include <string>
#include <sys/wait.h>
#include <unistd.h>
#include <vector>

extern char** environ;

namespace headland::test {

inline double threadTime_s() {
    timespec now{};
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
    return static_cast<double>(now.tv_sec) + static_cast<double>(now.tv_nsec) * 1e-9;
}

/// What one run of a program cost.
struct Cost {
    int code;
    double cpu_s;
    double memory_mb; ///< greatest resident set
    double wall_s;
};

/// Runs a program without input or output, under GNU time: a process counts as its own the memory of the one it was forked
/// from, which is time's megabyte or two and not ours.
inline Cost costOf(std::vector<std::string> arguments) {
    const TestFolder folder;
    const auto measured = folder / "measured";
    arguments.insert(arguments.begin(), {"/usr/bin/time", "-q", "-o", measured, "-f", "%U %S %M"});
    std::vector<char*> values;
    for (auto& argument : arguments)
        values.push_back(argument.data());
    values.push_back(nullptr);
    posix_spawn_file_actions_t nowhere;
    posix_spawn_file_actions_init(&nowhere);
    for (const auto descriptor : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO})
        posix_spawn_file_actions_addopen(&nowhere, descriptor, "/dev/null", O_RDWR, 0);
    pid_t process = -1;
    const auto start = std::chrono::steady_clock::now();
    const auto failed = ::posix_spawnp(&process, values[0], &nowhere, nullptr, values.data(), environ);
    posix_spawn_file_actions_destroy(&nowhere);
    REQUIRE(failed == 0);
    int status = 0;
    REQUIRE(::waitpid(process, &status, 0) == process);
    const auto wall_s = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    std::istringstream figures(contentOf(measured));
    double user_s = 0, system_s = 0, memory_kb = 0;
    REQUIRE((figures >> user_s >> system_s >> memory_kb));
    return {WIFEXITED(status) ? WEXITSTATUS(status) : -1, user_s + system_s, memory_kb / 1024, wall_s};
}

/// Two independent channels of pink noise that swell and fade, each at its own pace; the same file every time (sox -R).
/// 20 minutes at this level fill a 30 cm side to its last millimetres.
inline void makeProgram(const std::string& path, int length_s) {
    const auto length = std::to_string(length_s);
    runCommand("sox -R -V1 -n -r 44100 -b 16 " + quoted(path) + " synth " + length
               + " pinknoise pinknoise synth " + length
               + " sine amod 0.031 30 sine amod 0.043 30 gain -h -10");
}

} // namespace headland::test
