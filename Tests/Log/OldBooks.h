// SPDX-License-Identifier: GPL-3.0-or-later
// Books as earlier versions of the log left them, made from what SQLite's own tool dumped of them.
#pragma once

#include "Log/FrameColumns.h"
#include "Tests/Log/Books.h"

#include <string>

namespace headland::test {

/// A book of this version: cut 1 is the made-up cut's frames 0 to 19 and 25 to 39, with an event, notes, a gap, a place and a
/// rehearsal.
inline void makeOldBook(const std::string& path, int version) {
    runCommand("sqlite3 -batch " + quoted(path) + " < "
               + quoted(HEADLAND_ROOT "/Tests/Log/BookOfVersion" + std::to_string(version) + ".sql"));
}

/// Every row of every table but `frame`, in the columns that a book of this version has.
inline std::string rowsOfVersion(const std::string& path, int version) {
    const TestFolder folder;
    const auto old = folder / "old.headland";
    makeOldBook(old, version);
    std::string all;
    for (const std::string table : {"job", "side", "program", "setting_list", "setting", "cut", "event",
                                    "note", "gap", "place", "edge", "rehearsal"}) {
        auto columns =
            sqlite(old, quoted("SELECT group_concat(name) FROM pragma_table_info('" + table + "')"));
        columns.pop_back(); // the end of the line
        all += table + "\n"
               + sqlite(path, quoted("SELECT " + columns + " FROM " + table + " ORDER BY " + columns));
    }
    return all;
}

/// Its frames, in the columns that a book of this version has.
inline std::string framesOfVersion(const std::string& path, int version) {
    return sqlite(path,
                  quoted("SELECT cut_id, number, state, flags, length_known"
                         + log::storedNames(log::bookColumns(version)) + " FROM frame WHERE cut_id = 1"));
}

} // namespace headland::test
