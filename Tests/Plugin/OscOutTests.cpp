// SPDX-License-Identifier: GPL-3.0-or-later
// What is sent over OSC, as a receiver of another thread gets it from the loopback network.
#include "Plugin/OscOut.h"
#include "Plugin/Processor.h"

#include <catch2/catch.hpp>

#include <map>
#include <mutex>
#include <thread>

using namespace headland;

namespace {

/// Keeps the last value of every address.
class Listener : public juce::OSCReceiver::Listener<juce::OSCReceiver::RealtimeCallback> {
public:
    void oscMessageReceived(const juce::OSCMessage& message) override { keep(message); }
    void oscBundleReceived(const juce::OSCBundle& bundle) override {
        for (const auto& element : bundle)
            if (element.isMessage())
                keep(element.getMessage());
    }
    std::map<juce::String, juce::String> last() const {
        const std::lock_guard held(lock);
        return values;
    }
    int count() const {
        const std::lock_guard held(lock);
        return messages;
    }

private:
    void keep(const juce::OSCMessage& message) {
        const std::lock_guard held(lock);
        const auto& value = message[0];
        values[message.getAddressPattern().toString()] =
            value.isString() ? value.getString() : juce::String(value.getFloat32());
        ++messages;
    }
    mutable std::mutex lock;
    std::map<juce::String, juce::String> values;
    int messages = 0;
};

/// A receiver at a port that is free.
struct Receiver {
    Receiver() {
        for (port = 19870; port < 19970 && !receiver.connect(port); ++port) {
        }
        receiver.addListener(&listener);
    }
    ~Receiver() { receiver.disconnect(); }
    juce::OSCReceiver receiver;
    Listener listener;
    int port;
};

void waitUntil(const std::function<bool()>& done) {
    for (int i = 0; i < 500 && !done(); ++i)
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
}

} // namespace

TEST_CASE("OSC carries pitch, depth, radius, state and what is left", "[osc]") {
    Receiver at;
    handoff::LiveStatus status;
    status.state = cut::State::program;
    status.frame.pitch_um = 98.5;
    status.frame.depth_um = 27.25;
    status.frame.radius_mm = 120.125;
    status.frame.estimate.left_mm = 60.5;
    status.frame.estimate.left_min = 14.75;
    plugin::OscOut osc;
    osc.send(status, "127.0.0.1", at.port);
    CHECK(osc.trouble().empty());
    waitUntil([&] { return at.listener.count() >= 6; });
    const auto last = at.listener.last();
    REQUIRE(last.size() == 6);
    CHECK(last.at("/headland/state") == "program");
    CHECK(last.at("/headland/pitch_um").getFloatValue() == 98.5f);
    CHECK(last.at("/headland/depth_um").getFloatValue() == 27.25f);
    CHECK(last.at("/headland/radius_mm").getFloatValue() == 120.125f);
    CHECK(last.at("/headland/left_mm").getFloatValue() == 60.5f);
    CHECK(last.at("/headland/left_min").getFloatValue() == 14.75f);
}

TEST_CASE("With the stylus up OSC tells of no pitch, no depth and nothing else", "[osc]") {
    handoff::LiveStatus status;
    status.frame.pitch_um = 98.5;
    const auto bundle = plugin::oscBundle(status);
    REQUIRE(bundle.size() == 3);
    CHECK(bundle[0].getMessage()[0].getString() == "up");
    CHECK(bundle[1].getMessage()[0].getFloat32() == 0);
    CHECK(bundle[2].getMessage()[0].getFloat32() == 0);
}

TEST_CASE("An address that is none is said", "[osc]") {
    plugin::OscOut osc;
    osc.send({}, "no such host.invalid", 9870); // RFC 2606: .invalid never resolves
    CHECK(osc.trouble().find("no such host.invalid") != std::string::npos);
    osc.stop();
    CHECK(osc.trouble().empty());
}

TEST_CASE("The processor sends nothing until it is told to, then about 50 times a second", "[osc]") {
    Receiver at;
    plugin::Processor processor;
    auto state = processor.state();
    state.live.osc_port = at.port;
    processor.setState(state);
    std::this_thread::sleep_for(std::chrono::milliseconds(200));
    CHECK(at.listener.count() == 0);
    state.live.osc_on = 1;
    processor.setState(state);
    waitUntil([&] { return at.listener.count() >= 30; });
    CHECK(at.listener.count() >= 30); // ten bundles of three
    CHECK(at.listener.last().at("/headland/state") == "up");
    state.live.osc_on = 0;
    processor.setState(state);
    processor.service().step();
    std::this_thread::sleep_for(std::chrono::milliseconds(100)); // what is still under way
    const auto sent = at.listener.count();
    std::this_thread::sleep_for(std::chrono::milliseconds(200));
    CHECK(at.listener.count() == sent);
}
