// SPDX-License-Identifier: GPL-3.0-or-later
// An output file that is there whole or not at all: written under a temporary name beside its place and renamed over it
// at the end. Made before the work starts, so that a folder that cannot be written is said then. A run that is broken
// off removes the temporary file and leaves an older file of the name as it was; what a killed run leaves, the next one
// removes. It takes the place of nothing that is kept, nor of a file that is write-protected, which is looked at when it is
// made and again when it goes to its place. One thread at a time, not the audio thread.

#pragma once

#include "Files/KeptFiles.h"
#include "Files/PartFile.h"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace headland::files {

class OutputFile {
public:
    /// Makes the temporary file, in the folder of `path` (that of the file it points to, if it is a symbolic link).
    /// `kept`: what whoever writes it reads and writes beside it. Throws OutputError: no such folder, not writable, `path`
    /// is kept, write-protected (no permission to write, for anyone), a folder, a pipe or a device.
    OutputFile(const std::string& path, KeptFiles kept);
    /// Without commit(): removes the temporary file.
    ~OutputFile();

    OutputFile(OutputFile&& other) noexcept;
    OutputFile(const OutputFile&) = delete;
    OutputFile& operator=(const OutputFile&) = delete;
    OutputFile& operator=(OutputFile&&) = delete;

    /// Writes bytes at the present position, through a buffer.
    /// Throws OutputError if the disk does not take them (full, failing); the reason may come from earlier bytes. From
    /// then on write(), seek() and commit() throw the same: a file with a hole never gets into its place.
    void write(std::string_view bytes);

    /// Moves the present position, in bytes from the start: some file headers are completed at the end. Throws as
    /// write() does.
    void seek(std::int64_t newPosition_bytes);
    std::int64_t position_bytes() const noexcept;

    /// Writes what is left in the buffer, makes sure the disk has it and puts the file in its place. Nothing may be
    /// written afterwards. Throws OutputError, also when something that is kept or write-protected has come into that place
    /// meanwhile; the older file, if any, is then still there, and the temporary one goes.
    void commit();

    /// As the user gave it.
    const std::string& path() const noexcept { return path_; }

private:
    void flush();
    void closeDescriptor() noexcept;
    void checkOpenAndWhole() const;
    [[noreturn]] void fail(int reason);

    std::string path_;  // as the user gave it, for messages
    std::string target; // where the file goes, links followed
    KeptFiles kept;
    std::optional<PartFile> part; // where it is until then; nothing once it is in place or moved from
    std::vector<char> buffer;
    std::int64_t flushed_bytes = 0; // position of the descriptor
    int descriptor = -1;
    std::string failure; // what the first failure was reported with; empty while all is well
};

} // namespace headland::files
