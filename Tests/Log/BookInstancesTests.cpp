// SPDX-License-Identifier: GPL-3.0-or-later
// Several at once in one book: two processes and two writers of one process write a cut each, and a reader reads
// meanwhile. Nobody loses anything, nobody is disturbed.

#include "Tests/Log/Books.h"
#include "Tests/Support/Child.h"

#include <catch2/catch.hpp>

#include <filesystem>

using namespace headland;
using namespace headland::test;

namespace {

constexpr std::int64_t frames = 3000;

/// A cut told over a second or so; whether it was written and nothing is amiss.
bool writeSlowly(log::BookWriter& writer, const std::string& side) {
    writer.begin(headOf("Lantern Sessions", side));
    for (std::int64_t at = 0; at < frames; at += 100) {
        tell(writer, at, at + 100);
        std::this_thread::sleep_for(20ms);
    }
    writer.end(finishedAfter(frames));
    return writer.flush(longEnough) && writer.status().trouble.empty();
}

/// How many of the cuts so far are whole up to where they are; reads the whole book.
std::size_t readAll(const std::string& path) {
    log::BookReader reader(path);
    std::size_t whole = 0;
    for (const auto& entry : reader.cuts()) {
        const auto read = reader.cut(entry.cut);
        whole += csvOf(read.frames) == csvOfMadeUp(static_cast<std::int64_t>(read.frames.size()));
    }
    return whole;
}

void requireAllWhole(const std::string& path, std::size_t count) {
    log::BookReader reader(path);
    const auto cuts = reader.cuts();
    REQUIRE(cuts.size() == count);
    std::vector<std::string> sides;
    for (const auto& entry : cuts) {
        sides.push_back(entry.side.side);
        CHECK(entry.ending == "finished");
        CHECK(faultOf(path, entry.cut, frames).empty());
    }
    std::sort(sides.begin(), sides.end());
    CHECK(std::unique(sides.begin(), sides.end()) == sides.end());
}

} // namespace

TEST_CASE("Two processes write a cut each into one book while a third reads it") {
    for (const bool isThere : {false, true}) { // both may be the one that makes it
        INFO(isThere);
        const TestFolder folder;
        const auto path = folder / "book.headland";
        if (isThere)
            makeBook(path, frames);
        std::vector<pid_t> children;
        for (const auto* side : {"C", "D"})
            children.push_back(startChild([&] {
                log::BookWriter writer(path);
                return writeSlowly(writer, side) ? 0 : 1;
            }));
        children.push_back(startChild([&] {
            for (int reads = 0; reads < 15; std::this_thread::sleep_for(30ms))
                try {
                    readAll(path);
                    ++reads;
                } catch (const std::exception& error) {
                    const std::string said = error.what(); // not begun yet: that only
                    if (reads > 0
                        || (said.find("There is no book") == said.npos && said.find("is empty") == said.npos
                            && said.find("in the middle of a change") == said.npos)) {
                        sendAll(STDERR_FILENO, said + "\n");
                        return 1;
                    }
                }
            return 0;
        }));
        for (const auto child : children)
            CHECK(resultOf(child) == 0);
        requireAllWhole(path, isThere ? 3 : 2);
        makeBook(path, frames, headOf("Lantern Sessions", "E")); // the reader may have been the last to go
        CHECK(folder.count() == 1);
    }
}

TEST_CASE("Two writers of one process write a cut each into one book while it is read") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    bool first = false, second = false;
    {
        std::jthread other([&] {
            log::BookWriter writer(path);
            first = writeSlowly(writer, "A");
        });
        std::jthread another([&] {
            log::BookWriter writer(path);
            second = writeSlowly(writer, "B");
        });
        REQUIRE(comesTrue([&] {
            try {
                return log::BookReader(path).cuts().size() == 2;
            } catch (const std::exception&) {
                return false;
            }
        }));
        for (int i = 0; i < 15; ++i)
            CHECK(readAll(path) == 2);
    }
    CHECK(first);
    CHECK(second);
    requireAllWhole(path, 2);
    // On a busy machine the last to close may be a reader, which must not take away what SQLite keeps beside the book.
    const std::filesystem::path wal(path + "-wal");
    CHECK((!std::filesystem::exists(wal) || std::filesystem::file_size(wal) == 0));
}

TEST_CASE("A book that is being read when its writer goes keeps all it has in its one file") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    makeBook(path, 20);
    auto writer = std::make_unique<log::BookWriter>(path);
    writer->begin(headOf("Lantern Sessions", "B"));
    tell(*writer, 0, 300);
    REQUIRE(writer->flush(longEnough));
    log::BookReader reader(path);
    REQUIRE(reader.cuts().size() == 2); // it has the book open from here on
    writer.reset();
    std::filesystem::copy_file(path, folder / "copy.headland"); // a person takes the one file along
    CHECK(faultOf(folder / "copy.headland", 2, 300).empty());
}
