// SPDX-License-Identifier: GPL-3.0-or-later
#include "Log/BookSchema.h"

#include <algorithm>

namespace headland::log {

namespace {

bool isEmpty(Database& database) {
    return database.number("SELECT count(*) FROM sqlite_schema") == 0
           && database.number("PRAGMA application_id") == 0 && database.number("PRAGMA user_version") == 0;
}

/// How many of a book's tables are made to look like one.
constexpr auto notATable = "SELECT count(*) FROM sqlite_schema WHERE (type <> 'table' OR rootpage = 0) AND "
                           "lower(name) IN ('job', 'side', "
                           "'program', 'setting_list', 'setting', 'cut', 'event', 'note', 'gap', 'place', "
                           "'edge', 'rehearsal', 'frame', 'profile', 'profile_piece')";

} // namespace

int bookVersion() {
    return bookSteps().back().version;
}

void checkIsBook(Database& database, std::span<const BookStep> steps) {
    if (isEmpty(database))
        throw BookRefused("it is empty, nothing has been written into it yet; write a cut into it first.");
    if (database.number("PRAGMA application_id") != bookId)
        throw BookRefused("it is a database of another program; name another file.");
    const auto version = database.number("PRAGMA user_version");
    const auto newest = steps.back().version;
    if (version > newest)
        throw BookRefused("it was written by a newer Headland (version " + std::to_string(version)
                          + " of the book, and this one knows versions up to " + std::to_string(newest)
                          + ", nothing in it has been changed); use that one, or name another file.");
    if (database.number(notATable) > 0)
        throw BookRefused(
            "it is damaged (a table of it is something else) and has been left as it is; move it away and "
            "take a copy from before, or go on with a new book.");
    if (version < 1)
        throw BookRefused(
            "it is a book of version " + std::to_string(version)
            + ", which there never was, so it is damaged; move it away and take a copy from before.");
}

void bringUpToDate(Database& database, std::span<const BookStep> steps) {
    if (!isEmpty(database)) {
        checkIsBook(database, steps);
        checkPages(database); // before anything in it is changed
        if (database.number("PRAGMA user_version") == steps.back().version)
            return;
    }
    Transaction transaction(database); // another program may have been quicker: looks again
    if (!isEmpty(database))
        checkIsBook(database, steps);
    const auto version = database.number("PRAGMA user_version");
    for (const auto& step : steps)
        if (step.version > version)
            database.run(step.sql);
    database.run("PRAGMA application_id = " + std::to_string(bookId));
    database.run("PRAGMA user_version = " + std::to_string(steps.back().version));
    transaction.commit();
}

void checkPages(Database& database) {
    auto found = database.text("PRAGMA quick_check(1)");
    if (found == "ok")
        return;
    std::replace(found.begin(), found.end(), '\n', ' ');
    throw BookRefused("it is damaged (" + found
                      + ") and has been left as it is; move it away and take a copy from before, or go on "
                        "with a new book.");
}

} // namespace headland::log
