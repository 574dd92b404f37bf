// SPDX-License-Identifier: GPL-3.0-or-later

#include "Files/OutputFile.h"

#include "Files/Errors.h"

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <fcntl.h>
#include <filesystem>
#include <stdexcept>
#include <sys/stat.h>
#include <system_error>
#include <unistd.h>
#include <utility>

namespace headland::files {

namespace {

constexpr size_t bufferSize_bytes = 65536;

std::string sentence(const std::string& path, const std::string& whatAndRemedy) {
    return "The output file \"" + path + "\" cannot be written: " + whatAndRemedy;
}

[[noreturn]] void refuse(const std::string& path, const std::string& whatAndRemedy) {
    throw OutputError(sentence(path, whatAndRemedy));
}

/// The place a file goes to: `path`, or what it points to if it is a symbolic link (a rename over the link would leave
/// the file it points to as it was).
std::string followLinks(const std::string& path) {
    std::error_code error;
    if (!std::filesystem::is_symlink(path, error))
        return path;
    static_cast<void>(std::filesystem::weakly_canonical(path, error));
    if (error)
        refuse(path, "the link cannot be followed (" + error.message() + "); name the file itself.");
    return wholePlace(path);
}

/// Refuses what a rename must not replace. Of the permissions the bits count: an administrator may do all.
void checkWhatIsThere(const std::string& path, const std::string& target, const KeptFiles& kept) {
    if (const auto role = kept.roleAt(target); !role.empty())
        refuse(path, "it would take the place of " + role + "; name another file.");
    struct stat entry {};
    if (::stat(target.c_str(), &entry) != 0)
        return; // nothing is there
    if (S_ISDIR(entry.st_mode))
        refuse(path, "it is a folder; name a file in it.");
    if (!S_ISREG(entry.st_mode))
        refuse(path, "it is a pipe or a device; name an ordinary file.");
    if ((entry.st_mode & (S_IWUSR | S_IWGRP | S_IWOTH)) == 0)
        refuse(path, "it is write-protected; allow writing into it, or name another file.");
}

/// Keeps the permissions of the file that will be replaced; a new one has those the system gives a new file.
void takeOverPermissions(int descriptor, const std::string& target) {
    struct stat entry {};
    if (::stat(target.c_str(), &entry) == 0)
        static_cast<void>(::fchmod(descriptor, entry.st_mode & 07777)); // a wish: writing works without it
}

} // namespace

OutputFile::OutputFile(const std::string& path, KeptFiles keptFiles)
    : path_(path), target(followLinks(path)), kept(std::move(keptFiles)) {
    if (std::filesystem::path(target).filename().empty())
        refuse(path_, "a file name is missing; name a file in an existing folder.");
    checkWhatIsThere(path_, target, kept);
    std::error_code error;
    if (!std::filesystem::is_directory(folderOf(target), error))
        refuse(path_, "there is no folder \"" + folderOf(target).string()
                          + "\"; make it first, or name another one.");
    try {
        part.emplace(target);
        descriptor = ::fcntl(part->descriptor(), F_DUPFD_CLOEXEC, 0); // closed by itself, which may fail
        if (descriptor < 0)
            throw std::system_error(errno, std::generic_category());
    } catch (const std::system_error& problem) {
        refuse(path_, "no file can be made in the folder \"" + folderOf(target).string() + "\" ("
                          + std::strerror(problem.code().value()) + "); name a folder you may write to.");
    }
    takeOverPermissions(descriptor, target);
    buffer.reserve(bufferSize_bytes);
}

OutputFile::OutputFile(OutputFile&& other) noexcept
    : path_(std::move(other.path_)),
      target(std::move(other.target)),
      kept(std::move(other.kept)),
      part(std::move(other.part)),
      buffer(std::move(other.buffer)),
      flushed_bytes(other.flushed_bytes),
      descriptor(std::exchange(other.descriptor, -1)),
      failure(std::move(other.failure)) {}

OutputFile::~OutputFile() {
    closeDescriptor();
}

void OutputFile::write(std::string_view bytes) {
    checkOpenAndWhole();
    if (buffer.size() + bytes.size() > bufferSize_bytes)
        flush();
    buffer.insert(buffer.end(), bytes.begin(), bytes.end());
    if (buffer.size() >= bufferSize_bytes)
        flush();
}

void OutputFile::seek(std::int64_t newPosition_bytes) {
    checkOpenAndWhole();
    flush();
    if (::lseek(descriptor, newPosition_bytes, SEEK_SET) < 0)
        fail(errno);
    flushed_bytes = newPosition_bytes;
}

std::int64_t OutputFile::position_bytes() const noexcept {
    return flushed_bytes + static_cast<std::int64_t>(buffer.size());
}

void OutputFile::commit() {
    checkOpenAndWhole();
    flush();
    // Some disks, and those behind a network, say only here that they are full; EINVAL: this one cannot be asked.
    if (::fsync(descriptor) != 0 && errno != EINVAL)
        fail(errno);
    if (::close(std::exchange(descriptor, -1)) != 0)
        fail(errno);
    checkWhatIsThere(path_, target, kept); // it may have come there meanwhile
    if (std::rename(part->path().c_str(), target.c_str()) != 0)
        fail(errno);
    part->release();
    part.reset();
}

void OutputFile::flush() {
    size_t done_bytes = 0;
    while (done_bytes < buffer.size()) {
        const auto taken_bytes = ::write(descriptor, buffer.data() + done_bytes, buffer.size() - done_bytes);
        if (taken_bytes < 0 && errno == EINTR)
            continue;
        if (taken_bytes < 0)
            fail(errno);
        done_bytes += static_cast<size_t>(taken_bytes);
    }
    flushed_bytes += static_cast<std::int64_t>(buffer.size());
    buffer.clear();
}

void OutputFile::closeDescriptor() noexcept {
    if (descriptor >= 0)
        ::close(std::exchange(descriptor, -1));
}

void OutputFile::checkOpenAndWhole() const {
    if (!failure.empty())
        throw OutputError(failure);
    if (descriptor < 0)
        throw std::logic_error("OutputFile: used after commit()");
}

void OutputFile::fail(int reason) {
    failure = sentence(path_, std::string("the system says \"") + std::strerror(reason)
                                  + "\"; make room there or name another folder.");
    throw OutputError(failure);
}

} // namespace headland::files
