// SPDX-License-Identifier: GPL-3.0-or-later
// Shows whether code is fit for the audio thread: while a scope of the trap is open on a thread, every call of that
// thread which may allocate, block, reach the kernel or throw is counted by the function's name. RealTimeTrap.cpp
// defines those functions for the whole test program, and hands every call on to the real one.
// Not on other C libraries than glibc, and not in sanitizer builds, which define the same functions themselves: there a
// scope does nothing. Not seen: what the C library calls inside itself, and system calls written in assembler.
#pragma once

#include <array>
#include <string>

namespace headland::test {

class RealTimeTrap {
public:
    /// Whether calls are counted in this build.
    static bool works() noexcept;

    /// While one lives, the calls of the thread that made it are counted in `trap`. Allocates nothing. Of scopes inside
    /// each other on one thread, only the innermost one's trap counts.
    class Scope {
    public:
        explicit Scope(RealTimeTrap& trap) noexcept;
        ~Scope();
        Scope(const Scope&) = delete;
        Scope& operator=(const Scope&) = delete;

    private:
        RealTimeTrap* outer;
    };

    /// How many calls were counted, of all functions.
    long calls() const noexcept;
    /// What was counted, such as "malloc 3, free 1"; empty if nothing was. To be asked outside a scope.
    std::string caught() const;

    /// For RealTimeTrap.cpp: counts one call in the innermost scope of this thread, if there is one.
    static void note(const char* function) noexcept;

private:
    struct Count {
        const char* function = nullptr;
        long calls = 0;
    };
    static constexpr std::size_t functionsMax = 128; // more than RealTimeTrap.cpp defines

    std::array<Count, functionsMax> counts{};
};

} // namespace headland::test
