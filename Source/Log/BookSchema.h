// SPDX-License-Identifier: GPL-3.0-or-later
// The marks by which a file is known as a book of cuts, what is refused, and how an older book becomes one of today. One
// thread, not the audio thread.
#pragma once

#include "Log/BookSteps.h"
#include "Log/Database.h"

#include <span>
#include <stdexcept>

namespace headland::log {

/// SQLite's application_id of a book: "Hdlb". Never changes.
inline constexpr std::int64_t bookId = 0x48646c62;

/// The newest version there is, SQLite's user_version of a book written now.
int bookVersion();

/// The file is no book that can be used; the text says what is wrong with it and what to do, without naming it.
class BookRefused : public std::runtime_error {
public:
    using std::runtime_error::runtime_error;
};

/// Makes sure the database is a book of a version that can be read. Throws BookRefused (empty, another program's database,
/// newer, of a version there never was) or DatabaseError (no database at all).
void checkIsBook(Database& database, std::span<const BookStep> steps = bookSteps());

/// Makes an empty database a book, or an older book one of today, in one transaction: whole or not at all. Every page of
/// what is no empty database is looked at before. Throws as checkIsBook() and checkPages().
void bringUpToDate(Database& database, std::span<const BookStep> steps = bookSteps());

/// Looks at every page; throws BookRefused when something is damaged. Takes a second for some hundred megabytes.
void checkPages(Database& database);

} // namespace headland::log
