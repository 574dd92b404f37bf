// SPDX-License-Identifier: GPL-3.0-or-later
// What the tests of the views share: patches and sides of known figures, pictures, and whether texts are whole.
#pragma once

#include "Cut/GroovePatch.h"
#include "Editor/Drawn.h"
#include "Editor/SideHistory.h"
#include "Groove/Geometry.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <functional>
#include <numbers>

namespace headland::test {

/// Where a turn's groove is: µm from the start radius, of a 90° V.
struct Groove {
    double centre_um = 0, depth_um = 25, left_um = 0, right_um = 0;
};

/// Turns `from` to `to`, `half_um` long to either side, a point each 11.6 µm as at 44.1 kHz.
inline cut::GroovePatch patchOf(double half_um, int from, int to,
                                const std::function<Groove(int turn, double along_um)>& groove) {
    constexpr double radius_um = 146000, spacing_um = 11.6;
    cut::GroovePatch patch;
    patch.time_s = 96;
    patch.startRadius_mm = radius_um / 1000;
    patch.step_rad = spacing_um / radius_um;
    patch.points = static_cast<std::size_t>(2 * std::lround(half_um / spacing_um) + 1);
    for (int turn = from; turn <= to; ++turn) {
        patch.turns.push_back({turn, {}});
        for (std::size_t point = 0; point < patch.points; ++point) {
            const auto g = groove(turn, patch.angle_rad(point) * radius_um);
            patch.turns.back().edges.push_back(
                {static_cast<float>(g.centre_um + groove::outerEdge_um(g.depth_um, g.right_um)),
                 static_cast<float>(g.centre_um + groove::innerEdge_um(g.depth_um, g.left_um))});
        }
    }
    return patch;
}

/// Both walls swing, another wave in each turn.
inline Groove swung(int turn, double along_um, double pitch_um, double swing_um) {
    const auto wave = [&](double length_um, double phase) {
        return std::sin(2 * std::numbers::pi * along_um / length_um + phase);
    };
    return {-pitch_um * turn, 25, swing_um * (0.7 * wave(900, turn) + 0.3 * wave(170, 2.0 * turn)),
            swing_um * (0.7 * wave(900, turn + 0.3) + 0.3 * wave(150, 3.0 * turn))};
}

/// As at the stylus: the place's turn ends at the place.
inline cut::GroovePatch livePatch(double pitch_um, double swing_um, double half_um = 4000) {
    return patchOf(half_um, -3, 0, [=](int turn, double along_um) {
        auto groove = swung(turn, along_um, pitch_um, swing_um);
        if (turn == 0 && along_um > 1)
            groove.depth_um = NAN;
        return groove;
    });
}

/// Turns 0 and −1 have met by `by_um` at the place.
inline cut::GroovePatch metPatch(double by_um) {
    return patchOf(1200, -2, 2, [=](int turn, double along_um) {
        const auto away = along_um / 60;
        const auto bulge_um = turn == 0 ? std::max(0.0, 12 + by_um - 20 * away * away) : 0.0;
        return Groove{-62.0 * turn, 25, 0, bulge_um / groove::sqrt2};
    });
}

/// A side, frame by frame: stretches of one state and pitch.
class SideMaker {
public:
    explicit SideMaker(const cut::CutSettings& s = {}) : settings(s), history(s) {
        frame.radius_mm = s.start_radius_mm + 1.5;
        frame.landMin_um = NAN;
        frame.depth_um = 25;
    }
    /// `pitchAt(share)`: µm, of the stretch from its beginning to its end.
    void cut(cut::State state, double turns, const std::function<double(double share)>& pitchAt) {
        const auto sectors = std::lround(turns * settings.sectors_per_turn);
        std::vector<cut::CutFrame> more;
        for (long i = 1; i <= sectors; ++i) {
            frame.state = state;
            frame.pitch_um = pitchAt(static_cast<double>(i) / static_cast<double>(sectors));
            ++count;
            frame.turn = static_cast<double>(count) / settings.sectors_per_turn;
            frame.time_s = (frame.turn - settings.lead_in_turns) * settings.turn_s();
            frame.radius_mm -= frame.pitch_um / settings.sectors_per_turn / 1000;
            if (state == cut::State::program || state == cut::State::band) {
                frame.estimate.used_mm = settings.start_radius_mm - frame.radius_mm;
                frame.estimate.left_mm = frame.radius_mm - settings.end_radius_mm;
                frame.estimate.endDiameter_mm = endDiameter_mm;
                frame.estimate.endDiameterUncertainty_mm = uncertainty_mm;
            }
            frame.flags = flags;
            more.push_back(frame);
        }
        history.add(more);
    }
    void cut(cut::State state, double turns, double pitch_um) {
        cut(state, turns, [=](double) { return pitch_um; });
    }
    void flag(cut::Flag which, double turns, double pitch_um) {
        flags = static_cast<std::uint16_t>(which);
        cut(cut::State::program, turns, pitch_um);
        flags = 0;
    }
    void leadIn() { cut(cut::State::leadIn, settings.lead_in_turns, settings.lead_in_pitch_um); }
    /// The frame made last; as it is, not as the history keeps it.
    const cut::CutFrame& last() const { return frame; }

    cut::CutSettings settings;
    editor::SideHistory history;
    double endDiameter_mm = 152.4, uncertainty_mm = 3.6;

private:
    cut::CutFrame frame{};
    long count = 0;
    std::uint16_t flags = 0;
};

inline juce::Image pictureOf(juce::Component& component, float scale = 1) {
    return component.createComponentSnapshot(component.getLocalBounds(), true, scale);
}

/// Written into the folder that HEADLAND_PICTURES names, for a person to look at; nowhere without it.
inline void keepPicture(juce::Component& component, const juce::String& name, float scale = 1) {
    const auto folder = juce::SystemStats::getEnvironmentVariable("HEADLAND_PICTURES", {});
    if (folder.isEmpty())
        return;
    const auto file =
        juce::File(folder).getChildFile(name + "-" + juce::String(component.getWidth()) + ".png");
    file.deleteFile();
    juce::FileOutputStream stream(file);
    juce::PNGImageFormat().writeImageToStream(pictureOf(component, scale), stream);
}

/// Every text whole, large enough, inside, and over no other.
inline void checkTexts(const std::vector<editor::DrawnText>& texts, const juce::Component& component) {
    for (std::size_t i = 0; i < texts.size(); ++i) {
        const auto& text = texts[i];
        INFO(text.text << " of " << component.getWidth() << " x " << component.getHeight());
        CHECK(text.height >= 12);
        CHECK(editor::widthOf(text.text, text.height, text.bold) - 2.1f <= text.area.getWidth());
        CHECK(component.getLocalBounds().toFloat().contains(text.area));
        for (std::size_t k = 0; k < i; ++k) {
            INFO("and " << texts[k].text);
            CHECK_FALSE(texts[k].area.reduced(0.5f).intersects(text.area.reduced(0.5f)));
        }
    }
}

/// How often a component asks to be painted.
class PaintCounter final : public juce::CachedComponentImage {
public:
    explicit PaintCounter(int& c) : count(c) {}
    void paint(juce::Graphics&) override {}
    bool invalidateAll() override {
        ++count;
        return true;
    }
    bool invalidate(const juce::Rectangle<int>&) override { return invalidateAll(); }
    void releaseResources() override {}

private:
    int& count;
};

} // namespace headland::test
