// SPDX-License-Identifier: GPL-3.0-or-later
// Recorded music (Debian's singularity-music and asc-music) found in the profile of its rehearsal: what is played back late,
// faster, louder, cut short or spliced is right within 10 ms, what is another piece or another take is not found or is noticed.
// Played by ffmpeg and sox, so that what is looked for was not made by the code that finds it.
// What docs/theory/alignment.md shows: build/release/tests/reference_tests "[alignment-report]".

#include "Align/ProfileAligner.h"
#include "Plan/ProfileMisfit.h"
#include "Tests/Reference/RecordedProfile.h"
#include "Tests/Support/InParallel.h"

#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cstdio>
#include <cstdlib>

using namespace headland;
using namespace headland::reference;

namespace {

constexpr double rehearsed_s = 150, played_s = 60;
constexpr double right_s = 0.01;
constexpr double bin_s = 1.8 / plan::Profile::binsPerTurn;
const std::string dithered = "-e signed -b 16";

/// Where the live program is in the profile at a live time, s.
struct Line {
    double offset_s, ratio;
    double at(double live_s) const { return offset_s + ratio * live_s; }
};

struct Found {
    align::Alignment last;
    int turns = 0, found = 0, wrong = 0, firstAt = -1;
    double worst_s = 0;
};

/// Hears the bins a turn at a time and asks after each; `after_s`: answers before are not compared.
Found hear(align::ProfileAligner& aligner, const Bins& bins, const Line& truth, double after_s = 0) {
    Found result;
    for (std::size_t i = 0; i + 400 <= bins.size(); i += 400) {
        aligner.hear(std::span(bins).subspan(i, 400));
        result.last = aligner.align();
        const auto now_s = static_cast<double>(i + 400) * bin_s;
        ++result.turns;
        if (!result.last.found || now_s < after_s)
            continue;
        if (result.firstAt < 0)
            result.firstAt = result.turns;
        const auto off_s = std::abs(result.last.offset_s + result.last.ratio * now_s - truth.at(now_s));
        result.found += 1;
        result.wrong += off_s > right_s;
        result.worst_s = std::max(result.worst_s, off_s);
    }
    return result;
}

std::vector<std::string> pieces() {
    auto files = test::recordingsOf("singularity-music asc-music");
    // The two shortest ones end within what is played.
    std::erase_if(files, [](const std::string& file) { return file.find("/lose/") != std::string::npos; });
    return files;
}

/// The rehearsal of a piece, with another piece behind it.
plan::Profile rehearsalOf(const std::vector<std::string>& files, std::size_t i) {
    auto sound = soundOf(files[i], 0, rehearsed_s);
    sound += soundOf(files[(i + 1) % files.size()], 0, rehearsed_s / 2);
    return profileOf(binsOf(sound));
}

/// The turns of `live` that are taken for a misfit, each compared with the profile at its place; in parts of all.
double misfits(const Bins& live, const plan::Profile& profile, const Line& place, std::size_t& compared) {
    std::size_t noticed = 0;
    compared = 0;
    for (std::size_t i = 400; i + 400 <= live.size(); i += 400) {
        // The middle of the turn lies right, as after an alignment.
        const auto middle = place.at(static_cast<double>(i + 200) * bin_s) / bin_s;
        const auto from = static_cast<std::ptrdiff_t>(std::lround(middle - 200));
        if (from < 0 || from + 400 > static_cast<std::ptrdiff_t>(profile.bins.size()))
            continue;
        ++compared;
        noticed += plan::misfit(std::span(live).subspan(i, 400),
                                std::span(profile.bins).subspan(static_cast<std::size_t>(from), 400))
                       .noticed;
    }
    return compared == 0 ? 0 : static_cast<double>(noticed) / static_cast<double>(compared);
}

int number(const char* name, int otherwise) {
    const auto* text = std::getenv(name);
    return text == nullptr ? otherwise : std::atoi(text);
}

} // namespace

TEST_CASE("Recorded music is found in its profile within 10 ms, played late, fast, loud or spliced",
          "[alignment]") {
    const auto files = pieces();
    REQUIRE(files.size() >= 10);
    constexpr std::array<std::size_t, 5> some{0, 3, 8, 12, 13};
    struct Outcome {
        Found late, fast, loud, before, after, early;
    };
    std::vector<Outcome> all(some.size());
    test::inParallel(some.size(), [&](std::size_t k) {
        const auto i = some[k];
        const auto profile = rehearsalOf(files, i);
        const auto& file = files[i];
        const auto play = [&](const std::string& sound, const Line& truth, double after_s = 0) {
            align::ProfileAligner aligner(profile);
            return hear(aligner, binsOf(sound), truth, after_s);
        };
        auto& o = all[k];
        o.late = play(soundOf(file, 3.0017, played_s, "", dithered),
                      {3.0017, 1}); // 3 s of the program were missed
        o.early = play(soundOf(file, 0, played_s, "pad 2.5 0"), {-2.5, 1});
        o.fast = play(soundOf(file, 20, played_s, "speed 1.002 rate -h 44100"), {20, 1.002});
        o.loud = play(soundOf(file, 10, played_s, "gain 3"), {10, 1});
        const auto spliced = soundOf(file, 10, 30) + soundOf(file, 40.2, 30);
        o.before = play(spliced.substr(0, spliced.size() / 2), {10, 1});
        o.after = play(spliced, {10.2, 1}, 30 + 6 * 1.8);
    });
    for (const auto& o : all) {
        for (const auto* found : {&o.late, &o.fast, &o.loud, &o.before, &o.early, &o.after}) {
            CHECK(found->last.found);
            CHECK(found->found > 0);
            CHECK(found->wrong == 0);
            CHECK(found->worst_s < right_s);
        }
        CHECK(o.late.firstAt <= 7);
        CHECK(std::abs(o.late.last.level_db) < 0.2);
        CHECK(o.loud.last.level_db == Approx(3).margin(0.2));
        CHECK(o.fast.last.ratio == Approx(1.002).margin(0.0002));
    }
}

TEST_CASE("A piece that repeats itself is found late, never wrongly", "[alignment]") {
    const auto files = pieces();
    const auto found = std::find_if(files.begin(), files.end(), [](const std::string& file) {
        return file.find("Enemy Unknown") != std::string::npos;
    });
    REQUIRE(found != files.end());
    align::ProfileAligner aligner(profileOf(binsOf(soundOf(*found, 0, rehearsed_s))));
    const auto heard = hear(aligner, binsOf(soundOf(*found, 3.0017, 100, "", dithered)), {3.0017, 1});
    CHECK(heard.firstAt > 10);
    CHECK(heard.last.found);
    CHECK(heard.wrong == 0);
}

TEST_CASE("Another piece is not found in a profile, and a profile cut short is followed to its end",
          "[alignment]") {
    const auto files = pieces();
    for (const auto& [own, other] : {std::pair{0, 4}, {3, 9}, {11, 7}}) {
        const auto bins = binsOf(soundOf(files[static_cast<std::size_t>(own)], 0, 100));
        align::ProfileAligner aligner(profileOf(bins));
        CHECK(hear(aligner, binsOf(soundOf(files[static_cast<std::size_t>(other)], 5, 60)), {0, 1}).found
              == 0);

        align::ProfileAligner ofShort(profileOf({bins.begin(), bins.begin() + 8000})); // 36 s
        const auto found = hear(ofShort, bins, {0, 1});
        CHECK(found.found > 0);
        CHECK(found.wrong == 0);
    }
}

TEST_CASE("A profile that tells something else is noticed within a turn, one that tells the same is not",
          "[alignment]") {
    const auto files = pieces();
    constexpr std::size_t some = 4;
    struct Outcome {
        std::size_t turns = 0;
        double right = 0, beside = 0, fast = 0, loud = 0, shifted = 0, other = 0, take = 0;
    };
    std::vector<Outcome> all(some);
    test::inParallel(some, [&](std::size_t k) {
        const auto i = k * files.size() / some;
        const auto profile = rehearsalOf(files, i);
        const auto play = binsOf(soundOf(files[i], 20.0017, 40, "", dithered));
        auto& o = all[k];
        std::size_t compared = 0;
        o.right = misfits(play, profile, {20.0017, 1}, o.turns);
        o.beside = misfits(play, profile, {20.0117, 1}, compared);
        o.fast = misfits(binsOf(soundOf(files[i], 20, 40, "speed 1.002 rate -h 44100")), profile, {20, 1.002},
                         compared);
        o.loud = misfits(binsOf(soundOf(files[i], 20, 40, "gain 3")), profile, {20, 1}, compared);
        o.shifted = misfits(play, profile, {20.2017, 1}, compared);
        o.other = misfits(play, profile, {rehearsed_s + 2, 1}, compared);
        o.take = misfits(binsOf(anotherTake(files[i], 20, 30, static_cast<unsigned>(i))), profile, {20, 1},
                         compared);
    });
    for (const auto& o : all) {
        CHECK(o.turns >= 20);
        CHECK(o.right == 0);
        CHECK(o.beside == 0);
        CHECK(o.fast == 0);
        CHECK(o.loud == 1);
        CHECK(o.other == 1);
        CHECK(o.shifted >= 0.9);
        CHECK(o.take >= 0.6);
    }
}

TEST_CASE("Alignment report: how far off, and which share of the turns is taken for a misfit",
          "[.][alignment-report]") {
    auto files = pieces();
    files.resize(std::min(files.size(), static_cast<std::size_t>(number("HEADLAND_PIECES", 100))));
    struct Row {
        Found late, fast;
        std::size_t turns = 0;
        double right = 0, beside = 0, drifting = 0, loud = 0, shifted = 0, other = 0, take = 0;
    };
    std::vector<Row> rows(files.size());
    test::inParallel(files.size(), [&](std::size_t i) {
        const auto profile = rehearsalOf(files, i);
        auto& row = rows[i];
        const auto late = binsOf(soundOf(files[i], 3.0017, 100, "", dithered));
        const auto fast = binsOf(soundOf(files[i], 3, 100, "speed 1.002 rate -h 44100"));
        align::ProfileAligner a(profile), b(profile);
        row.late = hear(a, late, {3.0017, 1});
        row.fast = hear(b, fast, {3, 1.002});
        std::size_t compared = 0;
        row.right = misfits(late, profile, {3.0017, 1}, row.turns);
        row.beside = misfits(late, profile, {3.0117, 1}, compared);
        row.drifting = misfits(fast, profile, {3, 1.002}, compared);
        row.loud = misfits(binsOf(soundOf(files[i], 3, 100, "gain 3")), profile, {3, 1}, compared);
        row.shifted = misfits(late, profile, {3.2017, 1}, compared);
        row.other = misfits(late, profile, {rehearsed_s + 2, 1}, compared);
        row.take = misfits(binsOf(anotherTake(files[i], 20, 60, static_cast<unsigned>(i))), profile, {20, 1},
                           compared);
    });
    std::printf("%-24s %6s %9s %9s | %5s %5s %5s %5s | %5s %6s %6s %5s\n", "piece", "found", "late",
                "0.2 % fast", "turns", "right", "10 ms", "fast", "+3 dB", "200 ms", "piece", "take");
    for (std::size_t i = 0; i < files.size(); ++i) {
        const auto& r = rows[i];
        auto name = files[i].substr(files[i].rfind('/') + 1);
        std::printf("%-24s %6d %6.1f ms %6.1f ms | %5zu %5.2f %5.2f %5.2f | %5.2f %6.2f %6.2f %5.2f\n",
                    name.substr(0, name.rfind('.')).c_str(), r.late.firstAt, 1000 * r.late.worst_s,
                    1000 * r.fast.worst_s, r.turns, r.right, r.beside, r.drifting, r.loud, r.shifted, r.other,
                    r.take);
    }
}
