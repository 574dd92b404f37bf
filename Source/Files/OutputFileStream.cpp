// SPDX-License-Identifier: GPL-3.0-or-later

#include "Files/OutputFileStream.h"

#include "Files/Errors.h"

#include <string_view>

namespace headland::files {

bool OutputFileStream::setPosition(juce::int64 newPosition_bytes) {
    try {
        file.seek(newPosition_bytes);
        return true;
    } catch (const OutputError&) {
        return false; // the file keeps the reason
    }
}

bool OutputFileStream::write(const void* bytes, size_t count_bytes) {
    try {
        file.write(std::string_view(static_cast<const char*>(bytes), count_bytes));
        return true;
    } catch (const OutputError&) {
        return false; // the file keeps the reason
    }
}

} // namespace headland::files
