// SPDX-License-Identifier: GPL-3.0-or-later
#include "Log/BookTrouble.h"

#include "Files/Text.h"

#include <sqlite3.h>

#include <filesystem>

namespace headland::log {

namespace {

constexpr auto damaged = "is damaged. It has been left as it is: move it away, and take a copy from before, "
                         "or go on with a new book";

bool folderExists(const std::string& path) {
    std::error_code error;
    const auto folder = std::filesystem::path(path).parent_path();
    return folder.empty() || std::filesystem::is_directory(folder, error);
}

std::string reason(const std::string& path, const DatabaseError& error) {
    switch (error.kind()) {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
    case SQLITE_PROTOCOL:
        return "is locked by another program; close it there";
    case SQLITE_FULL:
        return "cannot grow: its disk is full; make room there";
    case SQLITE_READONLY:
        return "cannot be written into, nor its folder; allow that, or choose another place";
    case SQLITE_NOTADB:
        return "is no book of Headland's, or is damaged; name another file";
    case SQLITE_CORRUPT:
        return damaged;
    case SQLITE_CANTOPEN:
    case SQLITE_PERM:
    case SQLITE_AUTH:
        return folderExists(path)
                   ? "cannot be opened, or no file can be made beside it; allow that, or choose another place"
                   : "has no folder any more; make that again, or choose another place";
    default:
        return std::string("cannot be used: the disk or the system says \"") + error.what()
               + "\"; see to the disk, or choose another place";
    }
}

} // namespace

std::string bookPlace(const std::string& path) {
    return "The book " + files::printable(path);
}

std::string writingTrouble(const std::string& path, const DatabaseError& error) {
    return bookPlace(path) + " " + reason(path, error) + ".";
}

std::string readingTrouble(const std::string& path, const DatabaseError& error) {
    std::error_code ignored;
    if (error.kind() == SQLITE_CANTOPEN && !std::filesystem::exists(path, ignored))
        return "There is no book " + files::printable(path)
               + "; 'headland cut PROGRAM --book FILE' begins one.";
    return bookPlace(path) + " " + reason(path, error) + ".";
}

bool isLock(const DatabaseError& error) noexcept {
    return error.kind() == SQLITE_BUSY || error.kind() == SQLITE_LOCKED || error.kind() == SQLITE_PROTOCOL;
}

bool endsConnection(const DatabaseError& error) noexcept {
    return !isLock(error) && error.kind() != SQLITE_FULL;
}

} // namespace headland::log
