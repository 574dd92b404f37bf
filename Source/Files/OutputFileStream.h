// SPDX-License-Identifier: GPL-3.0-or-later
// An OutputFile as a JUCE stream, for JUCE's picture writers. They may write in destructors, where nothing may be
// thrown: a failure is returned as false here, and thrown by the file's commit(). Positions in bytes. One thread at a time.

#pragma once

#include "Files/OutputFile.h"

#include <juce_core/juce_core.h>

namespace headland::files {

class OutputFileStream : public juce::OutputStream {
public:
    /// Writes into `output`, which must outlive the stream; committing it is left to its owner.
    explicit OutputFileStream(OutputFile& output) : file(output) {}

    void flush() override {}
    bool setPosition(juce::int64 newPosition_bytes) override;
    juce::int64 getPosition() override { return file.position_bytes(); }
    bool write(const void* bytes, size_t count_bytes) override;

private:
    OutputFile& file;
};

} // namespace headland::files
