// SPDX-License-Identifier: GPL-3.0-or-later
#include "Files/InputFile.h"

#include "Files/Errors.h"

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

namespace headland::files {

namespace {

std::string quoted(const std::string& path) {
    return '"' + path + '"';
}

[[noreturn]] void refuseToOpen(const std::string& path, int reason) {
    if (reason == ENOENT || reason == ENOTDIR)
        throw InputError("There is no file " + quoted(path) + ": check the name and the folder.");
    throw InputError("The file " + quoted(path) + " cannot be opened (" + std::strerror(reason)
                     + "): check that you may read it.");
}

void requireRegular(const std::string& path, const struct stat& entry) {
    if (S_ISDIR(entry.st_mode))
        throw InputError(quoted(path) + " is a folder: name a file in it.");
    if (!S_ISREG(entry.st_mode))
        throw InputError(quoted(path) + " is a pipe or a device: save what comes out of it as a file first.");
}

} // namespace

InputFile::InputFile(const std::string& path) : path_(path) {
    struct stat entry {};
    if (::stat(path.c_str(), &entry) != 0)
        refuseToOpen(path, errno);
    requireRegular(path, entry);
    // Not blocking, should a pipe have taken the file's place since.
    descriptor = ::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK);
    if (descriptor < 0)
        refuseToOpen(path, errno);
    try {
        if (::fstat(descriptor, &entry) != 0)
            refuseToOpen(path, errno);
        requireRegular(path, entry);
    } catch (...) {
        ::close(descriptor);
        throw;
    }
    size_bytes_ = entry.st_size;
}

InputFile::~InputFile() {
    ::close(descriptor);
}

std::int64_t InputFile::readAt(std::int64_t start_bytes, void* destination,
                               std::int64_t count_bytes) noexcept {
    if (start_bytes < 0)
        return 0;
    const auto there_bytes = std::min(count_bytes, std::max<std::int64_t>(0, size_bytes_ - start_bytes));
    std::int64_t done_bytes = 0;
    while (done_bytes < there_bytes) {
        const auto got_bytes =
            ::pread(descriptor, static_cast<char*>(destination) + done_bytes,
                    static_cast<size_t>(there_bytes - done_bytes), start_bytes + done_bytes);
        if (got_bytes < 0 && errno == EINTR)
            continue;
        if (got_bytes <= 0) {
            if (error == 0 && !isShorter) {
                error = got_bytes < 0 ? errno : 0;
                isShorter = got_bytes == 0;
            }
            break;
        }
        done_bytes += got_bytes;
    }
    return done_bytes;
}

std::string InputFile::failure() const {
    return isShorter ? "the file has become shorter" : error != 0 ? std::strerror(error) : "";
}

} // namespace headland::files
