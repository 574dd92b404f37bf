// SPDX-License-Identifier: GPL-3.0-or-later
// The standalone's way to a sound device, with a device that is none: what comes in and goes out where.
#include "Assembly/DeviceFeed.h"
#include "Tests/Cut/TestPrograms.h"
#include "Tests/Support/RealTimeTrap.h"

#include <catch2/catch.hpp>

using namespace headland;
using assembly::DeviceFeed;

namespace {

/// A device of so many channels that plays a program into its first inputs and a second one into the next.
struct Device {
    Device(int inputs, int outputs) : inputs(inputs), outputs(outputs) {
        plugin::State state;
        state.cut.rpm = 78;
        state.cut.preview_s = 0.8;
        processor.setState(state);
        feed.start(44100, 64, inputs, outputs);
    }

    /// Outputs, one vector a channel; NaN where nothing was written.
    std::vector<std::vector<float>> play(const test::Program& program, int block, int from = 0) {
        std::vector<std::vector<float>> out(static_cast<std::size_t>(outputs),
                                            std::vector<float>(program.length(), NAN));
        for (auto at = from; at < static_cast<int>(program.length()); at += block) {
            const auto count = std::min(block, static_cast<int>(program.length()) - at);
            const float* in[] = {
                &program.left[static_cast<std::size_t>(at)], &program.right[static_cast<std::size_t>(at)],
                &program.left[static_cast<std::size_t>(at)], &program.right[static_cast<std::size_t>(at)]};
            std::vector<float*> to;
            for (auto& channel : out)
                to.push_back(channel.data() + at);
            const test::RealTimeTrap::Scope scope(trap);
            feed.audioDeviceIOCallbackWithContext(in, inputs, to.data(), outputs, count, {});
        }
        return out;
    }

    int inputs, outputs;
    plugin::Processor processor;
    DeviceFeed feed{processor};
    test::RealTimeTrap trap;
};

bool isLater(const std::vector<float>& out, const std::vector<float>& in, int samples) {
    return std::equal(out.begin() + samples, out.end(), in.begin())
           && std::all_of(out.begin(), out.begin() + samples, [](float x) { return x == 0; });
}

} // namespace

TEST_CASE("As many buses as the device has channels for") {
    const auto sizes = [](int inputs, int outputs) {
        const auto layout = DeviceFeed::layoutFor(inputs, outputs);
        return std::array{layout.inputBuses[0].size(), layout.inputBuses[1].size(),
                          layout.outputBuses[0].size(), layout.outputBuses[1].size()};
    };
    CHECK(sizes(2, 2) == std::array{2, 0, 2, 0});
    CHECK(sizes(2, 4) == std::array{2, 0, 2, 2});
    CHECK(sizes(4, 4) == std::array{2, 2, 2, 2});
    CHECK(sizes(4, 2) == std::array{2, 2, 2, 0});
    CHECK(sizes(1, 1) == std::array{1, 0, 1, 0});
    CHECK(sizes(2, 1) == std::array{1, 1, 1, 0});
    CHECK(sizes(1, 4) == std::array{1, 0, 1, 2});
    CHECK(sizes(0, 2) == std::array{2, 0, 2, 0});
    plugin::Processor processor;
    for (int inputs = 0; inputs <= 4; ++inputs)
        for (int outputs = 1; outputs <= 4; ++outputs)
            CHECK(processor.checkBusesLayoutSupported(DeviceFeed::layoutFor(inputs, outputs)));
}

TEST_CASE("A device of two channels has the program, later by the preview") {
    Device device(2, 2);
    const auto program = test::randomProgram(81, 3);
    const auto out = device.play(program, 64);
    CHECK(isLater(out[0], program.left, device.processor.getLatencySamples()));
    CHECK(isLater(out[1], program.right, device.processor.getLatencySamples()));
    CHECK(device.trap.caught() == "");
}

TEST_CASE(
    "A device of four channels has pitch and depth too, driven by notes, in blocks longer than it said") {
    Device device(4, 4);
    const auto program = test::randomProgram(82, 6);
    device.feed.handleIncomingMidiMessage(nullptr, juce::MidiMessage::noteOn(3, 38, 1.0f));
    device.feed.handleIncomingMidiMessage(nullptr, juce::MidiMessage::noteOff(3, 38));
    const auto out = device.play(program, 200);
    CHECK(device.processor.getLatencySamples()
          == 35280); // its own preview, though a third and fourth input are there
    CHECK(isLater(out[0], program.left, 35280));
    const auto& cut = device.processor.state().cut;
    device.processor.service().step();
    CHECK(device.processor.service().report().status.state == cut::State::program);
    CHECK(*std::max_element(out[2].begin(), out[2].end())
          == Approx(cut.lead_in_pitch_um / 10000).epsilon(1e-6));
    CHECK(out[3].back() >= cut.depth_basic_um / 200 - 1e-6);
    CHECK(device.trap.caught() == "");
}

TEST_CASE("With the set-up saying so, inputs three and four are the second head") {
    Device device(4, 4);
    auto state = device.processor.state();
    state.live.preview_from = 2;
    device.processor.setState(state);
    device.feed.start(44100, 64, 4, 4);
    CHECK(device.processor.getLatencySamples() == 0);
    const auto program = test::randomProgram(83, 1);
    CHECK(isLater(device.play(program, 64)[0], program.left, 0));
}

TEST_CASE("While another thread has the processor the device plays silence") {
    Device device(2, 4);
    device.feed.silence();
    log::ProgramRecord file;
    file.facts.sampleRate_hz = 48000;
    device.processor.takeFromDevice(file);
    const auto program = test::randomProgram(84, 1);
    for (const auto& channel : device.play(program, 64))
        CHECK(std::all_of(channel.begin(), channel.end(), [](float x) { return x == 0; }));
    device.processor.giveToDevice();
    device.feed.resume();
    const auto out = device.play(program, 64);
    CHECK(isLater(out[0], program.left, device.processor.getLatencySamples()));
}
