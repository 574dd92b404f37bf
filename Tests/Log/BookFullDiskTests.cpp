// SPDX-License-Identifier: GPL-3.0-or-later
// A disk that is really full: a small file system in memory, mounted by a child process for itself alone.

#include "Tests/Log/Books.h"
#include "Tests/Support/Child.h"

#include <catch2/catch.hpp>

#include <cstring>
#include <sched.h>
#include <sys/mount.h>

using namespace headland;
using namespace headland::test;
using Catch::Matchers::Contains;

namespace {

constexpr std::int64_t frames = 3000;

/// Mounts `size` of file system there, for this process only; throws when neither root nor a user namespace may.
void mountSmallDisk(const std::string& place, const std::string& size) {
    const auto user = std::to_string(::getuid()), group = std::to_string(::getgid());
    const auto isRoot = ::geteuid() == 0;
    if (::unshare(isRoot ? CLONE_NEWNS : CLONE_NEWUSER | CLONE_NEWNS) != 0)
        throw std::runtime_error(
            std::string("no disk of its own for the test, as no mount namespace is allowed here (")
            + std::strerror(errno) + "); run it as root or allow user namespaces.");
    if (!isRoot) { // a file of nobody's cannot be made
        put("/proc/self/uid_map", "0 " + user + " 1");
        put("/proc/self/setgroups", "deny");
        put("/proc/self/gid_map", "0 " + group + " 1");
    }
    if (::mount("none", "/", nullptr, MS_REC | MS_PRIVATE, nullptr) != 0
        || ::mount("none", place.c_str(), "tmpfs", 0, ("size=" + size).c_str()) != 0)
        throw std::runtime_error(
            std::string("no disk of its own for the test, as nothing may be mounted here (")
            + std::strerror(errno) + "); run it as root or allow user namespaces.");
}

/// Fills the disk up but for so much; returns the file that does it.
std::string fillUp(const TestFolder& folder, std::size_t left_bytes) {
    const auto filler = folder / "filler";
    const auto space_bytes = std::filesystem::space(folder.path()).available;
    put(filler, std::string(space_bytes - left_bytes, 'x'));
    return filler;
}

} // namespace

TEST_CASE("A disk that runs full during a cut is said, and the cut is complete when there is room again") {
    const TestFolder folder;
    const auto said = inChild([&]() -> std::string {
        mountSmallDisk(folder.path().string(), "3m");
        const auto path = folder / "book.headland";
        log::BookWriter writer(path);
        writer.begin(madeUpHead());
        tell(writer, 0, 100);
        if (!writer.flush(longEnough))
            return "the first frames were not written: " + writer.status().trouble;
        const auto filler = fillUp(folder, 100000);
        tell(writer, 100, frames);
        writer.event({frames, 1, "cue", "finish", NAN});
        const auto trouble = troubleWith(writer, "disk is full");
        const auto waiting = writer.status().framesWaiting;
        std::filesystem::remove(filler);
        writer.end(finishedAfter(frames));
        if (!writer.flush(longEnough))
            return "not complete: " + writer.status().trouble;
        if (!writer.status().trouble.empty())
            return "complete, and yet: " + writer.status().trouble;
        return trouble + "|" + std::to_string(waiting > 1000 && waiting < frames) + "|"
               + faultOf(path, 1, frames);
    });
    CHECK_THAT(said,
               Contains("book.headland cannot grow: its disk is full; make room there. The cut goes on: ")
                   && Contains("wait in memory, which has room for ") && Catch::EndsWith(" more.|1|"));
}

TEST_CASE("A disk that is full from the start is said, and the cut is complete when there is room again") {
    for (const std::size_t left_bytes :
         {0, 5000, 30000, 140000, 180000}) { // the book cannot be begun, or its log cannot
        const TestFolder folder;
        const auto said = inChild([&]() -> std::string {
            mountSmallDisk(folder.path().string(), "3m");
            const auto path = folder / "book.headland";
            const auto filler = fillUp(folder, left_bytes);
            log::BookWriter writer(path);
            writer.begin(madeUpHead());
            tell(writer, 0, frames);
            const auto trouble = troubleWith(writer, "disk is full");
            std::filesystem::remove(filler);
            writer.end(finishedAfter(frames));
            if (!writer.flush(longEnough))
                return "not complete: " + writer.status().trouble;
            return trouble + "|" + faultOf(path, 1, frames);
        });
        INFO(left_bytes << " bytes left");
        CHECK_THAT(said, Contains("its disk is full; make room there.") && Catch::EndsWith("more.|"));
    }
}
