// SPDX-License-Identifier: GPL-3.0-or-later
// Whether a path still leads to the file it led to: an open file that was removed or replaced takes bytes as before, and
// nobody will ever find them. Any thread.
#pragma once

#include <string>

#include <sys/stat.h>

namespace headland::files {

class FileIdentity {
public:
    /// Of no file.
    FileIdentity() = default;
    /// What the path leads to now; no file: an identity that is never met again.
    explicit FileIdentity(const std::string& path) : known(::stat(path.c_str(), &entry) == 0) {}

    /// Whether the path leads to it still.
    bool isAt(const std::string& path) const noexcept {
        struct stat now {};
        return known && ::stat(path.c_str(), &now) == 0 && now.st_dev == entry.st_dev
               && now.st_ino == entry.st_ino;
    }

private:
    struct stat entry {};
    bool known = false;
};

} // namespace headland::files
