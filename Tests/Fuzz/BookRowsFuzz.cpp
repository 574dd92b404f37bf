// SPDX-License-Identifier: GPL-3.0-or-later
// Rows of a book that is whole as a database: values of every kind, in any column of any row, put there as another program
// might. An input is a list of changes: which table, column and row, and what is put there.

#include "Log/BookPages.h"
#include "Tests/Fuzz/Book.h"

#include <array>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <fstream>
#include <iterator>
#include <limits>
#include <map>
#include <vector>

namespace {

using headland::log::Database;

/// A book with a row or more in every table.
std::string wholeBook(const std::string& path) {
    using namespace headland;
    log::BookPages pages(path);
    log::CutHead head;
    head.madeBy = "a fuzzer";
    head.sampleRate_hz = 44100;
    head.preview = "own delay";
    head.program = log::ProgramRecord{"/nowhere/a.wav", {"a.wav", "WAV, 24 bit", 44100, 2, 44100, 1}};
    const auto cut = pages.beginCut(head, log::utcNow());
    for (std::int64_t i = 0; i < 40; ++i) {
        cut::CutFrame frame{};
        frame.state = i < 5 ? cut::State::leadIn : cut::State::program;
        frame.time_s = 0.01 * static_cast<double>(i);
        frame.turn = static_cast<double>(i) / 256;
        frame.radius_mm = 146 - 0.001 * static_cast<double>(i);
        frame.pitch_um = frame.pitchCommand_um = 100;
        frame.depth_um = frame.depthCommand_um = 25;
        frame.landMin_um = 12;
        frame.widthMin_um = 50;
        frame.flags = i == 20 ? 1 : 0;
        if (i != 30)
            pages.frame(cut, i, frame);
    }
    pages.gap(cut, {30, 30, 0.3, 0.31, "lost"});
    pages.event(cut, 0, {3, 0.1, "cue", "band", NAN});
    pages.note(cut, {0.1, "a crackle", log::utcNow()});
    cut::GroovePatch patch{0.2, 146, 0.001, 11, {}};
    for (int turn = -1; turn <= 1; ++turn)
        patch.turns.push_back({turn, std::vector<cut::EdgePoint>(11, {-1, -51})});
    pages.place(cut, {cut::Flag::overcut, patch});
    pages.endCut(cut, {"finished", false, 40, 1, 0.2});
    pages.rehearsal(head, "disc_level_db", cut::CutSummary());
    return path;
}

/// What the book's tables and columns are called; in order of their names.
std::vector<std::pair<std::string, std::string>> columnsOf(Database& book) {
    std::vector<std::pair<std::string, std::string>> all;
    for (auto rows =
             book.prepare("SELECT s.name, c.name FROM sqlite_schema s JOIN pragma_table_info(s.name) c WHERE "
                          "s.type = 'table' AND s.name NOT LIKE 'sqlite%' ORDER BY s.name, c.cid");
         rows.step();)
        all.emplace_back(rows.text(0), rows.text(1));
    return all;
}

/// The bytes of an input, taken from the front.
class Input {
public:
    Input(const std::uint8_t* data, std::size_t size) : at(data), left(size) {}
    bool empty() const { return left == 0; }
    std::uint8_t byte() { return left == 0 ? 0 : (--left, *at++); }
    std::int64_t number() {
        std::uint64_t value = 0;
        for (int i = 0; i < 8; ++i)
            value = value << 8 | byte();
        return static_cast<std::int64_t>(value);
    }

private:
    const std::uint8_t* at;
    std::size_t left;
};

void bindSomething(headland::log::Statement& statement, Input& input) {
    constexpr auto infinity = std::numeric_limits<double>::infinity();
    constexpr std::array numbers{std::numeric_limits<std::int64_t>::min(),
                                 std::numeric_limits<std::int64_t>::max(),
                                 std::int64_t{-1},
                                 std::int64_t{0},
                                 std::int64_t{1},
                                 std::int64_t{1} << 31,
                                 std::int64_t{1} << 40};
    constexpr std::array figures{infinity, -infinity, 1e308, -1e308, 1e-308, 86400.0, -0.0, 0.5, 1e15};
    switch (input.byte() % 6) {
    case 0:
        return statement.bind(1, numbers[input.byte() % numbers.size()]);
    case 1:
        return statement.bind(1, figures[input.byte() % figures.size()]);
    case 2:
        return statement.bind(1, input.number());
    case 3: {
        const auto bits = input.number();
        double figure = 0;
        std::memcpy(&figure, &bits, sizeof figure);
        return statement.bind(1, figure);
    }
    case 4: {
        std::string text(1 + input.byte() * input.byte() % 20000, static_cast<char>(input.byte()));
        return statement.bind(1, std::string_view(text));
    }
    default:
        return statement.bindNull(1);
    }
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size_bytes) {
    static const auto whole = wholeBook(headland::fuzz::folder() + "/whole.headland");
    const auto book = headland::fuzz::folder() + "/rows.headland";
    std::filesystem::copy_file(whole, book, std::filesystem::copy_options::overwrite_existing);
    {
        Database rows(book, Database::Access::write, 0);
        rows.run(
            "PRAGMA foreign_keys = OFF; PRAGMA ignore_check_constraints = ON; PRAGMA journal_mode = MEMORY; "
            "PRAGMA synchronous = OFF");
        const auto columns = columnsOf(rows);
        Input input(data, size_bytes);
        for (int change = 0; change < 8 && !input.empty(); ++change) {
            const auto& [table, column] = columns[(input.byte() * 256u + input.byte()) % columns.size()];
            const auto row = input.byte();
            try { // names of the schema's own, and a number
                auto update = rows.prepare("UPDATE " + table + " SET " + column + " = ?1 WHERE "
                                           + (row < 128          ? "1"
                                              : table == "frame" ? "number = " + std::to_string(row % 40)
                                                                 : "1"));
                bindSomething(update, input);
                update.run();
            } catch (const headland::log::DatabaseError&) { // a constraint: the row stays
            }
        }
    }
    headland::fuzz::reviewAll(book);
    return 0;
}
