// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/PatchFinder.h"

#include "Files/ProgramFile.h"
#include "Log/PatchFromProgram.h"

#include <exception>
#include <filesystem>
#include <utility>

namespace headland::editor {

namespace {

/// Thrown between blocks to end the work there; never seen outside.
struct GivenUp {};

} // namespace

void PatchFinder::find(Wish wanted) {
    stop();
    wish = std::move(wanted);
    done.set(0);
    startThread();
}

void PatchFinder::stop() {
    stopThread(-1);
    const std::lock_guard held(lock);
    found.reset();
}

std::optional<PatchFinder::Found> PatchFinder::take() {
    const std::lock_guard held(lock);
    return std::exchange(found, std::nullopt);
}

void PatchFinder::run() {
    Found made{wish.time_s, std::nullopt, {}};
    try {
        auto program = files::ProgramFile::open(wish.program);
        const log::FramesOfCut logged{wish.side->settings(), wish.sampleRate_hz, wish.side->frames()};
        log::PatchWish around;
        around.time_s = wish.time_s;
        made.patch = log::patchFromProgram(program, std::filesystem::path(wish.program).filename().string(),
                                           logged, around,
                                           [this](double fraction) {
                                               done.set(fraction);
                                               if (threadShouldExit())
                                                   throw GivenUp{};
                                           })
                         .patch;
    } catch (const GivenUp&) {
        return;
    } catch (const std::exception& problem) {
        made.refusal = problem.what();
    }
    const std::lock_guard held(lock);
    found = std::move(made);
}

} // namespace headland::editor
