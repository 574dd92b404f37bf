// SPDX-License-Identifier: GPL-3.0-or-later
// The files that a command or a window reads or writes, and that none of its outputs may take the place of: the program, the
// programs a book names, a book and what SQLite keeps beside it, a preset. Known by their place, with links followed, and
// by the file itself (device and inode), so that another name, a hard or a symbolic link is no way around. One thread.
#pragma once

#include "Files/FileIdentity.h"

#include <string>
#include <vector>

namespace headland::files {

/// Where a file of this name would be made or replaced: absolute, every link followed, whether it is there or not. The path
/// as it is where that cannot be told (a link that leads to itself, a folder that may not be looked into).
std::string wholePlace(const std::string& path);

/// What SQLite keeps beside a database, by its own naming.
std::vector<std::string> besideBook(const std::string& book);

class KeptFiles {
public:
    /// `role`: what it is to a person, "the program". It need not be there yet.
    void add(const std::string& path, const std::string& role);
    /// A book, and what is kept beside it.
    void addBook(const std::string& path, const std::string& role);

    /// The role of what a file written to `path` now would take the place of; empty: it is in nobody's way. What a kept path
    /// led to when it was added counts as well as what it leads to now.
    std::string roleAt(const std::string& path) const;

private:
    struct Kept {
        std::string path, place, role;
        FileIdentity identity;
    };
    std::vector<Kept> all;
};

} // namespace headland::files
