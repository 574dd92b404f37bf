// SPDX-License-Identifier: GPL-3.0-or-later
// process() and finish() promise to allocate nothing. The allocation functions of this whole program are replaced by ones
// that count; the sanitizers bring their own, so there the count stays out.
#include "Tests/Cut/TestPrograms.h"

#include <atomic>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <new>

#if !defined(__SANITIZE_ADDRESS__) && !defined(__SANITIZE_THREAD__)

namespace {

std::atomic<long> allocations{0};

void* counted(std::size_t size) {
    ++allocations;
    if (auto* memory = std::malloc(size > 0 ? size : 1))
        return memory;
    throw std::bad_alloc();
}

} // namespace

void* operator new(std::size_t size) {
    return counted(size);
}
void* operator new[](std::size_t size) {
    return counted(size);
}
void operator delete(void* memory) noexcept {
    std::free(memory);
}
void operator delete[](void* memory) noexcept {
    std::free(memory);
}
void operator delete(void* memory, std::size_t) noexcept {
    std::free(memory);
}
void operator delete[](void* memory, std::size_t) noexcept {
    std::free(memory);
}

namespace {

using namespace headland;

class FrameCounter : public cut::FrameSink {
public:
    void frame(const cut::CutFrame&) noexcept override { ++frames; }
    int frames = 0;
};

} // namespace

TEST_CASE("Cutting allocates nothing, from the first sample to the finishing groove", "[cut]") {
    for (const auto previewTurns : {0.25, 1.0, 2.5}) {
        auto program = test::randomProgram(21, 15);
        program.left[100000] = std::numeric_limits<float>::quiet_NaN();
        cut::CutSettings settings;
        settings.preview_s = previewTurns * settings.turn_s();
        cut::CutEngine engine;
        FrameCounter counter;
        const auto beforePrepare = allocations.load();
        engine.prepare(settings, program.rate_hz);
        REQUIRE(allocations.load() > beforePrepare); // the trap is set: prepare() does allocate

        const auto before = allocations.load();
        while (!engine.leadInSome(64, counter)) {
        }
        for (std::size_t i = 0; i + 64 <= program.length(); i += 64)
            engine.process(&program.left[i], &program.right[i], 64, counter);
        engine.finish(counter);
        const auto during = allocations.load() - before;
        INFO(previewTurns << " turns of preview");
        CHECK(during == 0);
        CHECK(counter.frames > 2000);
    }
}

#endif
