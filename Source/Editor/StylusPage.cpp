// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/StylusPage.h"

#include "Editor/Words.h"

namespace headland::editor {

namespace {

constexpr int stylusGap = 4;
constexpr float stripShare = 0.42f, overviewShare = 0.115f; ///< of the height
constexpr float grooveShare = 0.28f, faceShare = 0.30f,
                ledgerShare = 0.24f; ///< of the width; the cautions have the rest

} // namespace

StylusPage::StylusPage(Viewpoint& viewpoint) : view(viewpoint) {
    const auto look = [this](double time_s) { view.lookAt(time_s); };
    strip.onPlace = look;
    overview.onPlace = look;
    face.onPlace = look;
    cautions.onPlace = look;
    const auto tell = [](auto& whom) {
        return [&whom](const log::LoggedNote& note) {
            if (whom)
                whom(note);
        };
    };
    cautions.onEdit = tell(onEditNote);
    cautions.onDelete = tell(onDeleteNote);
    for (juce::Component* part :
         std::initializer_list<juce::Component*>{&strip, &overview, &groove, &face, &ledger, &cautions})
        addAndMakeVisible(part);
}

void StylusPage::show(const Glimpse& glimpse) {
    const auto* side = view.side();
    const auto there = view.shown();
    strip.show(view.strip());
    overview.show(view.overview());
    groove.show(view.groove(), glimpse.units);
    face.setFormat(there.setup);
    const auto frame = view.frame();
    face.show(side, frame ? &*frame : nullptr, view.place_s(), glimpse.units);
    if (isTimeForFigures(glimpse))
        ledger.show(view.heading(), figures(there));
    cautions.show({side == nullptr ? nullptr : &side->summary().passages, &view.notes(), view.isReview(),
                   view.place_s(), glimpse.units});
}

/// At the stylus figures change faster than anybody reads: ten times a second is enough.
bool StylusPage::isTimeForFigures(const Glimpse& glimpse) {
    constexpr juce::uint32 every_ms = 100;
    const auto now_ms = juce::Time::getMillisecondCounter();
    const auto isRunning = view.isAtStylus() && glimpse.file.running && !glimpse.file.paused;
    const auto head = view.heading();
    if (isRunning && head == ledgerHead && glimpse.units == ledgerUnits && now_ms - figures_ms < every_ms)
        return false;
    figures_ms = now_ms;
    ledgerHead = head;
    ledgerUnits = glimpse.units;
    return true;
}

bool StylusPage::step(bool forward) {
    const auto frame = view.frame();
    if (!frame)
        return false;
    const auto from_s = view.place_s()             ? *view.place_s()
                        : view.isOver() && forward ? -INFINITY
                                                   : frame->time_s;
    const auto next = cautions.step(from_s, forward);
    if (next)
        view.lookAt(*next);
    return next.has_value();
}

void StylusPage::resized() {
    auto area = getLocalBounds();
    const auto height = static_cast<float>(area.getHeight()), width = static_cast<float>(area.getWidth());
    strip.setBounds(area.removeFromTop(juce::roundToInt(stripShare * height)));
    area.removeFromTop(stylusGap);
    overview.setBounds(area.removeFromTop(juce::roundToInt(overviewShare * height)));
    area.removeFromTop(stylusGap);
    groove.setBounds(area.removeFromLeft(juce::roundToInt(grooveShare * width)));
    area.removeFromLeft(stylusGap);
    face.setBounds(area.removeFromLeft(juce::roundToInt(faceShare * width)));
    area.removeFromLeft(stylusGap);
    ledger.setBounds(area.removeFromLeft(juce::roundToInt(ledgerShare * width)));
    area.removeFromLeft(stylusGap);
    cautions.setBounds(area);
}

} // namespace headland::editor
