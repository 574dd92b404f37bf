// SPDX-License-Identifier: GPL-3.0-or-later
// The bytes of a regular file, opened once and read by their place, so that nothing can be put in its stead between two
// looks; remembers what went wrong. Sizes and places in bytes. One thread at a time.
#pragma once

#include <cstdint>
#include <string>

namespace headland::files {

class InputFile {
public:
    /// Opens the file for reading. Throws InputError, one sentence: missing, not to be opened, a folder, a pipe or a
    /// device (which are not touched: opening some of them waits for ever).
    explicit InputFile(const std::string& path);
    ~InputFile();

    InputFile(const InputFile&) = delete;
    InputFile& operator=(const InputFile&) = delete;

    const std::string& path() const noexcept { return path_; }
    /// When it was opened.
    std::int64_t size_bytes() const noexcept { return size_bytes_; }

    /// Reads up to `count_bytes` from `start_bytes` on; returns how many there were, fewer at the end of the file or
    /// when failure() says why.
    std::int64_t readAt(std::int64_t start_bytes, void* destination, std::int64_t count_bytes) noexcept;

    /// Why the first read that failed did so: the system's reason, or that the file has become shorter since it was
    /// opened. Empty while all is well; reading behind the end is no failure.
    std::string failure() const;

private:
    std::string path_;
    std::int64_t size_bytes_ = 0;
    int descriptor = -1;
    int error = 0; // errno of the first failure
    bool isShorter = false;
};

} // namespace headland::files
