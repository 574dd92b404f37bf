// SPDX-License-Identifier: GPL-3.0-or-later
// The trap springs for each kind of call it is set for, on its own thread and inside its scope only, and the calls still
// do their work. Nothing is asserted inside a scope: Catch allocates.
#include "Tests/Support/RealTimeTrap.h"

#include <atomic>
#include <catch2/catch.hpp>
#include <condition_variable>
#include <cstdio>
#include <fcntl.h>
#include <functional>
#include <mutex>
#include <poll.h>
#include <semaphore.h>
#include <shared_mutex>
#include <stdexcept>
#include <string>
#include <sys/mman.h>
#include <sys/select.h>
#include <sys/socket.h>
#include <thread>
#include <unistd.h>
#include <vector>

using headland::test::RealTimeTrap;

namespace {

/// Takes a value out of the optimiser's hands, or it may leave out the call that made it.
template <typename T>
T seen(T value) {
    static volatile T kept;
    kept = value;
    return kept;
}

template <typename Work>
std::string caughtIn(Work work) {
    RealTimeTrap trap;
    {
        const RealTimeTrap::Scope scope(trap);
        work();
    }
    return trap.caught();
}

struct Kind {
    const char* expected; // among what is caught
    std::function<void()> work;
};

struct Files { // opened before the trap is set
    int nothing = open("/dev/null", O_RDWR);
    int ends[2];
    std::FILE* stream = std::fopen("/dev/null", "w");
    char bytes[4] = {};

    Files() {
        if (pipe(ends) != 0)
            throw std::runtime_error("no pipe");
    }
    ~Files() {
        for (auto descriptor : {nothing, ends[0], ends[1]})
            close(descriptor);
        std::fclose(stream);
    }
};

struct alignas(256) Aligned {
    char bytes[256];
};

const timespec aMoment{0, 1000};

std::vector<Kind> allocations() {
    return {
        {"malloc 1", [] { std::free(seen(std::malloc(10))); }},
        {"free 1", [] { std::free(seen(std::malloc(10))); }},
        {"calloc 1", [] { std::free(seen(std::calloc(10, 10))); }},
        {"realloc 1", [] { std::free(seen(std::realloc(seen(std::malloc(10)), 20))); }},
        {"malloc 1, free 1", [] { delete seen(new int(1)); }},
        {"malloc 1, free 1", [] { delete[] seen(new double[10]); }},
        {"aligned_alloc 1, free 1", [] { delete seen(new Aligned); }},
        {"posix_memalign 1",
         [] {
             void* memory = nullptr;
             if (posix_memalign(&memory, 64, 64) == 0)
                 std::free(memory);
         }},
        {"malloc 1, free 1", [] { std::string(static_cast<std::size_t>(seen(100)), 'a'); }},
        {"mmap", [] { munmap(mmap(nullptr, 4096, PROT_READ, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0), 4096); }},
        {"munmap 1",
         [] { munmap(mmap(nullptr, 4096, PROT_READ, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0), 4096); }},
    };
}

std::vector<Kind> locks() {
    static std::mutex mutex;
    static std::shared_mutex shared;
    static std::condition_variable condition;
    static sem_t semaphore;
    static std::atomic<int> number{0};
    sem_init(&semaphore, 0, 0);
    return {
        {"pthread_mutex_lock 1, pthread_mutex_unlock 1", [] { const std::lock_guard lock(mutex); }},
        {"pthread_mutex_trylock 1",
         [] {
             if (mutex.try_lock())
                 mutex.unlock();
         }},
        {"pthread_rwlock_wrlock 1, pthread_rwlock_unlock 1", [] { const std::unique_lock lock(shared); }},
        {"pthread_rwlock_rdlock 1, pthread_rwlock_unlock 1", [] { const std::shared_lock lock(shared); }},
        {"pthread_cond_signal 1", [] { condition.notify_one(); }},
        {"pthread_cond_broadcast 1", [] { condition.notify_all(); }},
        {"pthread_cond_clockwait 1",
         [] {
             std::unique_lock lock(mutex);
             condition.wait_for(lock, std::chrono::microseconds(1));
         }},
        {"pthread_cond_wait 1",
         [] {
             std::jthread waker([] { // until the wait below is over
                 while (number.load() == 0)
                     condition.notify_all();
             });
             {
                 std::unique_lock lock(mutex);
                 condition.wait(lock);
             }
             number = 1;
         }},
        {"sem_post 1, sem_wait 1",
         [] {
             sem_post(&semaphore);
             sem_wait(&semaphore);
         }},
        {"syscall", // std::atomic's wait
         [] {
             std::atomic<int> asked{0};
             std::jthread waker([&] {
                 // Till the wait has looked and yielded a few times, which takes its time on a busy machine.
                 std::this_thread::sleep_for(std::chrono::milliseconds(300));
                 asked = 1;
                 asked.notify_all();
             });
             asked.wait(0);
         }},
        {"pthread_create 1", [] { std::thread([] {}).join(); }},
        {"pthread_join 1", [] { std::thread([] {}).join(); }},
        {"nanosleep 1", [] { std::this_thread::sleep_for(std::chrono::microseconds(1)); }},
        {"clock_nanosleep 1", [] { clock_nanosleep(CLOCK_MONOTONIC, 0, &aMoment, nullptr); }},
        {"usleep 1", [] { usleep(1); }},
        {"sched_yield 1", [] { std::this_thread::yield(); }},
    };
}

std::vector<Kind> files() {
    static Files f;
    return {
        {"open 1, close 1", [] { close(open("/dev/null", O_RDONLY)); }},
        {"openat 1", [] { close(openat(AT_FDCWD, "/dev/null", O_RDONLY)); }},
        {"write 1, read 1",
         [] {
             if (write(f.ends[1], "abc", 3) != 3 || read(f.ends[0], f.bytes, 3) != 3)
                 f.bytes[0] = 0;
         }},
        {"fsync 1", [] { fsync(f.nothing); }},
        {"poll 1",
         [] {
             pollfd one{f.nothing, POLLIN, 0};
             poll(&one, 1, 0);
         }},
        {"select 1",
         [] {
             timeval none{};
             select(0, nullptr, nullptr, nullptr, &none);
         }},
        {"sendto 1", [] { sendto(-1, f.bytes, 1, 0, nullptr, 0); }},
        {"fopen 1", [] { std::fclose(std::fopen("/dev/null", "r")); }},
        {"fclose 1", [] { std::fclose(std::fopen("/dev/null", "r")); }},
        {"fwrite 1", [] { std::fwrite(f.bytes, 1, static_cast<std::size_t>(seen(3)), f.stream); }},
        {"fprintf 1", [] { std::fprintf(f.stream, "%d", seen(1)); }},
        {"fflush 1", [] { std::fflush(f.stream); }},
    };
}

std::vector<Kind> exceptions() {
    return {
        {"__cxa_allocate_exception 1",
         [] {
             try {
                 throw 1;
             } catch (int) {
             }
         }},
        {"__cxa_allocate_exception 1", // thrown inside the C++ library
         [] {
             try {
                 seen(std::string("a").at(static_cast<std::size_t>(seen(5))));
             } catch (const std::out_of_range&) {
             }
         }},
    };
}

void expectCaught(const std::vector<Kind>& kinds) {
    if (!RealTimeTrap::works()) {
        CHECK(caughtIn(kinds.front().work).empty()); // a sanitizer build: the scope does nothing
        return;
    }
    for (const auto& kind : kinds) {
        INFO("expected among what is caught: " << kind.expected);
        CHECK_THAT(caughtIn(kind.work), Catch::Contains(kind.expected));
    }
}

} // namespace

TEST_CASE("The real-time trap catches allocation", "[support]") {
    expectCaught(allocations());
}

TEST_CASE("The real-time trap catches locks and waiting", "[support]") {
    expectCaught(locks());
}

TEST_CASE("The real-time trap catches files and sockets", "[support]") {
    expectCaught(files());
}

TEST_CASE("The real-time trap catches exceptions", "[support]") {
    expectCaught(exceptions());
}

TEST_CASE("What is caught still does its work", "[support]") {
    Files f;
    RealTimeTrap trap;
    {
        const RealTimeTrap::Scope scope(trap);
        if (write(f.ends[1], "abc", 3) == 3 && read(f.ends[0], f.bytes, 3) != 3)
            f.bytes[0] = 0;
    }
    CHECK(std::string(f.bytes) == "abc");
}

TEST_CASE("The real-time trap leaves alone what is outside its scope or on another thread", "[support]") {
    RealTimeTrap trap, inner;
    delete seen(new int(1));
    std::atomic<int> stage{0};
    std::jthread other([&] {
        while (stage != 1) {
        }
        delete seen(new int(1));
        stage = 2;
    });
    {
        const RealTimeTrap::Scope scope(trap);
        stage = 1;
        while (stage != 2) {
        }
        {
            const RealTimeTrap::Scope within(inner);
            delete seen(new int(1));
        }
        if (RealTimeTrap::works())
            std::free(seen(std::calloc(1, 1)));
    }
    delete seen(new int(1));
    CHECK(inner.caught() == (RealTimeTrap::works() ? "malloc 1, free 1" : ""));
    CHECK(trap.caught() == (RealTimeTrap::works() ? "calloc 1, free 1" : ""));
    CHECK(trap.calls() == (RealTimeTrap::works() ? 2 : 0));
}
