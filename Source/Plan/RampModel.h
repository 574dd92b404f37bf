// SPDX-License-Identifier: GPL-3.0-or-later
// What an axis of the lathe (carriage pitch or depth) will do when its command goes on in straight lines from sector
// boundary to sector boundary: command limited in slope, the axis behind it by a first-order lag. Closed form, so the
// planner can ask for any time ahead without simulating. Units: a µm-valued axis, times in s. Audio thread.
//
// With command v(t) = v + s·t and lag τ:   q(t) = v + s·t − s·τ + (q − v + s·τ)·e^(−t/τ),
// and ∫q = ∫v − τ·(q(t) − q).
#pragma once

#include <algorithm>
#include <cmath>
#include <vector>

namespace headland::plan {

/// Command and axis at one moment.
struct AxisState {
    double command_um = 0; ///< v
    double axis_um = 0;    ///< q
};

/// One sector of a straight command.
class RampModel {
public:
    RampModel() = default;
    RampModel(double sector_s, double lag_s) noexcept
        : sector(sector_s),
          lag(lag_s),
          decay(lag_s > 0 ? std::exp(-sector_s / lag_s) : 0.0),
          bend(bendOf(sector_s, lag_s)) {}

    /// The state at the end of a sector in which the command goes straight to `commandEnd_um`.
    AxisState after(AxisState start, double commandEnd_um) const noexcept {
        const auto behind = lag * (commandEnd_um - start.command_um) / sector;
        return {commandEnd_um, commandEnd_um - behind + (start.axis_um - start.command_um + behind) * decay};
    }

    /// Integral of the axis over that sector, µm·s.
    double integral(AxisState start, AxisState end) const noexcept {
        return sector * (start.command_um + end.command_um) / 2 - lag * (end.axis_um - start.axis_um);
    }

    /// How far within that sector the axis rises above the straight line between its ends, at most; 0 when it sags.
    double above_um(AxisState start, AxisState end) const noexcept {
        return bend * std::max(0.0, -memory(start, end.command_um - start.command_um));
    }

    /// The same of its integral, µm·s: an upper bound, within a part of it that a turning command takes back.
    double integralAbove_um_s(AxisState start, AxisState end) const noexcept {
        const auto rise_um = end.command_um - start.command_um;
        return std::max(0.0, -rise_um) * sector / 8 + bend * lag * std::max(0.0, memory(start, rise_um));
    }

    /// How far its integral sags below the straight line between its ends, µm·s: an upper bound. Grows with the
    /// command, so that with full slew it bounds every sector that begins here.
    double integralBelow_um_s(AxisState start, AxisState end) const noexcept {
        const auto rise_um = end.command_um - start.command_um;
        return std::max(0.0, rise_um) * sector / 8 + bend * lag * std::max(0.0, -memory(start, rise_um));
    }

    double sector_s() const noexcept { return sector; }
    double lag_s() const noexcept { return lag; }

private:
    /// What decays within a sector: q − v + s·τ at its start.
    double memory(AxisState start, double rise_um) const noexcept {
        return start.axis_um - start.command_um + lag * rise_um / sector;
    }

    /// The decay e^(−t/τ) sags below its own chord by this at most, as a part of its first value. With m its mean over
    /// the sector that is where e^(−t/τ) = m.
    static double bendOf(double sector_s, double lag_s) noexcept {
        const auto x = lag_s > 0 ? sector_s / lag_s : 0.0;
        if (!(x > 0))
            return 0;
        const auto mean = -std::expm1(-x) / x;
        return mean > 0 ? 1 - mean + mean * std::log(mean) : 1;
    }

    double sector = 1, lag = 0, decay = 0, bend = 0;
};

/// What is reached `j` sectors after now when the command goes straight to v1 in the first and rises at full slew from
/// then on; everything is linear in v1, the present command v0 and the present axis q0.
class FullSlewForecast {
public:
    FullSlewForecast() = default;
    /// Tables for 0 … `sectors` sectors ahead.
    FullSlewForecast(double sector_s, double lag_s, double slew_um_s, int sectors);

    /// A quantity a·v1 + b·v0 + c·q0 + d.
    struct Linear {
        double v1, v0, q0, constant;
        double at(double end_um, AxisState now) const noexcept { return v1 * end_um + rest(now); }
        double rest(AxisState now) const noexcept {
            return v0 * now.command_um + q0 * now.axis_um + constant;
        }
    };

    /// The axis `j` ≥ 1 sectors ahead, µm.
    const Linear& axis(int j) const noexcept { return axisTable[static_cast<std::size_t>(j)]; }
    /// Integral of the axis from now to `j` ≥ 1 sectors ahead, µm·s.
    const Linear& integral(int j) const noexcept { return integralTable[static_cast<std::size_t>(j)]; }
    int sectors() const noexcept { return static_cast<int>(axisTable.size()) - 1; }

private:
    std::vector<Linear> axisTable, integralTable;
};

} // namespace headland::plan
