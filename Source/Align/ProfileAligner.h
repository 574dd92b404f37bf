// SPDX-License-Identifier: GPL-3.0-or-later
// Where a live program is in the profile of its rehearsal, and how much faster or slower it runs. First the last seconds are
// looked for in the whole profile; once they are found, every turn is looked for near the place where it should be, and a
// line through the last turns' places is the answer. Needs a few turns of program before it says anything, and says nothing of
// another program, of silence, or where the profile has several places that sound alike. Not for the audio thread: whoever owns
// it calls it from a thread of its own.
#pragma once

#include "Align/Correlation.h"
#include "Plan/Profile.h"

#include <cstdint>
#include <deque>
#include <span>
#include <vector>

namespace headland::align {

/// The answer: the time in the profile is offset_s + ratio · the live time, both counted from the first bin.
struct Alignment {
    bool found = false;
    double offset_s = 0;
    double ratio = 1;    ///< above 1: the live program runs faster than the rehearsed one
    double level_db = 0; ///< how much louder than the profile, over the last turns that were found
    double fit = 0;      ///< correlation of the last turns with the profile, 0 to 1
};

class ProfileAligner {
public:
    /// Keeps what it needs of the profile: 12 bytes a bin.
    explicit ProfileAligner(const plan::Profile& profile);

    /// The next bins of the live program, each as long as the profile's; the first one ever is live time 0.
    void hear(std::span<const plan::ProfileBin> bins);

    /// Where the program is, by what has been heard. Meant to be asked about once a turn; takes a millisecond, and 0.1 s for a
    /// profile of 20 minutes as long as the place is not known.
    Alignment align();

private:
    /// A stretch of live program that was found.
    struct Place {
        double live;    ///< its middle, bins
        double profile; ///< where that is, bins
        double fit;
        double level_db;
    };
    /// A stretch of the feature of what was heard.
    struct Stretch {
        std::int64_t start; ///< live bin
        std::span<const float> feature;
    };

    Stretch stretchFrom(std::int64_t start) const noexcept;
    std::int64_t knownEnd() const noexcept;
    void forgetOld();
    bool acquire();
    void track();
    void trackStretch(std::int64_t start);
    Place placeNear(const Stretch& stretch, double expected, int reach) const;
    Place finePlace(const Stretch& stretch, std::ptrdiff_t place) const;
    double levelAt(const Stretch& stretch, std::ptrdiff_t place) const noexcept;
    double expectedAt(double live) const noexcept;
    void fitLine() noexcept;
    void lose() noexcept;

    double bin_s;
    std::vector<float> profileFeature;
    std::vector<double> profileSums_um; ///< of the loudness before each bin
    Correlator correlator;

    std::int64_t heard = 0;             ///< bins ever
    std::int64_t first = 0;             ///< live bin that is kept first
    std::vector<plan::ProfileBin> kept; ///< the bins from there on
    std::vector<float> liveFeature;     ///< of the same
    std::deque<Place> places;           ///< the last ones found; empty: it is not known where
    std::deque<Place> jumped;           ///< found one after the other away from where they should be
    std::int64_t next = 0;              ///< live bin of the stretch that is looked for next
    int missed = 0;                     ///< stretches one after the other that were not found
    double offset = 0, ratio = 1;       ///< the line, bins
};

} // namespace headland::align
