// SPDX-License-Identifier: GPL-3.0-or-later
// A desk of three bowed players on one note: band-limited wave tables, each player a little out of tune and with
// a vibrato of their own. Steps are table turns per sample, times in samples. One thread at a time.
#pragma once

#include "Demo/Frame.h"
#include "Demo/Score.h"

#include <array>

namespace headland::demo {

/// One period of a sum of sines falling off as 1 / n^rolloff, at an RMS of 1.
class Wave {
public:
    Wave(int harmonics, double rolloff) {
        double power = 0;
        for (int n = 1; n <= harmonics; ++n) {
            const double gain = std::pow(n, -rolloff);
            power += gain * gain / 2;
            for (std::size_t i = 0; i < table.size(); ++i)
                table[i] += gain * std::sin(2 * pi * n * static_cast<double>(i) / size);
        }
        for (double& value : table)
            value /= std::sqrt(power);
    }

    /// Between the table's points on a straight line; phase from 0 up to 1.
    double at(double phase) const {
        const double place = phase * size;
        const auto index = static_cast<std::size_t>(place);
        return table[index] + (place - static_cast<double>(index)) * (table[index + 1] - table[index]);
    }

private:
    static constexpr int size = 4096;
    std::array<double, size + 2> table{};
};

/// One note from its beginning to its end.
class Desk {
public:
    Desk(const Note& note, double sampleRate_hz, std::mt19937& chance)
        : attack_samples(note.attack_s * sampleRate_hz),
          release_samples(note.release_s * sampleRate_hz),
          length_samples(note.length_s * sampleRate_hz),
          dry(gainOf(note.level_db) * (1 - note.distance)),
          send(gainOf(note.level_db) * note.distance) {
        constexpr double lowest_hz = 150.0; // below this a desk sits together, so that the bass stays lateral
        const double frequency_hz = 440.0 * std::exp2((note.pitch_midi - 69) / 12.0);
        const double width = frequency_hz < lowest_hz ? 0.0 : 0.25;
        for (Player& player : players) {
            const double place = std::clamp(note.pan + width * spread(chance), -1.0, 1.0);
            player.left = std::cos((place + 1) * pi / 4);
            player.right = std::sin((place + 1) * pi / 4);
            player.phase = (spread(chance) + 1) / 2;
            player.step = frequency_hz * (1 + 0.003 * spread(chance)) / sampleRate_hz; // within 5 cents
            player.vibratoPhase = (spread(chance) + 1) / 2;
            player.vibratoStep = (5.3 + spread(chance)) / sampleRate_hz; // rate: common practice, no source
        }
    }

    void add(Frame& frame) {
        static const Wave sine(1, 0);
        // 24 harmonics of the highest note (A5, 880 Hz) stay below 22.05 kHz.
        static const Wave bowed(24, 1.6);
        constexpr double vibratoDepth = 0.0035; // 6 cents
        const double bow = smooth(age_samples / attack_samples)
                           * smooth((length_samples - age_samples) / release_samples) / std::sqrt(3.0);
        for (Player& player : players) {
            const double sound = bow * bowed.at(player.phase);
            frame.left += dry * player.left * sound;
            frame.right += dry * player.right * sound;
            frame.send += send * sound;
            const double vibrato = 1 + vibratoDepth * sine.at(player.vibratoPhase);
            player.phase = wrapped(player.phase + player.step * vibrato);
            player.vibratoPhase = wrapped(player.vibratoPhase + player.vibratoStep);
        }
        age_samples += 1;
    }

    bool ended() const { return age_samples >= length_samples; }

private:
    struct Player {
        double phase, step, vibratoPhase, vibratoStep, left, right;
    };

    static double wrapped(double phase) { return phase >= 1.0 ? phase - 1.0 : phase; }

    std::array<Player, 3> players{};
    double age_samples = 0, attack_samples, release_samples, length_samples;
    double dry, send;
};

} // namespace headland::demo
