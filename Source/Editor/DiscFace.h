// SPDX-License-Identifier: GPL-3.0-or-later
// The side from above: label and hole, what is used turn by turn, bands and lead grooves, what is left to the innermost
// diameter, where the side is expected to end, flagged turns, the stylus and the place looked at. A click, a drag or a key
// goes to a place. Finished turns are kept in an image; the rest is laid out when it is shown. Main thread.
#pragma once

#include "Cut/CutFrame.h"
#include "Cut/CutSettings.h"
#include "Editor/DiscRings.h"
#include "Editor/Drawn.h"
#include "Editor/SideHistory.h"
#include "Editor/Units.h"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace headland::editor {

class DiscFace final : public juce::Component, public juce::TooltipClient {
public:
    DiscFace();

    /// The format of a side of which nothing is cut yet.
    void setFormat(const cut::CutSettings& settings);
    /// `side`: null: nothing is cut; must stay until another is shown. `latest`: where the stylus is; null: it is not
    /// known, or up. `place_s`: program time that is looked at; none: where the stylus is.
    void show(const SideHistory* side, const cut::CutFrame* latest, std::optional<double> place_s,
              Units units);

    /// A place was asked for: the program time of the turn there.
    std::function<void(double time_s)> onPlace;

    /// What is written, as laid out last.
    const std::vector<DrawnText>& texts() const noexcept { return words; }
    /// Middle of the disc and scale, px.
    juce::Point<float> centre() const noexcept { return middle; }
    double scale_px_per_mm() const noexcept { return px_per_mm; }
    const DiscRings& turnRings() const noexcept { return rings; }

    /// Turn, time and diameter there; empty off the disc's grooves.
    std::string textAt(juce::Point<float> position) const;

    void paint(juce::Graphics& g) override;
    void resized() override;
    void mouseDown(const juce::MouseEvent& event) override;
    void mouseDrag(const juce::MouseEvent& event) override;
    bool keyPressed(const juce::KeyPress& key) override;
    void focusGained(FocusChangeType) override;
    void focusLost(FocusChangeType) override;
    juce::String getTooltip() override;
    std::unique_ptr<juce::AccessibilityHandler> createAccessibilityHandler() override;

    /// The turn looked at, counted from 1, or 0; and how to go to one. For who hears the window.
    int placeTurn() const;
    int turnCount() const;
    void goToTurn(int turn);

private:
    /// A row of the key: its sample, its name and its figure.
    struct Entry {
        enum class Sample {
            none,
            limit,
            end,
            left,
            stylus,
            place,
            fault,
            caution,
            used,
            pitch,
            band,
            lead,
            start
        };
        Sample sample;
        std::string name, value;
        juce::Colour paint;
    };
    /// Neighbouring frames of one state.
    struct Stretch {
        cut::State state;
        std::size_t first, end;
    };

    const cut::CutSettings& settings() const { return side ? side->settings() : format; }
    bool hasFrames() const { return side && !side->frames().empty(); }
    bool isPastProgram() const;
    double placeTime_s() const;
    std::optional<double> endDiameter_mm() const;
    float px(double mm) const { return static_cast<float>(mm * px_per_mm); }
    juce::Path circle(double radius_mm) const;
    double radiusAt_mm(juce::Point<float> position) const;
    std::size_t frameAtRadius(double radius_mm) const;

    void begin();
    bool isContinued() const;
    void takeFrames();
    void layOut();
    void layOutDisc(juce::Rectangle<float> area);
    void addGrooves();
    void addEnd();
    void addLimits();
    void addFlags();
    void addStylus();
    void addLabel();
    std::vector<Entry> entries() const;
    void addDiscEntries(std::vector<Entry>& all) const;
    void addSideEntries(std::vector<Entry>& all) const;
    void layOutEntries(juce::Rectangle<float> area);
    void addSample(const Entry& entry, juce::Rectangle<float> area);
    void addPlate(const std::string& text, juce::Point<float> at, juce::Colour paint);
    void goTo(double time_s);

    cut::CutSettings format;
    const SideHistory* side = nullptr;
    std::optional<cut::CutFrame> latest;
    std::optional<double> place_s;
    Units units = Units::metric;

    std::size_t framesTaken = 0, framesDrawn = 0;
    cut::CutFrame lastTaken{};
    std::vector<Stretch> stretches;
    DiscRings rings;

    juce::Point<float> middle;
    double px_per_mm = 0;
    std::vector<DrawnShape> under, over; ///< below and above the rings
    std::vector<DrawnShape> plates;      ///< on their way to the top of what is over
    std::vector<DrawnText> words;
};

} // namespace headland::editor
