// SPDX-License-Identifier: GPL-3.0-or-later

#include "Files/InputBytes.h"

#include "Files/Errors.h"

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

namespace headland::files {

namespace {

constexpr int readsBehindEndAllowed = 10000; // a whole header made of nothing asks for less

std::string quoted(const std::string& path) {
    return '"' + path + '"';
}

[[noreturn]] void refuseToOpen(const std::string& path, int reason) {
    if (reason == ENOENT || reason == ENOTDIR)
        throw InputError("There is no file " + quoted(path) + ": check the name and the folder.");
    throw InputError("The file " + quoted(path) + " cannot be opened (" + std::strerror(reason)
                     + "): check that you may read it.");
}

/// Size in bytes of what may be opened; InputError for what is there but is no file.
juce::int64 sizeOfRegularFile(const std::string& path) {
    struct stat entry {};
    if (::stat(path.c_str(), &entry) != 0)
        refuseToOpen(path, errno);
    if (S_ISDIR(entry.st_mode))
        throw InputError(quoted(path) + " is a folder: name the sound file in it.");
    if (!S_ISREG(entry.st_mode))
        throw InputError(quoted(path) + " is a pipe or a device: save the program as a file first.");
    return entry.st_size;
}

} // namespace

InputBytes::InputBytes(const std::string& path) : size_bytes(sizeOfRegularFile(path)) {
    descriptor = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
    if (descriptor < 0)
        refuseToOpen(path, errno);
}

InputBytes::~InputBytes() {
    if (descriptor >= 0)
        ::close(descriptor);
}

void InputBytes::forgetShortReads() noexcept {
    cameUpShort_ = false;
    readsBehindEnd = 0;
}

int InputBytes::read(void* destination, int count_bytes) {
    if (isExhausted() && ++readsBehindEnd > readsBehindEndAllowed)
        throw ReadingOn{};

    const auto there_bytes =
        std::min<juce::int64>(count_bytes, std::max<juce::int64>(0, size_bytes - position_bytes));
    juce::int64 done_bytes =
        0; // and that it stays if a damaged header makes a reader ask for less than nothing
    while (done_bytes < there_bytes) {
        const auto got_bytes =
            ::pread(descriptor, static_cast<char*>(destination) + done_bytes,
                    static_cast<size_t>(there_bytes - done_bytes), position_bytes + done_bytes);
        if (got_bytes < 0 && errno == EINTR)
            continue;
        if (got_bytes <= 0) {
            if (failure_.empty())
                failure_ = got_bytes < 0 ? std::strerror(errno) : "the file has become shorter";
            break;
        }
        done_bytes += got_bytes;
    }
    position_bytes += done_bytes;
    cameUpShort_ = cameUpShort_ || done_bytes < count_bytes;
    return static_cast<int>(done_bytes);
}

bool InputBytes::setPosition(juce::int64 newPosition_bytes) {
    position_bytes = std::max<juce::int64>(0, newPosition_bytes);
    return true;
}

} // namespace headland::files
