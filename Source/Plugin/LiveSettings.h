// SPDX-License-Identifier: GPL-3.0-or-later
// What the processor is set up with beside the cut itself: what an engineer rides during a side, the scale of the control
// output, and whether anything is sent over OSC. Plain data and its table, as Cut/SettingsTable. Any thread.
#pragma once

#include "Cut/SettingsTable.h"
#include "Lathe/ControlSignal.h"

#include <span>
#include <string>
#include <vector>

namespace headland::plugin {

/// Member names are the parameters' IDs and the keys of the state.
struct LiveSettings {
    // Ridden during a side
    double land_add_um = 0;
    double depth_add_um = 0;
    double level_trim_db = 0;

    // Control output
    double control_pitch_full_scale_um = 10000;
    double control_pitch_zero = 0;
    int control_pitch_inverted = 0;
    double control_depth_full_scale_um = 200;
    double control_depth_zero = 0;
    int control_depth_inverted = 0;

    // Preview
    int preview_from = 0; ///< 0: by the input Preview; 1: Headland's own; 2: the second head's

    // OSC
    int osc_on = 0;
    int osc_port = 9870;

    lathe::ControlScale pitchScale() const noexcept {
        return {control_pitch_full_scale_um, control_pitch_zero, control_pitch_inverted != 0};
    }
    lathe::ControlScale depthScale() const noexcept {
        return {control_depth_full_scale_um, control_depth_zero, control_depth_inverted != 0};
    }
};

using LiveSetting = cut::SettingOf<LiveSettings>;

/// Every one of them, in the order they are shown.
std::span<const LiveSetting> liveTable() noexcept;

/// Whether it is ridden during a side: open to automation, heeded with every block.
bool isRidden(const LiveSetting& setting) noexcept;
/// Whether it is part of the set-up, which is frozen while the stylus is down. What is neither (OSC) may change any time.
bool isSetUp(const LiveSetting& setting) noexcept;

/// Every problem of the control output for this cut, one sentence each; empty when each command fits into full scale.
std::vector<std::string> validateControl(const LiveSettings& live, const cut::CutSettings& cut);

} // namespace headland::plugin
