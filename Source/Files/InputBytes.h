// SPDX-License-Identifier: GPL-3.0-or-later
// The bytes of an input file as a JUCE stream that remembers what went wrong. JUCE's audio readers fill with zeros what
// a file cannot give, and say nothing; by this stream one can ask afterwards whether a read came up short or failed.
// Positions and sizes in bytes. One thread at a time.

#pragma once

#include <juce_core/juce_core.h>

#include <string>

namespace headland::files {

class InputBytes : public juce::InputStream {
public:
    /// Thrown out of a read when a reader keeps asking for bytes behind the end of the file: some of JUCE's header
    /// parsers would do so for ever if the file ends inside a list of chunks.
    struct ReadingOn {};

    /// Opens the file for reading; InputError if that is not possible or it is no regular file.
    explicit InputBytes(const std::string& path);
    ~InputBytes() override;

    InputBytes(const InputBytes&) = delete;
    InputBytes& operator=(const InputBytes&) = delete;

    /// True if a read since forgetShortReads() found fewer bytes than it was to find.
    bool cameUpShort() const noexcept { return cameUpShort_; }
    void forgetShortReads() noexcept;

    /// Why the first read that failed did so: the system's reason, or that the file has become shorter since it was
    /// opened. Empty while all is well; reading behind the end is no failure.
    const std::string& failure() const noexcept { return failure_; }

    juce::int64 getTotalLength() override { return size_bytes; }
    bool isExhausted() override { return position_bytes >= size_bytes; }
    int read(void* destination, int count_bytes) override;
    juce::int64 getPosition() override { return position_bytes; }
    bool setPosition(juce::int64 newPosition_bytes) override;

private:
    int descriptor = -1;
    juce::int64 size_bytes = 0;
    juce::int64 position_bytes = 0;
    int readsBehindEnd = 0;
    bool cameUpShort_ = false;
    std::string failure_;
};

} // namespace headland::files
