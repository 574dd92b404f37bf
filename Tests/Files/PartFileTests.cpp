// SPDX-License-Identifier: GPL-3.0-or-later
// What a killed run leaves half written, the next one removes; never what a living one writes, nor anybody else's.

#include "Files/PartFile.h"

#include "Files/OutputFile.h"
#include "Tests/Files/TestFolder.h"
#include "Tests/Support/Child.h"

#include <catch2/catch.hpp>

#include <chrono>
#include <csignal>
#include <memory>
#include <optional>
#include <sys/inotify.h>
#include <sys/stat.h>
#include <thread>

using namespace headland::files;
using namespace headland::test;

namespace {

/// A child that has begun an output there, killed without a chance to tidy up.
void killWhileWriting(const TestFolder& folder) {
    const auto before = folder.count();
    const auto child = startChild([&] {
        OutputFile file(folder / "log.csv", {});
        file.write(std::string(200000, 'x'));
        std::this_thread::sleep_for(std::chrono::seconds(60));
        return 1;
    });
    for (int i = 0; i < 3000 && folder.count() == before; ++i)
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    ::kill(child, SIGKILL);
    REQUIRE(resultOf(child) == -SIGKILL);
    REQUIRE(folder.count() == before + 1);
}

} // namespace

TEST_CASE("What a killed run has left is removed by the next one that writes into the folder") {
    const TestFolder folder;
    killWhileWriting(folder);
    OutputFile file(folder / "other.csv", {}); // of another name
    CHECK(folder.count() == 1);
    file.commit();
    CHECK(folder.count() == 1);
    CHECK(contentOf(folder / "other.csv").empty());
}

TEST_CASE("What a living run writes is left to it") {
    const TestFolder folder;
    int ready[2], go[2];
    REQUIRE(::pipe(ready) == 0);
    REQUIRE(::pipe(go) == 0);
    const auto child = startChild([&] {
        OutputFile file(folder / "living.csv", {});
        file.write("whole");
        sendAll(ready[1], "x");
        char byte = 0;
        static_cast<void>(!::read(go[0], &byte, 1));
        file.commit();
        return 0;
    });
    char byte = 0;
    REQUIRE(::read(ready[0], &byte, 1) == 1);
    {
        PartFile mine(folder / "mine.csv");
        PartFile again(folder / "mine.csv");
        CHECK(folder.count() == 3); // this process' own live as well
        PartFile::removeDead(folder.path().string());
        CHECK(folder.count() == 3);
    }
    CHECK(folder.count() == 1);
    sendAll(go[1], "x");
    CHECK(resultOf(child) == 0);
    CHECK(contentOf(folder / "living.csv") == "whole");
    for (const auto end : {ready[0], ready[1], go[0], go[1]})
        ::close(end);
}

TEST_CASE("Nothing of anybody else's is removed, whatever its name") {
    const TestFolder folder;
    put(folder / ".log.csv.4711-0.part", "another program's");
    put(folder / "side.headland.part", "not hidden");
    put(folder / "master.wav", "the master");
    std::filesystem::create_symlink("master.wav", folder / ".log.csv.4711-0.headland.part");
    std::filesystem::create_directory(folder / ".log.csv.4711-1.headland.part");
    REQUIRE(::mkfifo((folder / ".log.csv.4711-2.headland.part").c_str(), 0600) == 0);
    const auto before = folder.count();
    PartFile::removeDead(folder.path().string());
    CHECK(folder.count() == before);
    CHECK_NOTHROW(PartFile::removeDead(folder / "nowhere"));
}

TEST_CASE("What a link of such a name leads to is not even opened") { // it may be a device that minds
    const TestFolder folder;
    put(folder / "master.wav", "the master");
    std::filesystem::create_symlink("master.wav", folder / ".log.csv.4711-0.headland.part");
    const auto watch = ::inotify_init1(IN_NONBLOCK | IN_CLOEXEC);
    REQUIRE(watch >= 0);
    REQUIRE(::inotify_add_watch(watch, (folder / "master.wav").c_str(), IN_OPEN) >= 0);
    PartFile::removeDead(folder.path().string());
    char event[4096];
    CHECK(::read(watch, event, sizeof event) < 0);
    CHECK(contentOf(folder / "master.wav") == "the master"); // seen when it is opened
    CHECK(::read(watch, event, sizeof event) > 0);
    ::close(watch);
}

TEST_CASE("Many runs at once that write into one folder and tidy it up lose nothing") {
    const TestFolder folder;
    std::vector<pid_t> children;
    for (int run = 0; run < 4; ++run)
        children.push_back(startChild([&, run] {
            for (int i = 0; i < 200; ++i) {
                const auto path = folder / (std::to_string(run) + "-" + std::to_string(i % 5));
                OutputFile file(path, {});
                file.write(path);
                file.commit();
                if (contentOf(path) != path)
                    return 1;
            }
            return 0;
        }));
    for (const auto child : children)
        CHECK(resultOf(child) == 0);
    CHECK(folder.count() == 20);
}
