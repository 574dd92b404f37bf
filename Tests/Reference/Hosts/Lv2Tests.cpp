// SPDX-License-Identifier: GPL-3.0-or-later
// The LV2 plug-in from outside, through Debian's lilv: what comes out is what went in, later by exactly the latency it
// reports, and what is set is saved and restored. HEADLAND_LV2 is the built bundle.
// lv2file and lv2apply cannot run it: neither gives the options and block lengths that JUCE's wrapper requires.

#include "Tests/Reference/Hosts/Lv2Instance.h"
#include "Tests/Support/Random.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace headland::test;

namespace {

/// What went in and came out of the program's two channels.
struct Recording {
    std::vector<float> in[2];
    std::vector<float> out[2];
    std::vector<double> latencies; ///< as reported after each block, samples
};

/// Noise through the plug-in, in blocks of changing length, until its latency and `more_s` have passed.
Recording recordNoise(Lv2Instance& plugin, double sampleRate_hz, double more_s) {
    Recording recording;
    Random random(1);
    double latency = 0.0;
    while (recording.in[0].size() < latency + more_s * sampleRate_hz) {
        const auto count = static_cast<std::uint32_t>(random.between(1.0, Lv2Instance::blockMax + 0.5));
        for (std::uint32_t channel = 0; channel < plugin.inputCount(); ++channel)
            for (std::uint32_t sample = 0; sample < count; ++sample)
                plugin.input(channel)[sample] = static_cast<float>(random.between(-0.1, 0.1));
        for (int channel : {0, 1})
            recording.in[channel].insert(recording.in[channel].end(), plugin.input(channel).begin(),
                                         plugin.input(channel).begin() + count);
        plugin.run(count);
        for (int channel : {0, 1})
            recording.out[channel].insert(recording.out[channel].end(), plugin.output(channel).begin(),
                                          plugin.output(channel).begin() + count);
        latency = plugin.latency();
        recording.latencies.push_back(latency);
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

} // namespace

TEST_CASE("LV2 hands out the program later by exactly the latency it reports, at every rate", "[hosts]") {
    const auto sampleRate_hz = GENERATE(44100.0, 48000.0, 88200.0, 96000.0, 176400.0, 192000.0);
    INFO(sampleRate_hz << " Hz");
    Lv2Instance plugin(HEADLAND_LV2, sampleRate_hz);
    REQUIRE(plugin.inputCount() == 4);
    REQUIRE(plugin.outputCount() == 4);
    const auto recording = recordNoise(plugin, sampleRate_hz, 0.5);
    const auto reported = recording.latencies.front();
    CHECK(std::all_of(recording.latencies.begin(), recording.latencies.end(),
                      [&](double latency) { return latency == reported; }));
    for (int channel : {0, 1})
        CHECK(delayOf(recording.in[channel], recording.out[channel]) == reported);
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
        const auto [least, greatest] = std::minmax_element(parameter.named.begin(), parameter.named.end());
        CHECK(*least == parameter.least);
        CHECK(*greatest == parameter.greatest);
    }
    CHECK(namedCount > 0);
}
