// SPDX-License-Identifier: GPL-3.0-or-later
// A program that is heard before it is cut, and what that leaves.
#pragma once

#include "Cut/ProgramRehearsal.h"
#include "Tests/Cut/TestPrograms.h"
#include "Tests/Support/RandomMusic.h"

#include <algorithm>
#include <memory>
#include <utility>

namespace headland::test {

inline plan::Profile rehearse(const cut::CutSettings& settings, const Program& p, std::size_t block = 4096) {
    cut::ProgramRehearsal rehearsal(settings, p.rate_hz);
    for (std::size_t i = 0; i < p.length(); i += block)
        rehearsal.process(&p.left[i], &p.right[i], static_cast<int>(std::min(block, p.length() - i)));
    return rehearsal.profile();
}

inline std::shared_ptr<const plan::Profile> kept(plan::Profile profile) {
    return std::make_shared<const plan::Profile>(std::move(profile));
}

inline Program music(unsigned seed, double seconds, double rate_hz = 44100) {
    Random random(seed);
    return randomMusic(random, seconds, rate_hz);
}

} // namespace headland::test
