// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/DiscRings.h"

#include "Editor/Palette.h"

#include <algorithm>
#include <cmath>

namespace headland::editor {

namespace {

constexpr double slice_mm = 0.05;

} // namespace

void DiscRings::begin(double radius_mm, double least_um, double greatest_um) {
    discRadius_mm = radius_mm;
    pitchLeast_um = least_um;
    pitchGreatest_um = greatest_um;
    slices.assign(static_cast<std::size_t>(std::ceil(radius_mm / slice_mm)) + 1, {});
    sums.assign(slices.size() + 1, {});
    dirtyInner_mm = dirtyOuter_mm = 0;
    rings = {};
    pixels = 0;
}

double DiscRings::placeOf(double pitch_um) const {
    if (!(pitch_um > pitchLeast_um))
        return 0;
    return std::min(1.0, std::log(pitch_um / pitchLeast_um) / std::log(pitchGreatest_um / pitchLeast_um));
}

juce::Colour DiscRings::shadeOf(double pitch_um) const {
    return juce::Colour(palette::turnsClose)
        .interpolatedWith(juce::Colour(palette::turnsWide), static_cast<float>(placeOf(pitch_um)));
}

void DiscRings::add(const cut::CutFrame& frame, double from_mm) {
    const auto outer_mm = std::clamp(from_mm, 0.0, discRadius_mm);
    const auto inner_mm = std::clamp(frame.radius_mm, 0.0, discRadius_mm);
    if (frame.state != cut::State::program || !(outer_mm > inner_mm))
        return;
    const auto place = placeOf(frame.pitch_um);
    for (auto i = static_cast<std::size_t>(inner_mm / slice_mm); i < slices.size(); ++i) {
        const auto least_mm = static_cast<double>(i) * slice_mm;
        if (least_mm >= outer_mm)
            break;
        const auto part_mm = std::min(outer_mm, least_mm + slice_mm) - std::max(inner_mm, least_mm);
        slices[i].cut_mm += part_mm;
        slices[i].place_mm += part_mm * place;
    }
    const auto isClean = dirtyInner_mm == dirtyOuter_mm;
    dirtyInner_mm = isClean ? inner_mm : std::min(dirtyInner_mm, inner_mm);
    dirtyOuter_mm = isClean ? outer_mm : std::max(dirtyOuter_mm, outer_mm);
}

DiscRings::Slice DiscRings::sumTo(double radius_mm) const {
    const auto at = std::clamp(radius_mm / slice_mm, 0.0, static_cast<double>(slices.size()) - 1e-6);
    const auto i = static_cast<std::size_t>(at);
    const auto part = at - static_cast<double>(i);
    return {sums[i].cut_mm + part * slices[i].cut_mm, sums[i].place_mm + part * slices[i].place_mm};
}

/// As much of the pixel as is cut, in the mean shade.
juce::PixelARGB DiscRings::pixelAt(double inner_mm, double outer_mm) const {
    const auto to = sumTo(outer_mm), from = sumTo(inner_mm);
    const auto cut_mm = to.cut_mm - from.cut_mm;
    if (!(cut_mm > 1e-9))
        return {};
    const auto share = std::min(1.0, cut_mm / (outer_mm - inner_mm));
    return juce::Colour(palette::turnsClose)
        .interpolatedWith(juce::Colour(palette::turnsWide),
                          static_cast<float>((to.place_mm - from.place_mm) / cut_mm))
        .withMultipliedAlpha(static_cast<float>(share))
        .getPixelARGB();
}

const juce::Image& DiscRings::image(int size_px) {
    if (rings.getWidth() != size_px) {
        rings = juce::Image(juce::Image::ARGB, std::max(1, size_px), std::max(1, size_px), true,
                            juce::SoftwareImageType());
        dirtyInner_mm = 0;
        dirtyOuter_mm = discRadius_mm;
    }
    if (dirtyOuter_mm > dirtyInner_mm)
        drawRings();
    dirtyInner_mm = dirtyOuter_mm = 0;
    return rings;
}

void DiscRings::drawRings() {
    for (std::size_t i = 0; i < slices.size(); ++i)
        sums[i + 1] = {sums[i].cut_mm + slices[i].cut_mm, sums[i].place_mm + slices[i].place_mm};
    constexpr double steps_px = 4; // of a radius, for which a pixel's colour is reckoned once
    const auto middle_px = rings.getWidth() / 2.0;
    const auto mm_per_px = discRadius_mm / middle_px;
    const auto inner_px = std::max(0.0, dirtyInner_mm / mm_per_px - 1);
    const auto outer_px = std::min(middle_px, dirtyOuter_mm / mm_per_px + 1);
    std::vector<juce::PixelARGB> colours;
    for (auto i = std::floor(inner_px * steps_px); i <= outer_px * steps_px + 1; ++i)
        colours.push_back(pixelAt((i / steps_px - 0.5) * mm_per_px, (i / steps_px + 0.5) * mm_per_px));
    const auto first = std::floor(inner_px * steps_px);
    juce::Image::BitmapData data(rings, juce::Image::BitmapData::readWrite);
    const auto fill = [&](int y, double dy, double from, double to) {
        for (auto x = std::max(0, static_cast<int>(std::ceil(from))); x < data.width && x <= to; ++x) {
            const auto radius_px = std::hypot(x + 0.5 - middle_px, dy);
            if (radius_px < inner_px || radius_px > outer_px)
                continue;
            const auto at = static_cast<std::size_t>(radius_px * steps_px - first + 0.5);
            *reinterpret_cast<juce::PixelARGB*>(data.getPixelPointer(x, y)) = colours[at];
            ++pixels;
        }
    };
    for (int y = 0; y < data.height; ++y) {
        const auto dy = y + 0.5 - middle_px;
        if (std::abs(dy) > outer_px)
            continue;
        const auto far = std::sqrt(outer_px * outer_px - dy * dy);
        const auto near = std::sqrt(std::max(0.0, inner_px * inner_px - dy * dy));
        fill(y, dy, middle_px - far - 1, middle_px - near);
        fill(y, dy, std::max(middle_px + near - 1, std::floor(middle_px - near) + 1), middle_px + far);
    }
}

} // namespace headland::editor
