// SPDX-License-Identifier: GPL-3.0-or-later
// Invented programs in bins: where they are found, and that nothing is said where nothing can be. Recorded music:
// Tests/Reference/AlignmentTests.cpp.

#include "Align/Feature.h"
#include "Align/ProfileAligner.h"

#include "Tests/Support/Random.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <ctime>
#include <limits>
#include <numbers>

using namespace headland;
using namespace headland::align;
using namespace headland::test;
using plan::Profile;
using plan::ProfileBin;
using Bins = std::vector<ProfileBin>;

namespace {

constexpr auto bin_s = 1.8 / Profile::binsPerTurn;

/// Notes of random length and level, each dying away; of the time, bins. Loudness at any time, so that it can be played at any speed.
class Notes {
public:
    explicit Notes(unsigned seed, double length) {
        Random random(seed);
        for (auto at = 0.0; at < length; at += random.between(15, 120))
            notes.push_back({at, random.between(5, 80), random.between(20, 200)});
    }
    double at(double time) const {
        auto next = std::upper_bound(notes.begin(), notes.end(), time,
                                     [](double value, const Note& note) { return value < note.at; });
        if (next == notes.begin())
            return 0;
        const auto& note = *std::prev(next);
        return note.level_um * std::exp(-(time - note.at) / note.decay);
    }

private:
    struct Note {
        double at, level_um, decay;
    };
    std::vector<Note> notes;
};

/// What is played from `start` on, `ratio` as fast, as bins; left and right a little apart.
Bins played(const Notes& notes, double start, double ratio, std::size_t count, double gain = 1) {
    Bins bins;
    for (std::size_t i = 0; i < count; ++i) {
        const auto level_um = static_cast<float>(gain * notes.at(start + ratio * static_cast<double>(i)));
        bins.push_back({level_um, 0.9F * level_um, 0.1F * level_um});
    }
    return bins;
}

Profile profileOf(Bins bins) {
    Profile profile;
    profile.length_s = static_cast<double>(bins.size()) * profile.bin_s();
    profile.bins = std::move(bins);
    return profile;
}

struct Heard {
    Alignment last;
    int foundAt = -1;   ///< turns heard before the first answer
    double worst_s = 0; ///< of all answers, at the end of what was heard
};

/// Hears bins a turn at a time and asks after each; `truth` is the line that should be found, s.
Heard hear(ProfileAligner& aligner, const Bins& bins, double offset_s, double ratio) {
    Heard heard;
    for (std::size_t i = 0; i + 400 <= bins.size(); i += 400) {
        aligner.hear(std::span(bins).subspan(i, 400));
        heard.last = aligner.align();
        if (!heard.last.found)
            continue;
        if (heard.foundAt < 0)
            heard.foundAt = static_cast<int>(i / 400) + 1;
        const auto now_s = static_cast<double>(i + 400) * bin_s;
        heard.worst_s = std::max(heard.worst_s, std::abs(heard.last.offset_s + heard.last.ratio * now_s
                                                         - (offset_s + ratio * now_s)));
    }
    return heard;
}

} // namespace

TEST_CASE("A program is found wherever it starts, at whatever level and speed", "[align]") {
    const Notes notes(21, 40000);
    const auto profile = profileOf(played(notes, 0, 1, 40000));
    for (const auto start : {0.0, 667.3, 20000.5, -1000.0})
        for (const auto ratio : {1.0, 1.002, 0.998}) {
            ProfileAligner aligner(profile);
            const auto heard = hear(aligner, played(notes, start, ratio, 12000, 1.41), start * bin_s, ratio);
            INFO("from bin " << start << ", speed " << ratio);
            REQUIRE(heard.last.found);
            CHECK(heard.foundAt <= (start < 0 ? 9 : 6));
            CHECK(heard.worst_s < 0.01);
            CHECK(heard.last.ratio == Approx(ratio).margin(0.0002));
            CHECK(heard.last.level_db == Approx(3).margin(0.1));
            CHECK(heard.last.fit > 0.98);
        }
}

TEST_CASE("Nothing is found of another program, of silence or of a steady tone", "[align]") {
    const auto profile = profileOf(played(Notes(21, 20000), 0, 1, 20000));
    Bins tone;
    for (int i = 0; i < 12000; ++i) // 30 Hz, in bins
        tone.push_back(
            {static_cast<float>(20 + 10 * std::sin(2 * std::numbers::pi * 30 * i * bin_s)), 20, 0});
    for (const auto& bins :
         {played(Notes(22, 20000), 0, 1, 12000), Bins(12000), Bins(12000, {30, 30, 1}), tone}) {
        ProfileAligner aligner(profile);
        CHECK(hear(aligner, bins, 0, 1).foundAt == -1);
    }
    ProfileAligner ofTone(profileOf(tone));
    CHECK(hear(ofTone, tone, 0, 1).foundAt == -1);
}

TEST_CASE("Nothing is found where the program repeats itself, until it goes on differently", "[align]") {
    const auto verse = played(Notes(23, 4000), 0, 1, 4000), end = played(Notes(24, 4000), 0, 1, 4000);
    auto bins = verse;
    bins.insert(bins.end(), verse.begin(), verse.end());
    bins.insert(bins.end(), end.begin(), end.end());
    ProfileAligner aligner(profileOf(bins));
    auto live = verse;
    live.insert(live.end(), end.begin(), end.end()); // the second time
    const auto heard = hear(aligner, live, 4000 * bin_s, 1);
    CHECK(heard.foundAt > 10);
    CHECK(heard.last.found);
    CHECK(heard.worst_s < 0.01);
}

TEST_CASE("A program that is shifted halfway is found again", "[align]") {
    const Notes notes(25, 20000);
    ProfileAligner aligner(profileOf(played(notes, 0, 1, 20000)));
    auto live = played(notes, 0, 1, 6000);
    const auto rest = played(notes, 6000 + 0.2 / bin_s, 1, 6000);
    live.insert(live.end(), rest.begin(), rest.end());
    const auto isRight = [&](int bins) {
        const auto found = aligner.align();
        return found.found
               && std::abs(found.offset_s + found.ratio * bins * bin_s - (bins * bin_s + 0.2)) < 0.01;
    };
    hear(aligner, {live.begin(), live.begin() + 8400}, 0, 1); // six turns of it
    CHECK(isRight(8400));
    hear(aligner, {live.begin() + 8400, live.end()}, 0, 1);
    CHECK(isRight(12000));
}

TEST_CASE("A program that turns into another is lost within some turns, silence is waited through",
          "[align]") {
    const Notes notes(26, 20000);
    ProfileAligner aligner(profileOf(played(notes, 0, 1, 20000)));
    CHECK(hear(aligner, played(notes, 0, 1, 4000), 0, 1).last.found);
    aligner.hear(Bins(4000));
    CHECK(aligner.align().found);
    aligner.hear(played(Notes(27, 5000), 0, 1, 3600));
    CHECK_FALSE(aligner.align().found);
}

TEST_CASE("The answer is the same however the bins come", "[align]") {
    const Notes notes(28, 20000);
    const auto profile = profileOf(played(notes, 0, 1, 20000));
    const auto live = played(notes, 500.25, 1.001, 8000);
    ProfileAligner one(profile), other(profile);
    for (std::size_t i = 0; i < live.size(); i += 400) {
        one.hear(std::span(live).subspan(i, 400));
        for (std::size_t k = i; k < i + 400; k += 16)
            other.hear(std::span(live).subspan(k, 16));
        const auto a = one.align(), b = other.align();
        CHECK(a.found == b.found);
        CHECK(a.offset_s == b.offset_s);
        CHECK(a.ratio == b.ratio);
        CHECK(a.fit == b.fit);
    }
}

TEST_CASE(
    "Bins that are no numbers, an empty profile and one that is too short find nothing and harm nothing",
    "[align]") {
    constexpr auto nan = std::numeric_limits<float>::quiet_NaN();
    constexpr auto infinite = std::numeric_limits<float>::infinity();
    const Notes notes(29, 20000);
    const auto live = played(notes, 0, 1, 6000);
    for (const auto& bins :
         {Bins{}, Bins(1), played(notes, 0, 1, 799), Bins(5000, {nan, infinite, -infinite})}) {
        ProfileAligner aligner(profileOf(bins));
        CHECK(hear(aligner, live, 0, 1).foundAt == -1);
    }
    ProfileAligner aligner(profileOf(played(notes, 0, 1, 20000)));
    CHECK(hear(aligner, Bins(6000, {nan, infinite, -infinite}), 0, 1).foundAt == -1);
    aligner.hear(played(notes, 6000, 1, 8000));
    CHECK(aligner.align().found);
}

TEST_CASE("A place in a profile of 20 minutes is found within a second of processor time", "[align]") {
    const auto length = static_cast<std::size_t>(1200 / bin_s);
    const Notes notes(30, static_cast<double>(length));
    ProfileAligner aligner(profileOf(played(notes, 0, 1, length)));
    aligner.hear(played(notes, 200000, 1, 8000)); // as much as is ever looked for at once
    const auto now_s = [] {
        timespec time{};
        ::clock_gettime(CLOCK_THREAD_CPUTIME_ID, &time);
        return static_cast<double>(time.tv_sec) + 1e-9 * static_cast<double>(time.tv_nsec);
    };
    const auto before_s = now_s();
    CHECK(aligner.align().found);
    CHECK(now_s() - before_s < 1);
}

TEST_CASE("The level told is that of the last four stretches of two turns, in a long program as well",
          "[align]") {
    const auto profile = played(Notes(30, 20000), 0, 1, 20000);
    auto live = profile;
    for (std::size_t i = 0; i < live.size(); ++i) { // a quarter of a decibel louder with every turn
        const auto gain = static_cast<float>(std::pow(10, 0.25 / 20 * static_cast<double>(i) / 400));
        live[i] = {gain * live[i].outer_um, gain * live[i].inner_um, gain * live[i].upward_um};
    }
    const auto loudness_um = [](const Bins& bins, std::size_t from) {
        auto sum_um = 0.0;
        for (std::size_t i = from; i < from + 800; ++i)
            sum_um += loudnessOf(bins[i]);
        return sum_um;
    };
    ProfileAligner aligner(profileOf(profile));
    for (std::size_t heard = 400; heard <= live.size(); heard += 400) {
        aligner.hear(std::span(live).subspan(heard - 400, 400));
        const auto found = aligner.align();
        if (heard < 10 * 400)
            continue;
        INFO("after " << heard / 400 << " turns");
        REQUIRE(found.found);
        auto expected_db = 0.0;
        for (std::size_t back = 0; back < 4; ++back) {
            const auto from = heard - featureReach - 800 - 400 * back;
            expected_db += 20 * std::log10(loudness_um(live, from) / loudness_um(profile, from)) / 4;
        }
        REQUIRE(found.level_db == Approx(expected_db).margin(0.02));
    }
}

TEST_CASE("A tape that is pulled to and fro is not taken for one that was spliced", "[align]") {
    constexpr std::size_t steady = 4800, pulled = 4000;
    const Notes notes(31, 20000);
    ProfileAligner aligner(profileOf(played(notes, 0, 1, 20000)));
    CHECK(hear(aligner, played(notes, 0, 1, steady), 0, 1).last.found);
    constexpr double pull = 12; // bins a turn, forwards for two turns and back for two
    Bins live;
    for (std::size_t i = 0; i < pulled; ++i) {
        const auto turns = std::fmod(static_cast<double>(i) / 400, 4);
        const auto at = static_cast<double>(steady + i) + pull * (2 - std::abs(2 - turns));
        live.push_back(played(notes, at, 1, 1).front());
    }
    for (std::size_t turns = 1; turns <= pulled / 400; ++turns) {
        aligner.hear(std::span(live).subspan(400 * (turns - 1), 400));
        const auto found = aligner.align();
        INFO("after " << turns << " turns of it");
        REQUIRE(found.found
                == (turns <= 5)); // places that do not agree: the old line stays until too many were missed
        if (found.found)
            REQUIRE(std::abs(found.offset_s) < 0.001);
    }
}
