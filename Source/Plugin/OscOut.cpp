// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/OscOut.h"

namespace headland::plugin {

namespace {

juce::String nameOf(cut::State state) {
    const auto text = cut::name(state);
    return juce::String::fromUTF8(text.data(), static_cast<int>(text.size()));
}

void add(juce::OSCBundle& bundle, const char* address, double value) {
    bundle.addElement(juce::OSCMessage(address, static_cast<float>(value)));
}

} // namespace

juce::OSCBundle oscBundle(const handoff::LiveStatus& status) {
    const auto down = status.state != cut::State::up;
    const auto& frame = status.frame;
    juce::OSCBundle bundle;
    bundle.addElement(juce::OSCMessage("/headland/state", nameOf(status.state)));
    add(bundle, "/headland/pitch_um", down ? frame.pitch_um : 0);
    add(bundle, "/headland/depth_um", down ? frame.depth_um : 0);
    if (down) {
        add(bundle, "/headland/radius_mm", frame.radius_mm);
        add(bundle, "/headland/left_mm", frame.estimate.left_mm);
        add(bundle, "/headland/left_min", frame.estimate.left_min);
    }
    return bundle;
}

bool OscOut::connectTo(const std::string& host, int port) {
    if (port == port_ && host == host_)
        return true;
    stop();
    if (!sender.connect(juce::String::fromUTF8(host.c_str()), port)) {
        trouble_ = "OSC cannot be sent to " + host + ", port " + std::to_string(port)
                   + ": no such address, or no network; check the address.";
        return false;
    }
    host_ = host;
    port_ = port;
    return true;
}

void OscOut::send(const handoff::LiveStatus& status, const std::string& host, int port) {
    if (!connectTo(host, port))
        return;
    const auto sent = sender.send(oscBundle(status));
    trouble_ = sent ? std::string()
                    : "OSC cannot be sent to " + host + ", port " + std::to_string(port)
                          + ": the system refuses it; check address and network.";
}

void OscOut::stop() {
    if (port_ != 0)
        sender.disconnect();
    port_ = 0;
    trouble_.clear();
}

} // namespace headland::plugin
