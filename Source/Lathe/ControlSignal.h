// SPDX-License-Identifier: GPL-3.0-or-later
// How a command of the lathe becomes a DC-coupled control signal, full scale = ±1: straight lines, stated by how many
// µm full scale stands for, by where zero lies and by the polarity. What is no command gives the rest value.
// Any thread.
#pragma once

#include <algorithm>
#include <cmath>

namespace headland::lathe {

/// Scale of one control channel.
struct ControlScale {
    double fullScale_um; ///< command that is one full scale away from zero
    double zero;         ///< signal at a command of 0 µm, −1 to 1; the rest value as well
    bool inverted;       ///< a greater command gives a lower signal

    /// The signal while the stylus is up: that of a standing carriage, of no depth.
    double rest() const noexcept { return std::clamp(zero, -1.0, 1.0); }

    /// The signal of a command, within full scale; the rest value for what is not finite.
    double signal(double command_um) const noexcept {
        if (!std::isfinite(command_um))
            return rest();
        return std::clamp(zero + (inverted ? -1 : 1) * command_um / fullScale_um, -1.0, 1.0);
    }

    /// Greatest command that still fits into full scale, µm.
    double reach_um() const noexcept { return fullScale_um * (inverted ? 1 + zero : 1 - zero); }
};

} // namespace headland::lathe
