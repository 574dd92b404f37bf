// SPDX-License-Identifier: GPL-3.0-or-later
#include "Log/BookPlace.h"

#include "Files/KeptFiles.h"
#include "Log/BookSchema.h"
#include "Text/Safe.h"

#include <sys/stat.h>

namespace headland::log {

namespace {

/// What is there, if anything is.
mode_t kindOf(const std::string& path) {
    struct stat entry {};
    return ::stat(path.c_str(), &entry) == 0 ? entry.st_mode & S_IFMT : S_IFREG;
}

} // namespace

void checkBookPlace(const std::string& path) {
    if (path.empty())
        throw BookRefused("it has no name; name a file, such as lantern.headland.");
    const auto kind = kindOf(path);
    if (kind == S_IFDIR)
        throw BookRefused("it is a folder; name a book in it.");
    if (kind != S_IFREG)
        throw BookRefused("it is a pipe or a device; name an ordinary file.");
    for (const auto& beside : files::besideBook(files::wholePlace(path)))
        if (kindOf(beside) != S_IFREG)
            throw BookRefused(text::printable(beside)
                              + ", which belongs to it, is no ordinary file; move that away.");
}

bool isWriteProtected(const std::string& path) {
    struct stat entry {};
    return ::stat(path.c_str(), &entry) == 0 && (entry.st_mode & (S_IWUSR | S_IWGRP | S_IWOTH)) == 0;
}

} // namespace headland::log
