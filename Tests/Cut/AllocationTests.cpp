// SPDX-License-Identifier: GPL-3.0-or-later
// Cutting is fit for the audio thread: through a whole side, nothing of what the real-time trap watches is called. In
// sanitizer builds the trap does not work, and the test only runs the side.
#include "Tests/Cut/TestPrograms.h"
#include "Tests/Support/RealTimeTrap.h"

#include <catch2/catch.hpp>

using namespace headland;

namespace {

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
        test::RealTimeTrap preparing, cutting;
        {
            const test::RealTimeTrap::Scope scope(preparing);
            engine.prepare(settings, program.rate_hz);
        }
        REQUIRE((preparing.calls() > 0) == test::RealTimeTrap::works()); // it is set: prepare() does allocate
        {
            const test::RealTimeTrap::Scope scope(cutting);
            while (!engine.leadInSome(64, counter)) {
            }
            for (std::size_t i = 0; i + 64 <= program.length(); i += 64)
                engine.process(&program.left[i], &program.right[i], 64, counter);
            engine.finish(counter);
        }
        INFO(previewTurns << " turns of preview");
        CHECK(cutting.caught() == "");
        CHECK(counter.frames > 2000);
    }
}
