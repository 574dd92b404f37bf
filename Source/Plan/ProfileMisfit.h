// SPDX-License-Identifier: GPL-3.0-or-later
// Whether a profile still tells what is heard: the last turn's bins against those that the profile has at the aligned place. Of
// both the loudness around each bin is compared, as a logarithm: its course over the turn by correlation, its mean as a level. No
// allocation, bounded time (some 40 µs, which can be taken in shares); audio thread.
#pragma once

#include "Plan/Profile.h"

#include <array>
#include <cstddef>
#include <span>

namespace headland::plan {

/// A misfit needs a course that is another (correlation and difference) or another level. Thresholds and what was measured with
/// them: docs/theory/alignment.md.
inline constexpr double misfitCorrelation = 0.93; ///< below
inline constexpr double misfitDifference = 0.05;  ///< and above: of the logarithms, root mean square (0.4 dB)
inline constexpr double misfitLevel_db = 1.0;     ///< above, either way

struct ProfileMisfit {
    bool noticed = false;
    double correlation = 1; ///< of the course, at the best of the places within 18 ms at 33 1/3
    double difference = 0;  ///< of the course, logarithms, at the best of these places
    double level_db = 0;    ///< how much louder what is heard is
};

/// A comparison that is made share by share.
class MisfitCheck {
public:
    static constexpr int shares = 10; ///< alike in time, within a factor of two or three

    /// As misfit(); both are copied.
    void begin(std::span<const ProfileBin> heard, std::span<const ProfileBin> told) noexcept;
    /// Does the next share, if there is one.
    void proceed() noexcept;
    bool isDone() const noexcept { return done == shares; }
    /// What was begun is of no interest any more.
    void stop() noexcept {
        found = {};
        done = shares;
    }
    const ProfileMisfit& result() const noexcept { return found; }

private:
    static constexpr std::size_t most = Profile::binsPerTurn;
    using Bins = std::array<ProfileBin, most>;
    using Course = std::array<double, most>;
    void compare(int first, int last) noexcept;
    void judge() noexcept;

    Bins heard{}, told{};
    Course raw{}, ofHeard{}, ofTold{};
    std::size_t count = 0;
    int done = shares;
    ProfileMisfit found;
};

/// `heard` and `told`: the same stretch of a turn or less (Profile::binsPerTurn bins; of more, the first are taken), 40 bins at
/// the least, or nothing is noticed. What is no number counts as 0. In silence and in steady tones only the level can tell.
ProfileMisfit misfit(std::span<const ProfileBin> heard, std::span<const ProfileBin> told) noexcept;

} // namespace headland::plan
