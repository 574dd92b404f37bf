// SPDX-License-Identifier: GPL-3.0-or-later
// The demo program measured as an engineer would before cutting it: length, levels, the silence and the stroke out
// of it, the out-of-phase hall, the treble. Levels in dBFS (RMS of a sine = peak - 3), times in s.
#include "Demo/DemoProgram.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <complex>
#include <functional>
#include <limits>
#include <stdexcept>

namespace headland::demo {
namespace {

struct Stereo {
    double rate_hz = 0;
    std::vector<float> left, right;
};

/// The whole program, or the beginning of it.
Stereo rendered(double rate_hz, int block, double most_s = 240) {
    DemoProgram program(rate_hz);
    const auto length =
        std::min(static_cast<std::size_t>(program.length()), static_cast<std::size_t>(most_s * rate_hz));
    Stereo sound{rate_hz, std::vector<float>(length), std::vector<float>(length)};
    for (std::size_t at = 0; at < length; at += static_cast<std::size_t>(block))
        program.render(&sound.left[at], &sound.right[at],
                       static_cast<int>(std::min<std::size_t>(static_cast<std::size_t>(block), length - at)));
    return sound;
}

const Stereo& demo() {
    static const Stereo sound = rendered(44100, 4096);
    return sound;
}

/// Calls use(left, right) for every sample from one time to another.
void each(const Stereo& sound, double from_s, double to_s, const std::function<void(double, double)>& use) {
    const auto end = static_cast<std::size_t>(to_s * sound.rate_hz);
    for (auto i = static_cast<std::size_t>(from_s * sound.rate_hz); i < end; ++i)
        use(sound.left[i], sound.right[i]);
}

double db(double amplitude) {
    return 20 * std::log10(amplitude);
}

double peak_db(const Stereo& sound, double from_s, double to_s) {
    double peak = 0;
    each(sound, from_s, to_s, [&](double l, double r) { peak = std::max({peak, std::abs(l), std::abs(r)}); });
    return db(peak);
}

/// Sums of squares and products of the channels over a stretch, and the levels (RMS) they give.
struct Moments {
    double ll = 0, rr = 0, lr = 0, count = 0;
    double correlation() const { return lr / std::sqrt(ll * rr); }
    double left_db() const { return 10 * std::log10(ll / count); }
    double right_db() const { return 10 * std::log10(rr / count); }
    double both_db() const { return 10 * std::log10((ll + rr) / 2 / count); }
    /// Power of L - R over that of L + R, dB.
    double sideOverMid_db() const { return 10 * std::log10((ll + rr - 2 * lr) / (ll + rr + 2 * lr)); }
};

Moments moments(const Stereo& sound, double from_s, double to_s) {
    Moments m;
    each(sound, from_s, to_s, [&](double l, double r) {
        m.ll += l * l;
        m.rr += r * r;
        m.lr += l * r;
        m.count += 1;
    });
    return m;
}

/// Amplitude and phase of one frequency in a stretch under a Hann window (full-scale sine = 1), left and right.
std::pair<std::complex<double>, std::complex<double>> tone(const Stereo& sound, double from_s, double to_s,
                                                           double frequency_hz) {
    const double count = std::floor((to_s - from_s) * sound.rate_hz);
    const auto step = std::polar(1.0, -2 * pi * frequency_hz / sound.rate_hz);
    std::complex<double> turn = 1, left = 0, right = 0;
    double i = 0;
    each(sound, from_s, to_s, [&](double l, double r) {
        const double window = 1 - std::cos(2 * pi * i++ / count);
        left += 2.0 / count * window * l * turn;
        right += 2.0 / count * window * r * turn;
        turn *= step;
    });
    return {left, right};
}

double toneGreater_db(const Stereo& sound, double from_s, double to_s, double frequency_hz) {
    const auto [left, right] = tone(sound, from_s, to_s, frequency_hz);
    return db(std::max(std::abs(left), std::abs(right)));
}

/// Fourth-order Butterworth high-pass of both channels: two second-order sections (bilinear transform).
Stereo highPassed(Stereo sound, double corner_hz) {
    for (const double damping : {2 * std::cos(pi / 8), 2 * std::cos(3 * pi / 8)})
        for (auto* channel : {&sound.left, &sound.right}) {
            const double k = std::tan(pi * corner_hz / sound.rate_hz), norm = 1 / (1 + damping * k + k * k);
            double s1 = 0, s2 = 0;
            for (float& sample : *channel) {
                const double in = sample, out = norm * in + s1;
                s1 = -2 * norm * in - 2 * (k * k - 1) * norm * out + s2;
                s2 = norm * in - (1 - damping * k + k * k) * norm * out;
                sample = static_cast<float>(out);
            }
        }
    return sound;
}

/// A stretch as a piece of its own.
Stereo cutOut(const Stereo& sound, double from_s, double to_s) {
    const auto from = static_cast<std::ptrdiff_t>(from_s * sound.rate_hz);
    const auto to = static_cast<std::ptrdiff_t>(to_s * sound.rate_hz);
    return {sound.rate_hz,
            {sound.left.begin() + from, sound.left.begin() + to},
            {sound.right.begin() + from, sound.right.begin() + to}};
}

TEST_CASE("The demo program lasts four minutes to the sample at every rate") {
    for (const int rate_hz : {44100, 48000, 88200, 96000, 176400, 192000})
        CHECK(DemoProgram(rate_hz).length() == 240 * std::int64_t{rate_hz});
}

TEST_CASE("The demo program refuses a sample rate it was not made for, in words") {
    const double infinite = std::numeric_limits<double>::infinity();
    for (const double rate_hz : {0.0, -44100.0, 44099.0, 192001.0, infinite, std::nan("")})
        CHECK_THROWS_AS(DemoProgram(rate_hz), std::invalid_argument);
    CHECK_THROWS_WITH(DemoProgram(8000),
                      "The demo program cannot be made at 8000 Hz: choose a sample rate from "
                      "44100 to 192000 Hz.");
}

TEST_CASE("The demo program is the same for every block size, bit for bit") {
    constexpr double both_s = 120; // the strings, the stroke and the tutti
    for (const int block : {1, 7, 64}) {
        INFO("block " << block);
        const Stereo sound = rendered(44100, block, both_s);
        const bool same = std::equal(sound.left.begin(), sound.left.end(), demo().left.begin())
                          && std::equal(sound.right.begin(), sound.right.end(), demo().right.begin());
        CHECK(same); // too long to be printed
    }
}

TEST_CASE("The demo program writes what it is asked for and is silent after its end") {
    DemoProgram program(44100);
    float left = 5, right = 5;
    program.render(&left, &right, 0);
    program.render(&left, &right, -3);
    CHECK(left == 5);
    CHECK(right == 5);
    std::vector<float> l(static_cast<std::size_t>(program.length()) + 100, 5.0f), r = l;
    program.render(l.data(), r.data(), static_cast<int>(l.size()));
    CHECK(std::all_of(l.end() - 100, l.end(), [](float x) { return x == 0; }));
    CHECK(std::all_of(r.end() - 100, r.end(), [](float x) { return x == 0; }));
    program.render(&left, &right, 1);
    CHECK(left == 0);
    CHECK(right == 0);
}

TEST_CASE("The demo program is the same music at a higher sample rate") {
    const Stereo finer = rendered(96000, 4096);
    CHECK(peak_db(finer, 0, 240) < -1);
    for (double bar = 0; bar < 240; bar += bar_s) {
        INFO("bar from " << bar << " s");
        CHECK(moments(finer, bar, bar + bar_s).both_db()
              == Approx(moments(demo(), bar, bar + bar_s).both_db()).margin(0.5));
    }
    const std::initializer_list<std::array<double, 3>> tones{{drum_s, drum_s + 0.5, 48}, {29, 32, 55}};
    for (const auto& [from_s, to_s, frequency_hz] : tones) // the drum, and a bass A1
        CHECK(toneGreater_db(finer, from_s, to_s, frequency_hz)
              == Approx(toneGreater_db(demo(), from_s, to_s, frequency_hz)).margin(0.1));
    CHECK(toneGreater_db(demo(), 29, 32, 55) > -55);
}

TEST_CASE("The demo program has the levels of a real one and no direct current") {
    CHECK(peak_db(demo(), 0, 240) < -1);
    CHECK(peak_db(demo(), 0, 240) > -6);
    for (const double from_s :
         {4.0, 16.0, 32.0, 48.0, 64.0, 100.0, 116.0, 136.0, 152.0, 172.0, 200.0, 212.0}) {
        INFO("from " << from_s << " s");
        CHECK(moments(demo(), from_s, from_s + 12).both_db() > -34);
        CHECK(moments(demo(), from_s, from_s + 12).both_db() < -18);
    }
    for (double bar = 0; bar < 240; bar += bar_s) {
        double left = 0, right = 0;
        each(demo(), bar, bar + bar_s, [&](double l, double r) {
            left += l;
            right += r;
        });
        INFO("bar from " << bar << " s");
        CHECK(db(std::abs(left) / (bar_s * 44100)) < -70);
        CHECK(db(std::abs(right) / (bar_s * 44100)) < -70);
    }
}

TEST_CASE("The demo program begins and ends without a click") {
    CHECK(peak_db(demo(), 0, 0.02) < -60);
    CHECK(peak_db(demo(), 239.9, 240) < -80);
    CHECK(moments(demo(), 1, 3).both_db() > -40); // and has begun by then
}

TEST_CASE("The strings die away to near silence before the stroke") {
    CHECK(moments(demo(), 80, 84).both_db() > -32);
    for (double from_s = 91.5; from_s < drum_s - 0.05; from_s += 0.1) {
        INFO("from " << from_s << " s");
        CHECK(peak_db(demo(), from_s, from_s + 0.1) < -55);
        CHECK(moments(demo(), from_s, from_s + 0.1).both_db() > -85); // a hall, not a muted line
    }
}

TEST_CASE("The stroke is low, sudden, and dies away in about a second") {
    CHECK(peak_db(demo(), drum_s, drum_s + 0.1) == Approx(-3).margin(1.5));
    double lowest_hz = 0, greatest_db = -200;
    for (double frequency_hz = 20; frequency_hz < 2000; frequency_hz += 2)
        if (const double level = toneGreater_db(demo(), drum_s, drum_s + 0.5, frequency_hz);
            level > greatest_db) {
            greatest_db = level;
            lowest_hz = frequency_hz;
        }
    CHECK(lowest_hz >= 40);
    CHECK(lowest_hz <= 60);
    const double begin_db = toneGreater_db(demo(), drum_s, drum_s + 0.25, 48);
    const double end_db = toneGreater_db(demo(), drum_s + 0.75, drum_s + 1.0, 48);
    CHECK(begin_db - end_db > 20);
    CHECK(begin_db - end_db < 32);
}

TEST_CASE("The stroke swings the groove sideways and up and down") {
    const Moments stroke = moments(demo(), drum_s, drum_s + 0.8);
    CHECK(std::abs(stroke.left_db() - stroke.right_db()) > 2);
    CHECK(stroke.sideOverMid_db() > -20);
    CHECK(stroke.sideOverMid_db() < -10);
    const auto [left, right] = tone(demo(), drum_s, drum_s + 0.8, 76); // the sideways mode: out of phase
    CHECK((left * std::conj(right)).real() / std::abs(left * right) < -0.7);
    const auto [low, lowRight] = tone(demo(), drum_s, drum_s + 0.8, 48); // the main one: in phase
    CHECK((low * std::conj(lowRight)).real() / std::abs(low * lowRight) > 0.9);
}

TEST_CASE("The tutti is the loudest passage and has bass in it") {
    const double tutti_db = moments(demo(), 100, 152).both_db();
    for (const auto& [from_s, to_s] : {std::pair{0.0, 48.0}, {48.0, 88.0}, {152.0, 192.0}, {192.0, 228.0}})
        CHECK(tutti_db > moments(demo(), from_s, to_s).both_db() + 3);
    const double withoutBass_db = moments(highPassed(cutOut(demo(), 100, 152), 150), 0, 52).both_db();
    CHECK(withoutBass_db < tutti_db - 1.5); // so that at least 30 % of the power is below 150 Hz
}

TEST_CASE("The hall is out of phase between the channels where it is heard alone") {
    CHECK(moments(demo(), 154, 192).correlation() < -0.3);
    CHECK(moments(demo(), 154, 192).sideOverMid_db() > 3);
    CHECK(moments(demo(), 0, 48).correlation() > 0.3);
    CHECK(moments(demo(), 100, 152).correlation() > 0.3);
}

TEST_CASE("The treble passage has most of its energy above 5 kHz and nothing above 16 kHz") {
    const Stereo passage = cutOut(demo(), 200, 225);
    const Stereo treble = highPassed(passage, 5000);
    const double share_db = moments(treble, 0, 25).both_db() - moments(passage, 0, 25).both_db();
    CHECK(share_db > -3);
    CHECK(peak_db(treble, 0, 25) > -12);
    CHECK(peak_db(treble, 0, 25) < -9);
    const Stereo strings = cutOut(demo(), 8, 48);
    CHECK(moments(highPassed(strings, 5000), 0, 40).both_db() < moments(strings, 0, 40).both_db() - 20);
    for (const double at_s : {20.0, 60.0, 82.0, 96.0, 104.0, 130.0, 160.0, 202.0, 210.0, 220.0, 230.0})
        for (double frequency_hz = 16000; frequency_hz < 22000; frequency_hz += 40)
            if (const double level_db = toneGreater_db(demo(), at_s, at_s + 0.05, frequency_hz);
                level_db > -80)
                FAIL_CHECK(level_db << " dBFS at " << frequency_hz << " Hz, " << at_s << " s");
}

} // namespace
} // namespace headland::demo
