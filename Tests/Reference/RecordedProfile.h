// SPDX-License-Identifier: GPL-3.0-or-later
// Recorded music as the bins of a profile, as it is or changed by sox: played faster, louder, later, dithered, or as another take.
#pragma once

#include "Plan/Profile.h"
#include "Tests/Files/TestFolder.h"
#include "Tests/Reference/Command.h"
#include "Tests/Reference/OptimumRun.h"
#include "Tests/Support/Random.h"

#include <algorithm>

namespace headland::reference {

constexpr double profileRate_hz = 44100;
using Bins = std::vector<plan::ProfileBin>;

/// Raw samples in pairs, cut at the defaults and 0 dB: the bins that are whole.
inline Bins binsOf(const std::string& raw) {
    const auto profile = rehearse(cut::CutSettings{}, recordingOf(raw, profileRate_hz));
    return {profile->bins.begin(),
            profile->bins.begin() + static_cast<std::ptrdiff_t>(profile->length_s / profile->bin_s())};
}

/// `length_s` of a recording from `start_s` on, through these effects of sox.
inline std::string soundOf(const std::string& file, double start_s, double length_s,
                           const std::string& effects = "", const std::string& format = "-e float -b 32") {
    const std::string raw = " -t raw -r 44100 -c 2 ", floats = "-e float -b 32 - ";
    // Cut by sox: what ffmpeg calls a time counts from the file's own first time stamp, which may be some ms before or after.
    auto command = "ffmpeg -nostdin -loglevel quiet -i " + test::quoted(file)
                   + " -ac 2 -ar 44100 -f f32le - | sox -V1" + raw + floats + raw + format + " - trim "
                   + std::to_string(start_s) + " " + std::to_string(length_s) + " gain -6 "
                   + effects; // room for what makes it louder
    if (format != "-e float -b 32")
        command += " | sox -V1" + raw + format + " - " + raw + floats;
    return test::runCommand(command);
}

/// The same stretch played anew: in sections of 0.8 to 2 s, each up to 5 % slower or faster without change of pitch (sox tempo), up
/// to 1.5 dB softer or louder. The notes are those of the recording, their time and level another player's.
inline std::string anotherTake(const std::string& file, double start_s, double length_s, unsigned seed) {
    const test::TestFolder folder;
    test::put(folder / "sound.raw", soundOf(file, start_s, length_s));
    test::Random random(seed);
    std::string sound;
    for (auto at_s = 0.0; at_s < length_s;) {
        const auto section_s = random.between(0.8, 2);
        sound += test::runCommand("sox -V1 -t raw -r 44100 -c 2 -e float -b 32 "
                                  + test::quoted(folder / "sound.raw") + " -t raw -e float -b 32 - trim "
                                  + std::to_string(at_s) + " "
                                  + std::to_string(std::min(section_s, length_s - at_s)) + " tempo -m "
                                  + std::to_string(random.between(0.95, 1.05)) + " gain "
                                  + std::to_string(random.between(-1.5, 1.5)));
        at_s += section_s;
    }
    return sound;
}

inline plan::Profile profileOf(Bins bins) {
    plan::Profile profile;
    profile.length_s = static_cast<double>(bins.size()) * profile.bin_s();
    profile.bins = std::move(bins);
    return profile;
}

} // namespace headland::reference
