// SPDX-License-Identifier: GPL-3.0-or-later
// What a person is told when a book cannot be opened, read or written: one sentence with what is wrong, where, and what to
// do. Any thread.
#pragma once

#include "Log/Database.h"

#include <string>

namespace headland::log {

/// "the book side.headland": how a book is called in a sentence.
std::string bookPlace(const std::string& path);

/// Why it cannot be written into.
std::string writingTrouble(const std::string& path, const DatabaseError& error);
/// Why it cannot be read.
std::string readingTrouble(const std::string& path, const DatabaseError& error);

/// The file is there and changes its state just now: it is being made, or its writer is coming or going.
bool isBetweenStates(const DatabaseError& error) noexcept;
/// Another program has it just now; a moment later it may go.
bool isLock(const DatabaseError& error) noexcept;
/// The connection is of no use any more and must be opened anew.
bool endsConnection(const DatabaseError& error) noexcept;

} // namespace headland::log
