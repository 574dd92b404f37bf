// SPDX-License-Identifier: GPL-3.0-or-later
// Writes the score section by section: chords from one progression, and what each section adds to them.
// Chance is raw std::mt19937 bits from a fixed seed. See the header for units.
#include "Demo/Score.h"

#include "Demo/Frame.h"

#include <array>
#include <string_view>

namespace headland::demo {
namespace {

/// bass: step of the scale above (or below) D2; the upper voices as MIDI numbers.
struct Chord {
    char name;
    int bass;
    std::array<int, 4> upper;
};

constexpr std::array<Chord, 8> chords{{{'d', 0, {57, 62, 65, 69}},
                                       {'D', 0, {57, 62, 66, 69}},
                                       {'B', -2, {58, 62, 65, 70}},
                                       {'g', -4, {58, 62, 67, 70}},
                                       {'A', -3, {57, 61, 64, 69}},
                                       {'F', 2, {57, 60, 65, 69}},
                                       {'C', -1, {55, 60, 64, 67}},
                                       {'e', 1, {58, 62, 64, 67}}}};

constexpr std::string_view progression =
    "ddBFgdeAdFgA"  // quiet strings
    "BFgdgBeAgd..." // with a moving inner part, dying away, drum on the last
    "dBgAdFBgCFeAd" // tutti
    "BFgdgeAAdd"    // in the hall
    "FCBgFCgAA"     // struck metal
    "D..";          // the end

static_assert(progression.size() * bar_s == programLength_s);

struct Section {
    int firstBar, bars;
    double from_db, to_db, chord_s, attack_s, release_s, distance;
};

constexpr Section opening{0, 12, -36, -31, 5.2, 1.6, 1.4, 0.25};
constexpr Section moving{12, 9, -34, -31, 5.0, 1.2, 1.2, 0.25};
constexpr Section dying{21, 1, -37, -37, 5.0, 1.2, 4.0, 0.15};
constexpr Section tutti{25, 13, -31, -28, 4.3, 0.12, 0.4, 0.15};
constexpr Section inTheHall{38, 10, -36, -37, 2.6, 0.15, 1.2, 0.92};
constexpr Section metal{48, 9, -48, -48, 5.2, 1.6, 1.4, 0.3};
constexpr Section ending{57, 1, -32, -32, 12.0, 0.4, 11.0, 0.25};

const Chord& chordOf(int bar) {
    const char name = progression[static_cast<std::size_t>(bar)];
    return *std::find_if(chords.begin(), chords.end(), [&](const Chord& c) { return c.name == name; });
}

/// A step of the natural minor scale on D2 (MIDI 38), as a MIDI number.
double scale(int step) {
    constexpr std::array<int, 7> semitones{0, 2, 3, 5, 7, 8, 10};
    const int octave = (step + 70) / 7 - 10;
    return 38 + 12 * octave + semitones[static_cast<std::size_t>(step - 7 * octave)];
}

class Writer {
public:
    /// Four upper voices and the bass, one chord a bar.
    void play(const Section& section) {
        constexpr std::array<double, 4> pans{0.5, 0.2, -0.2,
                                             -0.5}; // violas on the right, violins on the left
        eachBar(section, [&](double start_s, double level_db, const Chord& chord) {
            const auto add = [&](double pitch_midi, double pan) {
                score.notes.push_back({start_s, section.chord_s, section.attack_s, section.release_s,
                                       pitch_midi, level_db, pan, section.distance});
            };
            for (std::size_t i = 0; i < pans.size(); ++i)
                add(chord.upper[i], pans[i]);
            add(scale(chord.bass), 0.1);
        });
    }

    /// A broken chord in quarter notes, and a slow tune an octave above it.
    void addMovement(const Section& section) {
        constexpr std::array<std::size_t, 4> order{0, 2, 1, 3};
        eachBar(section, [&](double start_s, double level_db, const Chord& chord) {
            for (std::size_t beat = 0; beat < order.size(); ++beat) {
                const double at_s = start_s + static_cast<double>(beat),
                             pitch_midi = chord.upper[order[beat]];
                score.notes.push_back(
                    {at_s, 1.3, 0.15, 0.5, pitch_midi, level_db + 2, 0.3, section.distance});
                if (beat % 2 == 0)
                    score.notes.push_back(
                        {at_s, 2.4, 0.5, 0.7, pitch_midi + 12, level_db + 1, -0.4, section.distance});
            }
        });
    }

    /// Sixteen bass notes to the bar up and down the scale, and a kettledrum on the first.
    void addRuns(const Section& section) {
        constexpr std::array<int, 16> run{0, 1, 2, 3, 4, 5, 6, 7, 6, 5, 4, 3, 4, 2, 1, 2};
        eachBar(section, [&](double start_s, double level_db, const Chord& chord) {
            for (std::size_t i = 0; i < run.size(); ++i)
                score.notes.push_back({start_s + 0.25 * static_cast<double>(i), 0.3, 0.03, 0.08,
                                       scale(chord.bass + run[i]), level_db + 7, 0.1, 0.02});
            score.strokes.push_back(
                {start_s,
                 0.004,
                 {{73.4, 0.35, 0.09, 0.11}, {110.1, 0.3, 0.05, 0.05}, {146.8, 0.2, 0.03, 0.04}}});
        });
    }

    /// Head modes of a large bass drum. The first sounds in both channels, not alike; the sideways mode pushes one
    /// microphone and pulls the other, and swings the groove vertically. The upper ones are the beater.
    void addDrum() {
        score.strokes.push_back({drum_s,
                                 0.003,
                                 {{48, 0.25, 0.30, 0.38},
                                  {76, 0.20, 0.045, -0.035},
                                  {113, 0.12, 0.05, 0.10},
                                  {187, 0.06, 0.08, 0.17},
                                  {331, 0.03, 0.08, 0.19},
                                  {640, 0.015, 0.06, 0.16}}});
    }

    /// Struck plates: ten random partials from 6 to 14 kHz to the stroke, four strokes to the second, with accents.
    void addMetal(double from_s, double to_s, double level) {
        for (int i = 0; from_s + 0.25 * i < to_s; ++i) {
            Stroke stroke{from_s + 0.25 * i, 0.002, {}};
            const double accent = level * (i % 16 == 0 ? 1.0 : i % 4 == 0 ? 0.8 : 0.6);
            const double place = 0.4 * spread(chance);
            for (int partial = 0; partial < 10; ++partial)
                stroke.modes.push_back({10000 + 4000 * spread(chance), 0.2 + 0.1 * spread(chance),
                                        accent * (1 - place), accent * (1 + place), pi * spread(chance)});
            score.strokes.push_back(stroke);
        }
    }

    /// A single far-off harmonic that keeps the silence before the drum from being digital.
    void addFarOff() { score.notes.push_back({84, 13, 3, 2, 81, -66, -0.2, 0.3}); }

    Score finish() {
        const auto earlier = [](const auto& a, const auto& b) { return a.start_s < b.start_s; };
        std::stable_sort(score.notes.begin(), score.notes.end(), earlier);
        std::stable_sort(score.strokes.begin(), score.strokes.end(), earlier);
        return score;
    }

private:
    /// Calls part(start of the bar, level, chord) for every bar, the level going evenly from one end to the other.
    template <typename Part>
    void eachBar(const Section& section, Part part) {
        for (int i = 0; i < section.bars; ++i)
            part((section.firstBar + i) * bar_s,
                 section.from_db + (section.to_db - section.from_db) * i / section.bars,
                 chordOf(section.firstBar + i));
    }

    Score score;
    std::mt19937 chance{33}; // any fixed seed
};

} // namespace

Score writeScore() {
    Writer writer;
    for (const Section& section : {opening, moving, dying, tutti, inTheHall, metal, ending})
        writer.play(section);
    writer.addMovement(moving);
    writer.addMovement(tutti);
    writer.addMovement(inTheHall);
    writer.addRuns(tutti);
    writer.addFarOff();
    writer.addDrum();
    writer.addMetal(49 * bar_s, 50 * bar_s, 0.010);
    writer.addMetal(50 * bar_s, 56.5 * bar_s, 0.030);
    return writer.finish();
}

} // namespace headland::demo
