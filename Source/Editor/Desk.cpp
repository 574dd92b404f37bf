// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/Desk.h"

#include "Files/Caution.h"

#include <algorithm>
#include <utility>

namespace headland::editor {

namespace {

constexpr int looksPerSecond = 30;
constexpr int gap = 6;
constexpr int cautionHeight = 36, discHeight = 72, cueHeight = 78, riddenHeight = 64, rowsHeight = 46,
              keepHeight = 40, logHeight = 170;
constexpr float wrongShare = 0.17f, setupShare = 0.34f;

/// Of the ledger, what there is room for.
constexpr std::array<std::string_view, 6> tileNames{"Pitch", "Depth", "Land", "Radius", "Time", "Level"};

std::string_view labelOf(cut::Cue cue) {
    for (const auto& key : cueKeys)
        if (key.cue == cue)
            return key.label;
    return {};
}

/// Puts components side by side, all of one width.
template <typename Components>
void layInRow(juce::Rectangle<int> area, Components&& components) {
    const auto count = static_cast<int>(std::size(components));
    if (count == 0)
        return;
    const auto width = (area.getWidth() + gap) / count;
    for (auto* component : components) {
        component->setBounds(area.removeFromLeft(width - gap));
        area.removeFromLeft(gap);
    }
}

} // namespace

Desk::Desk(Access& a)
    : access(a),
      cues([this](cut::Cue cue) { give(cue); }),
      keep(a, [this](const std::string& refusal) { say(refusal); }),
      setup(a, [this](Typing& typing) { listenTo(typing); }),
      log(a, [this](Typing& typing) { listenTo(typing); }) {
    setLookAndFeel(&look);
    setWantsKeyboardFocus(true);
    setOpaque(true);
    for (const auto& field : access.fields())
        if (field.isRidden) {
            auto& value = ridden.emplace_back(std::make_unique<ValueField>(field));
            listenTo(*value);
        }
    if (access.cutsFiles())
        file = std::make_unique<FilePanel>(access, [this](const std::string& refusal) { say(refusal); });
    addAndMakeVisible(wrong);
    for (auto& tile : disc)
        addAndMakeVisible(tile);
    for (auto& tile : tiles)
        addAndMakeVisible(tile);
    addAndMakeVisible(cues);
    for (auto& value : ridden)
        addAndMakeVisible(*value);
    if (file)
        addAndMakeVisible(*file);
    addAndMakeVisible(keep);
    addAndMakeVisible(setup);
    addAndMakeVisible(log);
    refresh();
    startTimerHz(looksPerSecond);
}

Desk::~Desk() {
    setLookAndFeel(nullptr);
}

void Desk::listenTo(Typing& typing) {
    typing.onEntered = [this](const std::string& refusal) { say(refusal); };
    typing.onEscape = [this] { give(cut::Cue::lift); };
    typing.onDone = [this] { grabKeyboardFocus(); };
}

/// Shown: the cues' keys work at once.
void Desk::parentHierarchyChanged() {
    if (isShowing())
        grabKeyboardFocus();
}

void Desk::tick() {
    if (isShowing())
        refresh();
}

void Desk::refresh() {
    const auto glimpse = access.look();
    sayUnheeded(glimpse);
    auto sentences = whatIsWrong(glimpse);
    if (!said.empty())
        sentences.insert(sentences.begin(), {Weight::fault, said});
    wrong.show(sentences, nextStep(glimpse, access.cutsFiles()));
    const auto ofDisc = discFigures(glimpse);
    for (std::size_t i = 0; i < disc.size(); ++i)
        disc[i].show(ofDisc[i]);
    const auto ofCut = figures(glimpse);
    for (std::size_t i = 0; i < tiles.size(); ++i) {
        tiles[i].setComponentID(toJuce(tileNames[i]));
        tiles[i].show(*std::find_if(ofCut.begin(), ofCut.end(),
                                    [&](const Figure& figure) { return figure.name == tileNames[i]; }));
    }
    cues.show(glimpse);
    for (auto& value : ridden)
        value->refresh(glimpse.units);
    if (file)
        file->show(glimpse);
    setup.show(glimpse);
    log.show(glimpse);
}

/// A cue or a mark that meant nothing is said until the next deed.
void Desk::sayUnheeded(const Glimpse& glimpse) {
    const auto& status = glimpse.status;
    const auto isMore = [this](std::uint32_t count, std::uint32_t& known) {
        return std::exchange(known, count) != count && hasLooked;
    };
    if (isMore(status.unheededCues, knownCues))
        said = std::string(labelOf(status.lastUnheeded)) + " meant nothing when it was given.";
    if (isMore(status.unheededMarks, knownMarks))
        said = "A mark meant nothing when it was given: no cut was under way.";
    if (isMore(glimpse.log.marksNotKept, knownNotKept))
        said = "A mark is not kept: the cut under way is logged into no book.";
    hasLooked = true;
}

void Desk::give(cut::Cue cue) {
    said.clear();
    access.cue(cue);
}

void Desk::say(const std::string& refusal) {
    said = refusal;
    refresh();
}

bool Desk::keyPressed(const juce::KeyPress& key) {
    return cues.press(key) || log.press(key);
}

bool Desk::isInterestedInFileDrag(const juce::StringArray& files) {
    return file != nullptr && files.size() == 1;
}

void Desk::filesDropped(const juce::StringArray& files, int, int) {
    say(access.openFile(files[0].toStdString()));
}

void Desk::paint(juce::Graphics& g) {
    g.fillAll(colour(palette::ground));
    g.setColour(colour(palette::quiet));
    g.setFont(12.5f);
    g.drawFittedText(toJuce(files::caution), getLocalBounds().removeFromBottom(cautionHeight).reduced(gap, 0),
                     juce::Justification::centredLeft, 3, 0.9f);
}

void Desk::resized() {
    auto area = getLocalBounds().withTrimmedBottom(cautionHeight).withTrimmedTop(gap).reduced(gap, 0);
    wrong.setBounds(area.removeFromTop(juce::roundToInt(wrongShare * static_cast<float>(getHeight()))));
    area.removeFromTop(gap);
    auto right = area.removeFromRight(juce::roundToInt(setupShare * static_cast<float>(getWidth())));
    log.setBounds(right.removeFromBottom(logHeight));
    setup.setBounds(right.withTrimmedBottom(gap));
    layOutLeft(area.withTrimmedRight(gap));
}

void Desk::layOutLeft(juce::Rectangle<int> area) {
    const auto fromBottom = [&area](int height) {
        const auto row = area.removeFromBottom(height);
        area.removeFromBottom(gap);
        return row;
    };
    keep.setBounds(fromBottom(keepHeight));
    if (file)
        file->setBounds(fromBottom(rowsHeight));
    std::vector<juce::Component*> row;
    for (auto& value : ridden)
        row.push_back(value.get());
    layInRow(fromBottom(riddenHeight), row);
    cues.setBounds(fromBottom(cueHeight));
    const auto rowOf = [](auto& from, std::size_t first, std::size_t count) {
        std::vector<juce::Component*> all;
        for (auto i = first; i < first + count; ++i)
            all.push_back(&from[i]);
        return all;
    };
    constexpr std::size_t inRow = 3;
    layInRow(area.removeFromTop(discHeight), rowOf(disc, 0, disc.size()));
    area.removeFromTop(gap);
    const auto height = (area.getHeight() - gap) / 2; // takes what is left over
    layInRow(area.removeFromTop(height), rowOf(tiles, 0, inRow));
    area.removeFromTop(gap);
    layInRow(area.removeFromTop(height), rowOf(tiles, inRow, inRow));
}

} // namespace headland::editor
