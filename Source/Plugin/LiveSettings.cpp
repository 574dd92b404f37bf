// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/LiveSettings.h"

#include "Cut/UnitText.h"

#include <algorithm>

namespace headland::plugin {

namespace {

using S = LiveSettings;

constexpr LiveSetting table[] = {
    {"land_add_um", "Land add", "µm", &S::land_add_um, 0, 100,
     "More land than the least, ridden during the side; heard with the program, so it is all there a preview "
     "later.",
     "0: the land as set."},
    {"depth_add_um", "Depth add", "µm", &S::depth_add_um, 0, 60,
     "Deeper than the basic depth, ridden during the side, as far as the greatest depth.",
     "0: the depth as set."},
    {"level_trim_db", "Level trim", "dB", &S::level_trim_db, -24, 12,
     "Level ridden during the side, ahead of the preview; only where Headland makes the preview itself.",
     "0: the program goes through untouched."},

    {"control_pitch_full_scale_um", "Control: pitch at full scale", "µm", &S::control_pitch_full_scale_um,
     100, 50000, "Pitch per revolution that is one full scale of the control output away from zero.",
     "10 mm: lead-in and lead-out are within it; an assumption, no source. Set what your lathe's electronics "
     "expect."},
    {"control_pitch_zero", "Control: pitch zero", "", &S::control_pitch_zero, -1, 1,
     "Signal of a standing carriage, full scale = 1; also the rest value while the stylus is up.",
     "0: a dead cable is a standing carriage."},
    {"control_pitch_inverted", "Control: pitch inverted", "", &S::control_pitch_inverted, 0, 1,
     "1: a wider pitch gives a lower signal.", "0: a wider pitch gives a higher signal."},
    {"control_depth_full_scale_um", "Control: depth at full scale", "µm", &S::control_depth_full_scale_um, 10,
     2000, "Depth that is one full scale of the control output away from zero.",
     "200 µm: deeper than any groove; an assumption, no source. Set what your lathe's electronics expect."},
    {"control_depth_zero", "Control: depth zero", "", &S::control_depth_zero, -1, 1,
     "Signal of no depth, full scale = 1; also the rest value while the stylus is up.",
     "0: a dead cable is no depth."},
    {"control_depth_inverted", "Control: depth inverted", "", &S::control_depth_inverted, 0, 1,
     "1: a deeper groove gives a lower signal.", "0: a deeper groove gives a higher signal."},

    {"preview_from", "Preview from", "", &S::preview_from, 0, 2,
     "0: from the input Preview where the host has switched that on (as LV2 it always is: then Headland's "
     "own); 1: "
     "Headland's own delay; 2: the input Preview, from a second head.",
     "0: what the host's routing says."},

    {"osc_on", "OSC", "", &S::osc_on, 0, 1,
     "1: pitch, depth, radius, state and what is left are sent, 50 times a second.",
     "0: nothing leaves the machine."},
    {"osc_port", "OSC port", "", &S::osc_port, 1024, 65535, "UDP port the messages are sent to.",
     "9870; no port is registered for OSC (from memory)."},
};

void checkReach(const lathe::ControlScale& scale, double greatest_um, const std::string& what,
                std::vector<std::string>& problems) {
    if (scale.reach_um() >= greatest_um)
        return;
    problems.push_back("The control output reaches " + cut::textWithUnit(scale.reach_um(), "µm") + " of "
                       + what + " at full scale, and the set-up needs " + cut::textWithUnit(greatest_um, "µm")
                       + "; raise control_" + what + "_full_scale_um or move control_" + what + "_zero.");
}

} // namespace

std::span<const LiveSetting> liveTable() noexcept {
    return table;
}

bool isRidden(const LiveSetting& setting) noexcept {
    return setting.key.ends_with("_add_um") || setting.key.ends_with("_trim_db");
}

bool isSetUp(const LiveSetting& setting) noexcept {
    return setting.key.starts_with("control_") || setting.key == "preview_from";
}

std::vector<std::string> validateControl(const LiveSettings& live, const cut::CutSettings& cut) {
    std::vector<std::string> problems;
    checkReach(live.pitchScale(),
               std::max({cut.pitch_max_um, cut.lead_in_pitch_um, cut.band_pitch_um, cut.lead_out_pitch_um}),
               "pitch", problems);
    checkReach(live.depthScale(), cut.depth_max_um, "depth", problems);
    return problems;
}

} // namespace headland::plugin
