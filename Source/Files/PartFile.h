// SPDX-License-Identifier: GPL-3.0-or-later
// A file under a temporary name beside the place it is for: hidden, ".NAME.PID-N.headland.part". It is locked (flock) for as
// long as it is written, by which those of a run that was killed are known: what can be locked is nobody's any more. The next
// one that is made in a folder removes them. One thread at a time, not the audio thread.
#pragma once

#include <filesystem>
#include <string>

namespace headland::files {

/// The folder a file of this name lies in; "." for a bare name.
std::filesystem::path folderOf(const std::string& target);

class PartFile {
public:
    /// Makes an empty one beside `target`, whose folder is there. Throws std::system_error.
    explicit PartFile(const std::string& target);
    /// Removes it, unless it has been released.
    ~PartFile();
    PartFile(PartFile&& other) noexcept;
    PartFile(const PartFile&) = delete;
    PartFile& operator=(const PartFile&) = delete;
    PartFile& operator=(PartFile&&) = delete;

    const std::string& path() const noexcept { return name; }
    /// Open for reading and writing as long as this lives, and holds the lock.
    int descriptor() const noexcept { return open; }
    /// It has been renamed, and is in its place.
    void release() noexcept { name.clear(); }

    /// Removes from a folder those that no living run writes.
    static void removeDead(const std::string& folder) noexcept;

private:
    std::string name;
    int open = -1;
};

} // namespace headland::files
