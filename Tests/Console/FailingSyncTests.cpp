// SPDX-License-Identifier: GPL-3.0-or-later
// The finished tool on a disk on which every sync fails: that is a sentence and an exit code, what was there before is as
// it was, and nothing stands in a file's place as if it were on the disk.

#include "Tests/Console/Tool.h"
#include "Tests/Files/TestFolder.h"
#include "Tests/Reference/Command.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cstdlib>

using namespace headland::test;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

namespace {

/// As long as it lives, what is started finds that disk.
class FailingDisk {
public:
    explicit FailingDisk(bool syncsDatabase = false) {
        ::setenv("LD_PRELOAD", HEADLAND_FAILING_SYNC, 1);
        if (syncsDatabase)
            ::setenv("HEADLAND_TEST_SYNC", "database", 1);
    }
    ~FailingDisk() {
        ::unsetenv("LD_PRELOAD");
        ::unsetenv("HEADLAND_TEST_SYNC");
    }
    FailingDisk(const FailingDisk&) = delete;
    FailingDisk& operator=(const FailingDisk&) = delete;
};

std::string quietSecond(const TestFolder& folder) {
    runCommand("sox -R -V1 -n -r 44100 -b 16 -c 2 " + quoted(folder / "side.wav")
               + " synth 1 sine 400 vol 0.05");
    return folder / "side.wav";
}

/// The run ends with the code for outputs, in one sentence that has the file's name and the system's own words.
void requireFailed(const std::vector<std::string>& arguments, const std::string& name,
                   const std::string& words, bool syncsDatabase = false) {
    const auto result = [&] {
        const FailingDisk disk(syncsDatabase);
        return runTool(arguments);
    }();
    CHECK(result.code == 4);
    CHECK(result.out.empty());
    CHECK(std::count(result.err.begin(), result.err.end(), '\n') == 1);
    CHECK_THAT(result.err, StartsWith("headland: ") && Contains(name) && Contains(words));
}

} // namespace

TEST_CASE("An output that does not reach the disk is said, and nothing takes its place", "[nothing-lost]") {
    const TestFolder folder;
    const auto side = quietSecond(folder), csv = folder / "a.csv";
    put(csv, "older");
    for (const auto& [option, name] :
         {std::pair{"--csv", "a.csv"}, {"--csv", "new.csv"}, {"--json", "a.json"}, {"--picture", "a.svg"}}) {
        INFO(option);
        requireFailed({"cut", side, "--quiet", option, folder / name}, name, "Input/output error");
    }
    requireFailed({"demo", folder / "demo.wav"}, "demo.wav", "Input/output error");
    CHECK(contentOf(csv) == "older");
    CHECK(folder.count() == 2); // it and the program: no part of another
}

TEST_CASE("A book that does not reach the disk is said, and an older one is as it was", "[nothing-lost]") {
    const TestFolder folder;
    const auto side = quietSecond(folder), book = folder / "b.headland";
    requireFailed({"cut", side, "--quiet", "--book", book}, "b.headland", "disk I/O error");
    CHECK(folder.count() == 1);
    REQUIRE(runTool({"cut", side, "--quiet", "--book", book}).code == 0);
    const auto before = contentOf(book);
    requireFailed({"cut", side, "--quiet", "--book", book}, "b.headland", "disk I/O error");
    requireFailed({"note", book, "1", "a crackle"}, "b.headland", "disk I/O error");
    CHECK(contentOf(book) == before);
    CHECK(folder.count() == 2);
}

TEST_CASE("A new book whose making does not reach the disk is not put in its place", "[nothing-lost]") {
    const TestFolder folder;
    const auto side = quietSecond(folder), book = folder / "b.headland";
    requireFailed({"cut", side, "--quiet", "--book", book}, "b.headland", "disk I/O error", true);
    // SQLite, which is then asked to make it in its place, leaves a file with nothing in it: no book, and none is lost by it.
    CHECK(std::filesystem::file_size(book) == 0);
    CHECK(folder.count() == 2);
    CHECK(runTool({"cut", side, "--quiet", "--book", book}).code == 0);
    CHECK(runTool({"review", book, "1", "--quiet"}).code == 0);
}
