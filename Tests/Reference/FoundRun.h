// SPDX-License-Identifier: GPL-3.0-or-later
// Cuts a program that was listened to before: it is looked for in the profile while it is cut, once a turn, as the processor does.
#pragma once

#include "Align/ProfileAligner.h"
#include "Tests/Reference/OptimumRun.h"
#include "Tests/Reference/RecordedProfile.h"

#include <memory>
#include <span>
#include <utility>
#include <vector>

namespace headland::reference {

struct FoundCut {
    std::vector<cut::CutFrame> frames;
    cut::ProfileUse use;
    double firstFound_s = -1; ///< program time heard by then; -1: never
};

class FoundRun final : public test::FrameList {
public:
    FoundRun(const cut::CutSettings& settings, const Recording& program,
             std::shared_ptr<const plan::Profile> profile)
        : recording(program), aligner(*profile) {
        engine.prepare(settings, program.rate_hz, {}, profile);
    }

    FoundCut run() {
        constexpr std::size_t block = 512;
        std::vector<float> left(block), right(block);
        const auto length = recording.samples.size() / 2;
        for (heardSamples = 0; heardSamples < length;) {
            const auto count = std::min(block, length - heardSamples);
            for (std::size_t i = 0; i < count; ++i) {
                left[i] = recording.samples[2 * (heardSamples + i)];
                right[i] = recording.samples[2 * (heardSamples + i) + 1];
            }
            engine.process(left.data(), right.data(), static_cast<int>(count), *this);
            heardSamples += count;
            look();
        }
        engine.finish(*this);
        result.frames = std::move(frames);
        result.use = engine.profileUse();
        return std::move(result);
    }

private:
    bool wantsHeard() const noexcept override { return true; }
    void heard(const plan::ProfileBin& bin, std::int64_t) noexcept override { bins.push_back(bin); }

    void look() {
        if (bins.size() < plan::Profile::binsPerTurn)
            return;
        aligner.hear(bins);
        bins.clear();
        const auto place = aligner.align();
        if (!place.found)
            return;
        engine.found({place.offset_s, place.ratio});
        if (result.firstFound_s < 0)
            result.firstFound_s = static_cast<double>(heardSamples) / recording.rate_hz;
    }

    const Recording& recording;
    cut::CutEngine engine;
    align::ProfileAligner aligner;
    std::vector<plan::ProfileBin> bins;
    std::size_t heardSamples = 0;
    FoundCut result;
};

} // namespace headland::reference
