// SPDX-License-Identifier: GPL-3.0-or-later
// What the planners have to be told once, before the cut. Plain data.
#pragma once

namespace headland::plan {

/// Limits and lag of one axis, as the lathe is believed to behave.
struct AxisLimits {
    double least_um;
    double greatest_um;
    double slew_um_s; ///< of the command; for pitch in µm per revolution per second
    double lag_s;     ///< first order, axis behind command
};

struct PlanSetup {
    double turn_s;
    int sectorsPerTurn;
    int binsPerSector;        ///< edges are paired in so many equal parts of a sector
    int platterBins;          ///< bins by which one turn may be shifted against the other, either way
    int previewBins;          ///< bins by which the program may be shifted against the carriage, either way
    int previewSectors;       ///< whole sectors between preview head and stylus
    int rehearsedSectors = 0; ///< past those, that a rehearsal is asked about
    double landMin_um;
    double widthMin_um;
    double depthBasic_um;
    AxisLimits depth;
    AxisLimits pitch;
    double travelPrice; ///< of a µm by which the pitch changes, against µm of mean position

    int binsPerTurn() const noexcept { return sectorsPerTurn * binsPerSector; }
    double sector_s() const noexcept { return turn_s / sectorsPerTurn; }

    /// The greatest spacing that is planned for, µm. A lagging carriage comes near its greatest pitch without ever
    /// reaching it: the last tenth of a µm would have to be begun for turns ahead.
    double greatestSpacing_um() const noexcept { return pitch.greatest_um - 0.1; }
};

} // namespace headland::plan
