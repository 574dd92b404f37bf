// SPDX-License-Identifier: GPL-3.0-or-later
// Whether frames are the same to the last bit; NaN is the same as NaN.
#pragma once

#include "Cut/CutFrame.h"

#include <algorithm>
#include <bit>
#include <cstdint>
#include <vector>

namespace headland::test {

inline bool sameBits(double a, double b) {
    return std::bit_cast<std::uint64_t>(a) == std::bit_cast<std::uint64_t>(b);
}

inline bool sameBits(const disc::DiscEstimate& a, const disc::DiscEstimate& b) {
    return a.grade == b.grade && sameBits(a.used_mm, b.used_mm) && sameBits(a.left_mm, b.left_mm)
           && sameBits(a.used_cm2, b.used_cm2) && sameBits(a.left_cm2, b.left_cm2)
           && sameBits(a.left_min, b.left_min) && sameBits(a.endDiameter_mm, b.endDiameter_mm)
           && sameBits(a.endDiameterUncertainty_mm, b.endDiameterUncertainty_mm);
}

inline bool sameBits(const cut::CutFrame& a, const cut::CutFrame& b) {
    constexpr double cut::CutFrame::*members[] = {&cut::CutFrame::time_s,
                                                  &cut::CutFrame::turn,
                                                  &cut::CutFrame::radius_mm,
                                                  &cut::CutFrame::pitch_um,
                                                  &cut::CutFrame::pitchCommand_um,
                                                  &cut::CutFrame::depth_um,
                                                  &cut::CutFrame::depthCommand_um,
                                                  &cut::CutFrame::landMin_um,
                                                  &cut::CutFrame::widthMin_um,
                                                  &cut::CutFrame::lateralPeak_cm_s,
                                                  &cut::CutFrame::verticalPeak_cm_s,
                                                  &cut::CutFrame::slopePeak,
                                                  &cut::CutFrame::curvatureMin_um,
                                                  &cut::CutFrame::demand_um,
                                                  &cut::CutFrame::shortfall_um,
                                                  &cut::CutFrame::peak_dbfs,
                                                  &cut::CutFrame::outerSwing_um,
                                                  &cut::CutFrame::innerSwing_um,
                                                  &cut::CutFrame::lift_um,
                                                  &cut::CutFrame::depthPeak_um};
    return a.state == b.state && a.flags == b.flags && sameBits(a.estimate, b.estimate)
           && std::all_of(std::begin(members), std::end(members),
                          [&](auto member) { return sameBits(a.*member, b.*member); });
}

inline bool sameBits(const std::vector<cut::CutFrame>& a, const std::vector<cut::CutFrame>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                      [](const auto& x, const auto& y) { return sameBits(x, y); });
}

} // namespace headland::test
