// SPDX-License-Identifier: GPL-3.0-or-later
// Put before the system's library (LD_PRELOAD): a disk that says only when it is asked that nothing has reached it. Every
// sync fails; with HEADLAND_TEST_SYNC=database those succeed that SQLite makes of a file which is not in its place yet.

#include <array>
#include <cerrno>
#include <cstdlib>
#include <string>
#include <sys/syscall.h>
#include <unistd.h>

namespace {

int failed() {
    errno = EIO;
    return -1;
}

bool isPart(int descriptor) {
    const auto link = "/proc/self/fd/" + std::to_string(descriptor);
    std::array<char, 4096> name{};
    const auto length = ::readlink(link.c_str(), name.data(), name.size());
    return length > 0
           && std::string(name.data(), static_cast<std::size_t>(length)).ends_with(".headland.part");
}

} // namespace

extern "C" int fsync(int) {
    return failed();
}

/// What SQLite calls.
extern "C" int fdatasync(int descriptor) {
    if (std::getenv("HEADLAND_TEST_SYNC") != nullptr && isPart(descriptor))
        return static_cast<int>(::syscall(SYS_fdatasync, descriptor));
    return failed();
}
