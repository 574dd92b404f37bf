// SPDX-License-Identifier: GPL-3.0-or-later
// The LV2 plug-in from outside, through Debian's lilv: what comes out is what went in, later by exactly the latency it
// reports, whoever makes the preview, and what is set is saved and restored. HEADLAND_LV2 is the built bundle.
// lv2file and lv2apply cannot run it: neither gives the options and block lengths that JUCE's wrapper requires.
// jalv runs it, and by hand (JACK's dummy driver) a file came through bit for bit, later by the latency that jalv tells
// JACK. That is no test: on a busy machine such runs leave blocks out, or with --sync stop; why is not known.

#include "Tests/Reference/Hosts/Lv2Instance.h"
#include "Tests/Support/Random.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <thread>

using namespace headland::test;

namespace {

constexpr double rates_hz[] = {44100.0, 48000.0, 88200.0, 96000.0, 176400.0, 192000.0};

/// What went in and came out of the program's two channels.
struct Recording {
    std::vector<float> in[2];
    std::vector<float> out[2];
    std::vector<double> latencies; ///< as reported after each block, samples
};

std::vector<float> noise(unsigned seed, std::size_t length) {
    Random random(seed);
    std::vector<float> result(length);
    std::generate(result.begin(), result.end(),
                  [&] { return static_cast<float>(random.between(-0.1, 0.1)); });
    return result;
}

/// Noise through the plug-in, in blocks of changing length. The preview's input hears each channel `ahead` samples
/// before the program's.
Recording recordNoise(Lv2Instance& plugin, std::size_t length, std::size_t ahead) {
    REQUIRE(plugin.inputCount() == 4);
    REQUIRE(plugin.outputCount() == 4);
    Recording recording;
    const std::vector<float> sources[] = {noise(1, length + ahead), noise(2, length + ahead)};
    Random random(3);
    for (std::size_t begin = 0; begin < length;) {
        const auto wanted = static_cast<std::size_t>(random.between(1.0, Lv2Instance::blockMax + 0.5));
        const auto count = std::min(wanted, length - begin);
        for (std::uint32_t channel : {0U, 1U}) {
            const auto* source = sources[channel].data() + begin;
            std::copy_n(source, count, plugin.input(channel).begin());
            std::copy_n(source + ahead, count, plugin.input(channel + 2).begin());
            recording.in[channel].insert(recording.in[channel].end(), source, source + count);
        }
        plugin.run(static_cast<std::uint32_t>(count));
        for (std::uint32_t channel : {0U, 1U}) {
            const auto& out = plugin.output(channel);
            recording.out[channel].insert(recording.out[channel].end(), out.begin(), out.begin() + count);
        }
        recording.latencies.push_back(plugin.latency());
        begin += count;
    }
    return recording;
}

/// The delay at which all of `out` is `in`, bit for bit, with silence before; -1 when there is none.
int delayOf(const std::vector<float>& in, const std::vector<float>& out) {
    const auto begin = std::find_if(out.begin(), out.end(), [](float sample) { return sample != 0.0F; });
    if (begin == out.end() || !std::equal(begin, out.end(), in.begin()))
        return -1;
    return static_cast<int>(begin - out.begin());
}

/// Every block reports this latency, and the program comes out later by exactly that.
void checkDelay(const Recording& recording, double latency) {
    CHECK(std::all_of(recording.latencies.begin(), recording.latencies.end(),
                      [&](double reported) { return reported == latency; }));
    for (int channel : {0, 1})
        CHECK(delayOf(recording.in[channel], recording.out[channel]) == latency);
}

/// Runs silence until the plug-in reports another latency than `before`, which a thread of its own works out; what it
/// then is. Fails after ten seconds.
double latencyAfter(Lv2Instance& plugin, double before) {
    for (std::uint32_t channel = 0; channel < plugin.inputCount(); ++channel)
        std::fill(plugin.input(channel).begin(), plugin.input(channel).end(), 0.0F);
    for (int turn = 0; turn < 2000 && plugin.latency() == before; ++turn) {
        plugin.run(64);
        std::this_thread::sleep_for(std::chrono::milliseconds(5));
    }
    REQUIRE(plugin.latency() != before);
    return plugin.latency();
}

/// The preview as it is unless set: a turn at 33⅓ revolutions a minute.
double turn_samples(double sampleRate_hz) {
    return 60.0 / (100.0 / 3.0) * sampleRate_hz;
}

} // namespace

TEST_CASE("LV2 hands out the program a turn later, which is the latency it reports, at every rate",
          "[hosts]") {
    const auto sampleRate_hz = GENERATE(from_range(std::begin(rates_hz), std::end(rates_hz)));
    INFO(sampleRate_hz << " Hz");
    Lv2Instance plugin(HEADLAND_LV2, sampleRate_hz);
    const auto turn = std::round(turn_samples(sampleRate_hz));
    const auto length = static_cast<std::size_t>(turn + 0.5 * sampleRate_hz);
    checkDelay(recordNoise(plugin, length, 10000), turn);
}

TEST_CASE("LV2 hands out the program at once where a second head makes the preview, at every rate",
          "[hosts]") {
    const auto sampleRate_hz = GENERATE(from_range(std::begin(rates_hz), std::end(rates_hz)));
    INFO(sampleRate_hz << " Hz");
    Lv2Instance plugin(HEADLAND_LV2, sampleRate_hz);
    const auto turn = static_cast<std::size_t>(std::round(turn_samples(sampleRate_hz)));
    plugin.run(64);
    plugin.set("preview_from", plugin.valueNamed("preview_from", "2"));
    REQUIRE(latencyAfter(plugin, plugin.latency()) == 0);
    checkDelay(recordNoise(plugin, turn / 2, turn), 0);
}

TEST_CASE("LV2 makes the preview itself again when it is told to", "[hosts]") {
    Lv2Instance plugin(HEADLAND_LV2, 48000.0);
    plugin.run(64);
    plugin.set("preview_from", plugin.valueNamed("preview_from", "2"));
    REQUIRE(latencyAfter(plugin, plugin.latency()) == 0);
    plugin.set("preview_from", plugin.valueNamed("preview_from", "1"));
    const auto latency = latencyAfter(plugin, 0);
    CHECK(latency == std::round(turn_samples(48000.0)));
    checkDelay(recordNoise(plugin, static_cast<std::size_t>(latency) + 24000, 10000), latency);
}

TEST_CASE("LV2 reports the latency anew when another preview is set", "[hosts]") {
    Lv2Instance plugin(HEADLAND_LV2, 48000.0);
    plugin.run(64);
    const auto before = plugin.latency();
    plugin.set("preview_s", 0.1F); // of its range: LV2's values of this parameter go from 0 to 1
    const auto latency = latencyAfter(plugin, before);
    CHECK(latency > before);
    checkDelay(recordNoise(plugin, static_cast<std::size_t>(latency) + 24000, 10000), latency);
}

TEST_CASE("LV2 saves what a host has set, and a fresh one takes it over", "[hosts]") {
    Lv2Instance fresh(HEADLAND_LV2, 48000.0);
    Lv2Instance changed(HEADLAND_LV2, 48000.0);
    fresh.run(64);
    changed.set("disc_level_db", -6.5F);
    changed.run(64);
    const auto set = changed.savedText();
    REQUIRE(fresh.savedText() != set);

    fresh.restore(set);
    CHECK(fresh.savedText() == set);
}

TEST_CASE("LV2 names values over the whole range of a parameter and no others", "[hosts]") {
    Lv2Instance plugin(HEADLAND_LV2, 48000.0);
    int namedCount = 0;
    for (const auto& parameter : plugin.parameters()) {
        INFO(parameter.uri);
        CHECK(parameter.least < parameter.greatest);
        if (parameter.named.empty())
            continue;
        ++namedCount;
        std::vector<float> values;
        for (const auto& [name, value] : parameter.named)
            values.push_back(value);
        const auto [least, greatest] = std::minmax_element(values.begin(), values.end());
        CHECK(*least == parameter.least);
        CHECK(*greatest == parameter.greatest);
    }
    CHECK(namedCount > 0);
}
