// SPDX-License-Identifier: GPL-3.0-or-later
// Another program has the book to itself for a while: nothing is said of a short lock, a longer one is said, and the cut
// is complete afterwards.

#include "Tests/Log/Books.h"

#include <catch2/catch.hpp>

#include <cstdio>

using namespace headland;
using namespace headland::test;
using Catch::Matchers::Contains;

namespace {

/// SQLite's own tool with a book to itself; lets it go after so many seconds.
class Locked {
public:
    Locked(const std::string& path, const std::string& seconds)
        : tool(::popen(("sqlite3 -batch -cmd '.timeout 5000' " + quoted(path)
                        + " 'BEGIN EXCLUSIVE' '.shell echo held; sleep " + seconds + "' COMMIT")
                           .c_str(),
                       "r")) {
        char line[16] = "";
        if (tool == nullptr || std::fgets(line, sizeof line, tool) == nullptr
            || std::string(line) != "held\n")
            throw std::runtime_error("the book for the test could not be locked: " + path);
    }
    ~Locked() { ::pclose(tool); }
    Locked(const Locked&) = delete;
    Locked& operator=(const Locked&) = delete;

private:
    std::FILE* tool;
};

} // namespace

TEST_CASE("A book that is locked by another program is said after two seconds, and complete afterwards") {
    const TestFolder folder;
    const auto open = folder / "open.headland";     // locked while a cut is being written into it
    const auto closed = folder / "closed.headland"; // locked before anybody opens it
    makeBook(closed, 20);
    log::BookWriter writing(open);
    writing.begin(madeUpHead());
    tell(writing, 0, 100);
    REQUIRE(writing.flush(longEnough));
    {
        const Locked first(open, "4");
        const Locked second(closed, "4");
        const auto begun = std::chrono::steady_clock::now();
        log::BookWriter opening(closed);
        opening.begin(headOf("Harbour Lights", "A"));
        tell(opening, 0, 100);
        tell(writing, 100, 200);
        while (std::chrono::steady_clock::now() < begun + 1800ms) {
            REQUIRE(writing.status().trouble.empty());
            REQUIRE(opening.status().trouble.empty());
            std::this_thread::sleep_for(20ms);
        }
        for (const auto* writer : {&writing, &opening}) {
            CHECK_THAT(troubleWith(*writer, "locked"),
                       Contains(writer->path()
                                + " is locked by another program; close it there. The cut goes on: "));
            CHECK(writer->status().framesWaiting == 100);
        }
        tell(opening, 100, 200);
        opening.end(finishedAfter(200));
        CHECK(opening.flush(longEnough));
        CHECK(opening.status().trouble.empty());
    }
    writing.end(finishedAfter(200));
    CHECK(writing.flush(longEnough));
    CHECK(writing.status().trouble.empty());
    CHECK(faultOf(open, 1, 200).empty());
    CHECK(faultOf(closed, 2, 200).empty());
}

TEST_CASE("Nothing is said of a short lock, not even before the first frame") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    makeBook(path, 20);
    log::BookWriter writer(path);
    {
        const Locked locked(path, "1");
        writer.begin(headOf("Harbour Lights", "A"));
        writer.event({0, NAN, "cue", "lower", NAN});
        for (int i = 0; i < 30; ++i) {
            CHECK(writer.status().trouble.empty());
            std::this_thread::sleep_for(20ms);
        }
    }
    CHECK(writer.flush(longEnough));
    CHECK(writer.status().cut == 2);
}

TEST_CASE("A reader waits for a short lock and says a long one") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    makeBook(path, 20);
    {
        const Locked locked(path, "0.5");
        CHECK(faultOf(path, 1, 20).empty());
    }
    const Locked locked(path, "2.5");
    CHECK(faultOf(path, 1, 20) == "The book " + path + " is locked by another program; close it there.");
}
