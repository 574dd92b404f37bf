// SPDX-License-Identifier: GPL-3.0-or-later
// Disc formats: speeds, diameters and pitches of the standards, one row a format.
// The figures are quoted second-hand, from published comparisons of the standards; each row names the standard.
// Lengths in mm and µm, speed in revolutions per minute. Constant data; any thread.
#pragma once

#include <span>
#include <string_view>

namespace headland::disc {

/// One disc format. Diameters in mm, measured at the groove's centre line.
struct Format {
    std::string_view key;                ///< the settings' name for it, e.g. "30cm-33"
    std::string_view name;               ///< as shown to a person
    double rpm;                          ///< nominal speed, revolutions per minute
    double discDiameter_mm;              ///< nominal outer diameter of the record
    double modulatedDiameterMax_mm;      ///< outermost modulated groove
    double modulatedDiameterMin_mm;      ///< innermost modulated groove any of the quoted standards allows
    double modulatedDiameterEnd_mm;      ///< innermost modulated groove we plan for unless told otherwise
    double finishingDiameter_mm;         ///< closed finishing groove
    double finishingTolerance_mm;        ///< ± on the finishing diameter
    double nominalSide_s;                ///< length of an ordinary side; common practice, no source
    std::string_view modulatedMaxSource; ///< where modulatedDiameterMax_mm comes from
    std::string_view modulatedMinSource; ///< where modulatedDiameterMin_mm comes from
    std::string_view modulatedEndSource; ///< where modulatedDiameterEnd_mm comes from
    std::string_view finishingSource;    ///< where finishingDiameter_mm comes from
};

inline constexpr double leadInPitch_um = 1200.0;           ///< IEC 60098:1987, 8.4 (second-hand)
inline constexpr double leadInPitchTolerance_um = 400.0;   ///< IEC 60098:1987, 8.4 (second-hand)
inline constexpr double leadOutPitch_um = 6400.0;          ///< IEC 60098:1987, 8.8 (second-hand)
inline constexpr double leadOutPitchTolerance_um = 3200.0; ///< IEC 60098:1987, 8.8 (second-hand)
/// The finest lead-out that is still one.
inline constexpr double leadOutPitchFinest_um = leadOutPitch_um - leadOutPitchTolerance_um;
inline constexpr double recordingSpeedTolerance =
    0.005; ///< ± of the speed; IEC 60098:2020, 5.6 (second-hand)

/// All formats, in the order they are offered; the first is the default.
std::span<const Format> formats() noexcept;

/// The format with this key, or nullptr when there is none.
const Format* findFormat(std::string_view key) noexcept;

} // namespace headland::disc
