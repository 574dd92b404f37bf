// SPDX-License-Identifier: GPL-3.0-or-later
#include "Log/BookTrouble.h"

#include "Log/BookPlace.h"
#include "Text/Safe.h"

#include <sqlite3.h>

#include <cerrno>
#include <filesystem>
#include <unistd.h>

namespace headland::log {

namespace {

std::string damaged(const DatabaseError& error) {
    return std::string("is damaged (") + error.what()
           + ") and has been left as it is; move it away and take a copy from before, or go on with a new "
             "book";
}

/// SQLite knows a full disk when it writes, not when it maps its files or waits for the disk.
bool isFullDisk(const DatabaseError& error) noexcept {
    return error.kind() == SQLITE_FULL
           || (error.kind() == SQLITE_IOERR && (error.systemError == ENOSPC || error.systemError == EDQUOT));
}

bool isFolder(const std::string& path) {
    std::error_code error;
    return std::filesystem::is_directory(path, error);
}

bool folderExists(const std::string& path) {
    std::error_code error;
    const auto folder = std::filesystem::path(path).parent_path();
    return folder.empty() || std::filesystem::is_directory(folder, error);
}

/// Why no file can be opened there, or beside it.
std::string openingTrouble(const std::string& path) {
    if (isFolder(path))
        return "is a folder; name a book in it";
    return folderExists(path)
               ? "cannot be opened, or no file can be made beside it; allow that, or choose another place"
               : "has no folder any more; make that again, or choose another place";
}

std::string reason(const std::string& path, const DatabaseError& error) {
    if (isFullDisk(error))
        return "cannot grow: its disk is full; make room there";
    switch (error.kind()) {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
    case SQLITE_PROTOCOL:
        return "is locked by another program; close it there";
    case SQLITE_READONLY:
        return ::access(path.c_str(), W_OK) != 0 || isWriteProtected(path)
                   ? "cannot be written into; allow that, or choose another book"
                   : "cannot be written into, because no file can be made beside it; allow that in its "
                     "folder, or choose another place";
    case SQLITE_NOTADB:
        return "is no book of Headland's, or is damaged; name another file";
    case SQLITE_CORRUPT:
    case SQLITE_TOOBIG:    // no value is that long
    case SQLITE_INTERRUPT: // its pages lead in circles
    case SQLITE_ERROR:     // a table or column that every book has is not there
        return damaged(error);
    case SQLITE_CANTOPEN:
    case SQLITE_PERM:
    case SQLITE_AUTH:
        return openingTrouble(path);
    default:
        return std::string("cannot be used: the disk or the system says \"") + error.what()
               + "\"; see to the disk, or choose another place";
    }
}

} // namespace

std::string bookPlace(const std::string& path) {
    return "The book " + (path.empty() ? "''" : text::printable(path));
}

std::string writingTrouble(const std::string& path, const DatabaseError& error) {
    return bookPlace(path) + " " + reason(path, error) + ".";
}

std::string readingTrouble(const std::string& path, const DatabaseError& error) {
    std::error_code ignored;
    if (error.kind() == SQLITE_CANTOPEN && !std::filesystem::exists(path, ignored))
        return "There is no book " + text::printable(path)
               + "; 'headland cut PROGRAM --book FILE' begins one.";
    if (error.kind() == SQLITE_READONLY)
        return bookPlace(path)
               + " was left in the middle of a change, which the next cut that is written into it settles; "
                 "write one, or open a copy where files may be made.";
    return bookPlace(path) + " " + reason(path, error) + ".";
}

bool isBetweenStates(const DatabaseError& error) noexcept {
    return error.kind() == SQLITE_CANTOPEN || error.kind() == SQLITE_READONLY
           || error.kind() == SQLITE_PROTOCOL;
}

bool isLock(const DatabaseError& error) noexcept {
    return error.kind() == SQLITE_BUSY || error.kind() == SQLITE_LOCKED || error.kind() == SQLITE_PROTOCOL;
}

bool endsConnection(const DatabaseError& error) noexcept {
    return !isLock(error) && error.kind() != SQLITE_FULL;
}

} // namespace headland::log
