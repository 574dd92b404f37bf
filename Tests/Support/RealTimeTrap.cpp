// SPDX-License-Identifier: GPL-3.0-or-later
// The functions the trap watches, defined for the whole program: a shared library's calls come here too, because a
// program's own symbols go first. The real one is the next of its name (dlsym), but for the four basic functions of
// allocation, which dlsym itself may call: glibc has second names for those.
#include "Tests/Support/RealTimeTrap.h"

#include <algorithm>
#include <cstring>

namespace headland::test {

namespace {

constinit thread_local RealTimeTrap* innermost = nullptr;

} // namespace

RealTimeTrap::Scope::Scope(RealTimeTrap& trap) noexcept : outer(innermost) {
    innermost = &trap;
}

RealTimeTrap::Scope::~Scope() {
    innermost = outer;
}

void RealTimeTrap::note(const char* function) noexcept {
    if (innermost == nullptr)
        return;
    for (auto& count : innermost->counts) {
        if (count.function == nullptr)
            count.function = function;
        if (std::strcmp(count.function, function) == 0) {
            ++count.calls;
            return;
        }
    }
}

long RealTimeTrap::calls() const noexcept {
    long sum = 0;
    for (const auto& count : counts)
        sum += count.calls;
    return sum;
}

std::string RealTimeTrap::caught() const {
    std::string text;
    for (const auto& count : counts)
        if (count.function != nullptr)
            text +=
                (text.empty() ? "" : ", ") + std::string(count.function) + " " + std::to_string(count.calls);
    return text;
}

} // namespace headland::test

#if !defined(__GLIBC__) || defined(HEADLAND_SANITIZED)

bool headland::test::RealTimeTrap::works() noexcept {
    return false;
}

#else

#include <cerrno>
#include <cstdarg>
#include <cstdio>
#include <cstdlib>
#include <dlfcn.h>
#include <fcntl.h>
#include <poll.h>
#include <pthread.h>
#include <sched.h>
#include <semaphore.h>
#include <sys/epoll.h>
#include <sys/mman.h>
#include <sys/select.h>
#include <sys/socket.h>
#include <sys/uio.h>
#include <time.h>
#include <unistd.h>

bool headland::test::RealTimeTrap::works() noexcept {
    return true;
}

namespace {

/// The definition of `name` that the program would use without this file.
template <typename Function>
Function* next(const char* name) noexcept {
    const auto address = dlsym(RTLD_NEXT, name);
    if (address == nullptr)
        std::abort(); // glibc has lost a function
    return reinterpret_cast<Function*>(address);
}

} // namespace

// A watched function: what it returns, its name, its parameters, their names, and noexcept where its header says so.
#define HEADLAND_WATCH(Result, name, parameters, arguments, ...)                                             \
    Result name parameters __VA_ARGS__ {                                                                     \
        headland::test::RealTimeTrap::note(#name);                                                           \
        static auto* const real = next<Result parameters>(#name);                                            \
        return real arguments;                                                                               \
    }

#pragma GCC visibility push(default) // shared libraries must find these
extern "C" {

void* __libc_malloc(std::size_t);
void* __libc_calloc(std::size_t, std::size_t);
void* __libc_realloc(void*, std::size_t);
void __libc_free(void*);
void* __cxa_allocate_exception(std::size_t) noexcept;

// --- allocation; operator new and delete come here as malloc, free and aligned_alloc ---

void* malloc(std::size_t size) noexcept {
    headland::test::RealTimeTrap::note("malloc");
    return __libc_malloc(size);
}
void* calloc(std::size_t count, std::size_t size) noexcept {
    headland::test::RealTimeTrap::note("calloc");
    return __libc_calloc(count, size);
}
void* realloc(void* memory, std::size_t size) noexcept {
    headland::test::RealTimeTrap::note("realloc");
    return __libc_realloc(memory, size);
}
void free(void* memory) noexcept {
    headland::test::RealTimeTrap::note("free");
    __libc_free(memory);
}
HEADLAND_WATCH(int, posix_memalign, (void** m, std::size_t a, std::size_t s), (m, a, s), noexcept)
HEADLAND_WATCH(void*, aligned_alloc, (std::size_t a, std::size_t s), (a, s), noexcept)
HEADLAND_WATCH(void*, mmap, (void* m, std::size_t s, int p, int f, int d, off_t o), (m, s, p, f, d, o),
               noexcept)
HEADLAND_WATCH(void*, mmap64, (void* m, std::size_t s, int p, int f, int d, off64_t o), (m, s, p, f, d, o),
               noexcept)
HEADLAND_WATCH(int, munmap, (void* m, std::size_t s), (m, s), noexcept)
HEADLAND_WATCH(int, mprotect, (void* m, std::size_t s, int p), (m, s, p), noexcept)
HEADLAND_WATCH(int, madvise, (void* m, std::size_t s, int a), (m, s, a), noexcept)

// --- locks and waiting for other threads ---

HEADLAND_WATCH(int, pthread_mutex_lock, (pthread_mutex_t * m), (m), noexcept)
HEADLAND_WATCH(int, pthread_mutex_trylock, (pthread_mutex_t * m), (m), noexcept)
HEADLAND_WATCH(int, pthread_mutex_unlock, (pthread_mutex_t * m), (m), noexcept)
HEADLAND_WATCH(int, pthread_cond_wait, (pthread_cond_t * c, pthread_mutex_t* m), (c, m), )
HEADLAND_WATCH(int, pthread_cond_timedwait, (pthread_cond_t * c, pthread_mutex_t* m, const timespec* t),
               (c, m, t), )
HEADLAND_WATCH(int, pthread_cond_clockwait,
               (pthread_cond_t * c, pthread_mutex_t* m, clockid_t k, const timespec* t), (c, m, k, t), )
HEADLAND_WATCH(int, pthread_cond_signal, (pthread_cond_t * c), (c), noexcept)
HEADLAND_WATCH(int, pthread_cond_broadcast, (pthread_cond_t * c), (c), noexcept)
HEADLAND_WATCH(int, pthread_rwlock_rdlock, (pthread_rwlock_t * l), (l), noexcept)
HEADLAND_WATCH(int, pthread_rwlock_tryrdlock, (pthread_rwlock_t * l), (l), noexcept)
HEADLAND_WATCH(int, pthread_rwlock_wrlock, (pthread_rwlock_t * l), (l), noexcept)
HEADLAND_WATCH(int, pthread_rwlock_trywrlock, (pthread_rwlock_t * l), (l), noexcept)
HEADLAND_WATCH(int, pthread_rwlock_unlock, (pthread_rwlock_t * l), (l), noexcept)
HEADLAND_WATCH(int, pthread_create,
               (pthread_t * thread, const pthread_attr_t* a, void* (*run)(void*), void* argument),
               (thread, a, run, argument), noexcept)
HEADLAND_WATCH(int, pthread_join, (pthread_t thread, void** result), (thread, result), )
HEADLAND_WATCH(int, sem_wait, (sem_t * s), (s), )
HEADLAND_WATCH(int, sem_trywait, (sem_t * s), (s), noexcept)
HEADLAND_WATCH(int, sem_timedwait, (sem_t * s, const timespec* t), (s, t), )
HEADLAND_WATCH(int, sem_post, (sem_t * s), (s), noexcept)
HEADLAND_WATCH(int, nanosleep, (const timespec* t, timespec* left), (t, left), )
HEADLAND_WATCH(int, clock_nanosleep, (clockid_t k, int f, const timespec* t, timespec* left),
               (k, f, t, left), )
HEADLAND_WATCH(int, usleep, (useconds_t t), (t), )
HEADLAND_WATCH(unsigned, sleep, (unsigned t), (t), )
HEADLAND_WATCH(int, sched_yield, (), (), noexcept)

// std::atomic's wait and notify, std::semaphore and the like ask the kernel's futex by number.
long syscall(long number, ...) noexcept {
    headland::test::RealTimeTrap::note("syscall");
    static auto* const real = next<long(long, ...)>("syscall");
    va_list list;
    va_start(list, number);
    long arguments[6]; // as many as a system call can have
    for (auto& argument : arguments)
        argument = va_arg(list, long);
    va_end(list);
    return real(number, arguments[0], arguments[1], arguments[2], arguments[3], arguments[4], arguments[5]);
}

// --- files, and waiting for them ---

// open and its like take the mode as a third argument if a file may be made.
#define HEADLAND_WATCH_OPEN(name, parameters, arguments)                                                     \
    int name parameters {                                                                                    \
        headland::test::RealTimeTrap::note(#name);                                                           \
        static auto* const real = next<int parameters>(#name);                                               \
        va_list list;                                                                                        \
        va_start(list, flags);                                                                               \
        const auto mode = (flags & (O_CREAT | __O_TMPFILE)) != 0 ? va_arg(list, mode_t) : 0;                 \
        va_end(list);                                                                                        \
        return real arguments;                                                                               \
    }
HEADLAND_WATCH_OPEN(open, (const char* path, int flags, ...), (path, flags, mode))
HEADLAND_WATCH_OPEN(open64, (const char* path, int flags, ...), (path, flags, mode))
HEADLAND_WATCH_OPEN(openat, (int folder, const char* path, int flags, ...), (folder, path, flags, mode))
HEADLAND_WATCH_OPEN(openat64, (int folder, const char* path, int flags, ...), (folder, path, flags, mode))
HEADLAND_WATCH(int, close, (int d), (d), )
HEADLAND_WATCH(ssize_t, read, (int d, void* m, std::size_t s), (d, m, s), )
HEADLAND_WATCH(ssize_t, write, (int d, const void* m, std::size_t s), (d, m, s), )
HEADLAND_WATCH(ssize_t, pread, (int d, void* m, std::size_t s, off_t o), (d, m, s, o), )
HEADLAND_WATCH(ssize_t, pwrite, (int d, const void* m, std::size_t s, off_t o), (d, m, s, o), )
HEADLAND_WATCH(ssize_t, readv, (int d, const iovec* v, int n), (d, v, n), )
HEADLAND_WATCH(ssize_t, writev, (int d, const iovec* v, int n), (d, v, n), )
HEADLAND_WATCH(int, fsync, (int d), (d), )
HEADLAND_WATCH(int, fdatasync, (int d), (d), )
HEADLAND_WATCH(int, poll, (pollfd * p, nfds_t n, int t), (p, n, t), )
HEADLAND_WATCH(int, select, (int n, fd_set* r, fd_set* w, fd_set* e, timeval* t), (n, r, w, e, t), )
HEADLAND_WATCH(int, epoll_wait, (int d, epoll_event* e, int n, int t), (d, e, n, t), )
HEADLAND_WATCH(ssize_t, send, (int d, const void* m, std::size_t s, int f), (d, m, s, f), )
HEADLAND_WATCH(ssize_t, sendto, (int d, const void* m, std::size_t s, int f, const sockaddr* a, socklen_t l),
               (d, m, s, f, a, l), )
HEADLAND_WATCH(ssize_t, sendmsg, (int d, const msghdr* m, int f), (d, m, f), )
HEADLAND_WATCH(ssize_t, recv, (int d, void* m, std::size_t s, int f), (d, m, s, f), )
HEADLAND_WATCH(ssize_t, recvfrom, (int d, void* m, std::size_t s, int f, sockaddr* a, socklen_t* l),
               (d, m, s, f, a, l), )
HEADLAND_WATCH(ssize_t, recvmsg, (int d, msghdr* m, int f), (d, m, f), )
HEADLAND_WATCH(FILE*, fopen, (const char* p, const char* m), (p, m), )
HEADLAND_WATCH(FILE*, fopen64, (const char* p, const char* m), (p, m), )
HEADLAND_WATCH(int, fclose, (FILE * f), (f), )
HEADLAND_WATCH(int, fflush, (FILE * f), (f), )
HEADLAND_WATCH(std::size_t, fread, (void* m, std::size_t s, std::size_t n, FILE* f), (m, s, n, f), )
HEADLAND_WATCH(std::size_t, fwrite, (const void* m, std::size_t s, std::size_t n, FILE* f), (m, s, n, f), )
HEADLAND_WATCH(int, fputs, (const char* t, FILE* f), (t, f), )
HEADLAND_WATCH(int, fputc, (int c, FILE* f), (c, f), )
HEADLAND_WATCH(int, putc, (int c, FILE* f), (c, f), )
HEADLAND_WATCH(int, putchar, (int c), (c), )
HEADLAND_WATCH(int, puts, (const char* t), (t), )
HEADLAND_WATCH(int, vprintf, (const char* t, va_list list), (t, list), )
HEADLAND_WATCH(int, vfprintf, (FILE * f, const char* t, va_list list), (f, t, list), )

int printf(const char* text, ...) {
    headland::test::RealTimeTrap::note("printf");
    static auto* const real = next<int(const char*, va_list)>("vprintf");
    va_list list;
    va_start(list, text);
    const auto result = real(text, list);
    va_end(list);
    return result;
}
int fprintf(FILE* file, const char* text, ...) {
    headland::test::RealTimeTrap::note("fprintf");
    static auto* const real = next<int(FILE*, const char*, va_list)>("vfprintf");
    va_list list;
    va_start(list, text);
    const auto result = real(file, text, list);
    va_end(list);
    return result;
}

// --- exceptions ---

HEADLAND_WATCH(void*, __cxa_allocate_exception, (std::size_t s), (s), noexcept)

} // extern "C"
#pragma GCC visibility pop

#endif
