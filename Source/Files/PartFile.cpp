// SPDX-License-Identifier: GPL-3.0-or-later
#include "Files/PartFile.h"

#include <cerrno>
#include <fcntl.h>
#include <filesystem>
#include <string_view>
#include <sys/file.h>
#include <sys/stat.h>
#include <system_error>
#include <unistd.h>
#include <utility>

namespace headland::files {

namespace {

namespace fs = std::filesystem;

constexpr std::string_view ending = ".headland.part";

/// Different for every file that this program and others have open.
std::string temporaryName(const std::string& target, int attempt) {
    const auto name = "." + fs::path(target).filename().string() + "." + std::to_string(::getpid()) + "-"
                      + std::to_string(attempt) + std::string(ending);
    return (folderOf(target) / name).string();
}

/// The name leads to the open file still.
bool isAt(int descriptor, const std::string& path) {
    struct stat open {
    }, there{};
    return ::fstat(descriptor, &open) == 0 && ::lstat(path.c_str(), &there) == 0 && S_ISREG(open.st_mode)
           && open.st_dev == there.st_dev && open.st_ino == there.st_ino;
}

/// False where another run has the lock. A disk that knows no locks keeps what is left on it for ever.
bool takeLock(int descriptor) {
    return ::flock(descriptor, LOCK_EX | LOCK_NB) == 0 || errno != EWOULDBLOCK;
}

/// Whoever locks a file before its writer does is about to remove it.
int makeLocked(const std::string& path) {
    const auto made = ::open(path.c_str(), O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    if (made < 0 && errno != EEXIST)
        throw std::system_error(errno, std::generic_category());
    if (made >= 0 && takeLock(made) && isAt(made, path))
        return made;
    if (made >= 0)
        ::close(made);
    return -1;
}

void removeIfDead(const std::string& path) {
    const auto found = ::open(path.c_str(), O_RDWR | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
    if (found < 0)
        return;
    if (::flock(found, LOCK_EX | LOCK_NB) == 0 && isAt(found, path))
        ::unlink(path.c_str());
    ::close(found);
}

} // namespace

fs::path folderOf(const std::string& target) {
    const auto folder = fs::path(target).parent_path();
    return folder.empty() ? fs::path(".") : folder;
}

PartFile::PartFile(const std::string& target) {
    removeDead(folderOf(target).string());
    for (int attempt = 0; open < 0; ++attempt) {
        name = temporaryName(target, attempt);
        open = makeLocked(name);
    }
}

PartFile::PartFile(PartFile&& other) noexcept
    : name(std::exchange(other.name, {})), open(std::exchange(other.open, -1)) {}

PartFile::~PartFile() {
    if (!name.empty())
        ::unlink(name.c_str());
    if (open >= 0)
        ::close(open); // last: until now it was ours
}

void PartFile::removeDead(const std::string& folder) noexcept {
    try {
        for (const auto& entry : fs::directory_iterator(folder)) {
            const auto file = entry.path().filename().string();
            if (file.starts_with('.') && file.ends_with(ending))
                removeIfDead(entry.path().string());
        }
    } catch (const std::exception&) { // a folder that may not be read keeps what is in it
    }
}

} // namespace headland::files
