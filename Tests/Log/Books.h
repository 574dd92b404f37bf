// SPDX-License-Identifier: GPL-3.0-or-later
// What tests of a book need again and again: a cut told in pieces, a look whether a book has it all, waiting for
// something to come true, and SQLite's own command-line tool. No assertion in it, so that child processes may use it.
#pragma once

#include "Log/BookReader.h"
#include "Log/BookWriter.h"
#include "Log/CsvWriter.h"
#include "Tests/Files/TestFolder.h"
#include "Tests/Log/Cuts.h"
#include "Tests/Reference/Command.h"

#include <chrono>
#include <string>
#include <thread>
#include <vector>

namespace headland::test {

using namespace std::chrono_literals;

/// Longer than anything a test waits for should take, on a machine that is busy with something else.
inline constexpr std::chrono::milliseconds longEnough = 30s;

/// The CSV of frames, whoever keeps them.
std::string csvOf(const auto& frames) {
    std::string text = log::csvNames();
    for (const auto& frame : frames)
        log::appendCsvRow(text, frame);
    return text;
}

/// Rows first … last-1 of the made-up cut.
inline std::string csvOfMadeUp(std::int64_t count) {
    return csvOf(madeUpFrames(count));
}

/// Tells frames first … last-1 of the made-up cut.
inline void tell(log::BookWriter& writer, std::int64_t first, std::int64_t last) {
    const auto settings = madeUpHead().settings;
    for (auto number = first; number < last; ++number)
        writer.frame(madeUpFrame(number, settings), number);
}

inline log::CutTail finishedAfter(std::int64_t frames) {
    return {"finished", false, frames, 0, NAN};
}

inline log::CutHead headOf(const std::string& job, const std::string& side) {
    auto head = madeUpHead();
    head.side = {job, side};
    return head;
}

/// A finished book with one made-up cut.
inline void makeBook(const std::string& path, std::int64_t frames, const log::CutHead& head = madeUpHead()) {
    log::BookWriter writer(path);
    writer.begin(head);
    tell(writer, 0, frames);
    writer.end(finishedAfter(frames));
    if (!writer.flush(longEnough))
        throw std::runtime_error("the book for the test was not written: " + writer.status().trouble);
}

template <typename Condition>
bool comesTrue(Condition condition, std::chrono::milliseconds atMost = longEnough) {
    const auto until = std::chrono::steady_clock::now() + atMost;
    while (!condition()) {
        if (std::chrono::steady_clock::now() > until)
            return false;
        std::this_thread::sleep_for(2ms);
    }
    return true;
}

/// Waits for a sentence that has these words in it, and returns what is said then.
inline std::string troubleWith(const log::BookWriter& writer, const std::string& words) {
    std::string said;
    comesTrue([&] {
        said = writer.status().trouble;
        return said.find(words) != std::string::npos;
    });
    return said;
}

/// "": the cut is in the book, its frames are the made-up cut's 0 … count-1 and nothing is missing; else what is not so.
inline std::string faultOf(const std::string& path, std::int64_t cut, std::int64_t count) {
    try {
        log::BookReader reader(path);
        reader.check();
        const auto read = reader.cut(cut);
        if (!read.gaps.empty())
            return "a gap from " + std::to_string(read.gaps.front().firstFrame);
        if (static_cast<std::int64_t>(read.frames.size()) != count)
            return std::to_string(read.frames.size()) + " frames";
        return csvOf(read.frames) == csvOfMadeUp(count) ? "" : "other frames";
    } catch (const std::exception& error) {
        return error.what();
    }
}

/// What SQLite's own command-line tool says.
inline std::string sqlite(const std::string& path, const std::string& arguments) {
    return runCommand("sqlite3 -batch " + quoted(path) + " " + arguments);
}

/// The schema of a book by SQLite's own tool, and the rows that every book has.
inline std::string schemaOf(const std::string& path) {
    return sqlite(
        path,
        ".schema '.mode insert stylus_state' 'SELECT * FROM stylus_state' '.mode insert flag' "
        "'SELECT * FROM flag' '.mode list' \"SELECT 'PRAGMA application_id = ' || application_id || ';' "
        "FROM pragma_application_id\" \"SELECT 'PRAGMA user_version = ' || user_version || ';' FROM "
        "pragma_user_version\"");
}

} // namespace headland::test
