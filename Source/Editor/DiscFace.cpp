// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/DiscFace.h"

#include "Cut/Spoils.h"
#include "Text/Figures.h"
#include "Text/Times.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numbers>
#include <tuple>

namespace headland::editor {

namespace {

// Label and hole: common practice, no source; from memory.
constexpr double smallDisc_mm = 200; ///< a smaller disc has the smaller label
constexpr double label_mm = 100, smallLabel_mm = 92, hole_mm = 7.24;

constexpr float faceMargin = 8, faceCorner = 4;
constexpr float fine = 0.25f; ///< px; what moves by less does not move
constexpr float markSize = 5, markGap = 8;
constexpr float sampleWidth = 16;
constexpr float roomForPlates = 78; ///< px of radius around which a plate may stand
constexpr double pi = std::numbers::pi;

/// Read from further away where there is room.
float lettersFor(const juce::Component& face) {
    const auto size = std::min(face.getWidth(), face.getHeight());
    return size >= 600 ? 18.0f : size >= 320 ? 14.0f : smallestText;
}

float snapped(double px) {
    return static_cast<float>(std::round(px / fine)) * fine;
}

juce::Path ellipse(juce::Point<float> middle, float radius) {
    juce::Path path;
    path.addEllipse(juce::Rectangle<float>(2 * radius, 2 * radius).withCentre(middle));
    return path;
}

/// A line with a dark border, so that it shows on any ring.
void addLine(std::vector<DrawnShape>& shapes, const juce::Path& path, float width, juce::Colour paint) {
    shapes.push_back({stroked(path, width + 2.4f), colour(palette::bottom)});
    shapes.push_back({stroked(path, width), paint});
}

void addFilled(std::vector<DrawnShape>& shapes, const juce::Path& path, juce::Colour paint) {
    shapes.push_back({stroked(path, 3), colour(palette::bottom)});
    shapes.push_back({path, paint});
}

/// Two grooves met, or none: the side is spoilt.
juce::Path cross(juce::Point<float> at) {
    juce::Path path;
    for (const auto way : {juce::Point<float>(markSize, markSize), juce::Point<float>(markSize, -markSize)})
        path.addLineSegment({at - way, at + way}, 2.6f);
    return path;
}

juce::Path triangleMark(juce::Point<float> at) {
    juce::Path path;
    path.addTriangle(at.translated(0, -markSize), at.translated(markSize, markSize - 1),
                     at.translated(-markSize, markSize - 1));
    return path;
}

/// Slanted strokes across a ring.
juce::Path hatchedRing(juce::Point<float> middle, float inner, float outer) {
    constexpr float step = 7, slant = 0.5f;
    const auto count = std::max(24, juce::roundToInt(2 * juce::MathConstants<float>::pi * outer / step));
    juce::Path path;
    for (int i = 0; i < count; ++i) {
        const auto angle =
            2 * juce::MathConstants<float>::pi * static_cast<float>(i) / static_cast<float>(count);
        const auto turn = slant * step / std::max(1.0f, outer);
        path.addLineSegment({middle.getPointOnCircumference(inner, angle),
                             middle.getPointOnCircumference(outer, angle + turn)},
                            1.3f);
    }
    return path;
}

bool isLead(cut::State state) {
    return state == cut::State::leadIn || state == cut::State::leadOut || state == cut::State::finishing;
}

bool isSameFrame(const cut::CutFrame& a, const cut::CutFrame& b) {
    return a.time_s == b.time_s && a.turn == b.turn && a.state == b.state && a.radius_mm == b.radius_mm
           && a.estimate.endDiameter_mm == b.estimate.endDiameter_mm
           && a.estimate.endDiameterUncertainty_mm == b.estimate.endDiameterUncertainty_mm
           && a.estimate.left_mm == b.estimate.left_mm;
}

/// The face as something whose value is the turn looked at.
class TurnValue final : public juce::AccessibilityValueInterface {
public:
    explicit TurnValue(DiscFace& f) : face(f) {}
    bool isReadOnly() const override { return face.turnCount() == 0; }
    double getCurrentValue() const override { return face.placeTurn(); }
    juce::String getCurrentValueAsString() const override { return "turn " + juce::String(face.placeTurn()); }
    void setValue(double turn) override { face.goToTurn(juce::roundToInt(turn)); }
    void setValueAsString(const juce::String& text) override {
        setValue(text.retainCharacters("0123456789").getIntValue());
    }
    AccessibleValueRange getRange() const override { return {{0, static_cast<double>(face.turnCount())}, 1}; }

private:
    DiscFace& face;
};

} // namespace

DiscFace::DiscFace() {
    setComponentID("disc");
    setTitle("Disc face");
    setWantsKeyboardFocus(true);
    begin();
}

void DiscFace::setFormat(const cut::CutSettings& settings) {
    format = settings;
    if (side)
        return;
    begin();
    layOut();
    repaint();
}

void DiscFace::begin() {
    framesTaken = framesDrawn = 0;
    stretches.clear();
    rings.begin(settings().discFormat().discDiameter_mm / 2, settings().pitch_min_um,
                settings().pitch_max_um);
}

void DiscFace::show(const SideHistory* wantedSide, const cut::CutFrame* wantedLatest,
                    std::optional<double> wantedPlace_s, Units wantedUnits) {
    const auto isOther = wantedSide != side || (side && !isContinued());
    const auto sameLatest = wantedLatest ? latest && isSameFrame(*latest, *wantedLatest) : !latest;
    if (!isOther && sameLatest && wantedPlace_s == place_s && wantedUnits == units
        && (!side || side->frames().size() == framesTaken))
        return;
    side = wantedSide;
    latest = wantedLatest ? std::optional(*wantedLatest) : std::nullopt;
    place_s = wantedPlace_s;
    units = wantedUnits;
    if (isOther)
        begin();
    const auto drawnBefore = framesDrawn;
    takeFrames();
    const auto before = std::tuple(std::move(under), std::move(over), std::move(words));
    layOut();
    if (isOther || framesDrawn != drawnBefore || before != std::tie(under, over, words))
        repaint();
}

/// Whether the side still has the frames that were taken: another one may have been made in its place.
bool DiscFace::isContinued() const {
    return framesTaken == 0
           || (side->frames().size() >= framesTaken
               && isSameFrame(side->frames()[framesTaken - 1], lastTaken));
}

/// Stretches from every frame; rings from the turns that are finished, and from all there is where no stylus is down.
void DiscFace::takeFrames() {
    if (!hasFrames())
        return;
    const auto& frames = side->frames();
    for (; framesTaken < frames.size(); ++framesTaken) {
        const auto state = frames.state(framesTaken);
        if (stretches.empty() || stretches.back().state != state)
            stretches.push_back({state, framesTaken, framesTaken});
        stretches.back().end = framesTaken + 1;
    }
    lastTaken = frames.back();
    const auto& unfinished = side->turns().back();
    const auto whole = latest && latest->state != cut::State::up ? unfinished.firstFrame : frames.size();
    for (; framesDrawn < whole; ++framesDrawn) {
        const auto from = framesDrawn == 0 ? 0 : framesDrawn - 1;
        rings.add(frames[framesDrawn], frames[from].radius_mm);
    }
}

void DiscFace::resized() {
    layOut();
}

// --- Where things are

juce::Path DiscFace::circle(double radius_mm) const {
    return ellipse(middle, snapped(radius_mm * px_per_mm));
}

double DiscFace::radiusAt_mm(juce::Point<float> position) const {
    return px_per_mm > 0 ? static_cast<double>(position.getDistanceFrom(middle)) / px_per_mm : 0;
}

/// Index of the first frame whose sector ends at this radius or further in; the last one where none does.
std::size_t DiscFace::frameAtRadius(double radius_mm) const {
    const auto& frames = side->frames();
    const auto found = frames.firstNot([&](std::size_t i) { return frames.radius_mm(i) > radius_mm; });
    return std::min(found, frames.size() - 1);
}

double DiscFace::placeTime_s() const {
    return place_s ? *place_s : latest ? latest->time_s : hasFrames() ? side->frames().back().time_s : 0;
}

bool DiscFace::isPastProgram() const {
    const auto past = [](cut::State state) {
        return state == cut::State::leadOut || state == cut::State::finishing;
    };
    return latest ? past(latest->state) : hasFrames() && past(side->frames().back().state);
}

/// Where the program ended, or is expected to; nothing before the first estimate.
std::optional<double> DiscFace::endDiameter_mm() const {
    if (isPastProgram() && hasFrames())
        for (auto stretch = stretches.rbegin(); stretch != stretches.rend(); ++stretch)
            if (stretch->state == cut::State::program)
                return 2 * side->frames()[stretch->end - 1].radius_mm;
    const auto frame = latest ? latest : hasFrames() ? std::optional(side->frames().back()) : std::nullopt;
    if (!frame || !std::isfinite(frame->estimate.endDiameter_mm) || !(frame->estimate.endDiameter_mm > 0))
        return {};
    return frame->estimate.endDiameter_mm;
}

int DiscFace::turnCount() const {
    return side ? static_cast<int>(side->turns().size()) : 0;
}

int DiscFace::placeTurn() const {
    if (!hasFrames())
        return 0;
    const auto& turns = side->turns();
    const auto found = std::lower_bound(turns.begin(), turns.end(), placeTime_s(),
                                        [](const auto& turn, double time_s) { return turn.end_s < time_s; });
    return std::min(static_cast<int>(found - turns.begin()) + 1, turnCount());
}

void DiscFace::goToTurn(int turn) {
    if (turnCount() == 0)
        return;
    const auto& row = side->turns()[static_cast<std::size_t>(std::clamp(turn, 1, turnCount()) - 1)];
    goTo((row.start_s + row.end_s) / 2);
}

void DiscFace::goTo(double time_s) {
    if (!hasFrames() || !onPlace)
        return;
    const auto& frames = side->frames();
    onPlace(std::clamp(time_s, frames.front().time_s, frames.back().time_s));
}

// --- The disc

void DiscFace::layOut() {
    under.clear();
    over.clear();
    words.clear();
    px_per_mm = 0;
    const auto area = getLocalBounds().toFloat().reduced(faceMargin);
    if (area.getWidth() < 100 || area.getHeight() < 100)
        return; // not laid out yet
    const auto upright = area.getHeight() > 1.3f * area.getWidth();
    const auto column = juce::jlimit(98.0f, 190.0f, area.getWidth() * 0.3f);
    auto face = area;
    const auto key =
        upright ? face.removeFromBottom(area.getHeight() - area.getWidth()) : face.removeFromRight(column);
    layOutDisc(upright ? face : face.withTrimmedRight(faceMargin));
    layOutEntries(upright ? key.withTrimmedTop(faceMargin) : key);
}

void DiscFace::layOutDisc(juce::Rectangle<float> area) {
    const auto& disc = settings().discFormat();
    constexpr float beside = 4; // for the pointer's head in the lead-in
    const auto size = std::floor(std::min(area.getWidth(), area.getHeight()) - 2 * beside);
    middle = area.withSizeKeepingCentre(size, size).getPosition().roundToInt().toFloat()
             + juce::Point<float>(size / 2, size / 2);
    px_per_mm = static_cast<double>(size) / disc.discDiameter_mm;
    under.push_back({circle(disc.discDiameter_mm / 2), colour(palette::land)});
    over.push_back({stroked(circle(disc.discDiameter_mm / 2 - 0.5 / px_per_mm), 1), colour(palette::line)});
    addGrooves();
    addEnd();
    addLimits();
    addStylus();
    addFlags();
    addLabel();
    std::move(plates.begin(), plates.end(), std::back_inserter(over));
    plates.clear();
}

/// Lead grooves as the spirals they are; a band as a dotted line in a gap.
void DiscFace::addGrooves() {
    for (const auto& stretch : stretches) {
        const auto& frames = side->frames();
        if (stretch.state == cut::State::band) {
            const auto outer_mm = frames[stretch.first].radius_mm,
                       inner_mm = frames[stretch.end - 1].radius_mm;
            const auto ring = circle((outer_mm + inner_mm) / 2);
            over.push_back({stroked(ring, std::max(3.2f, px(outer_mm - inner_mm))), colour(palette::land)});
            over.push_back({dashed(ring, 1.6f, 1.6f, 3.2f), colour(palette::text)});
        }
        if (!isLead(stretch.state))
            continue;
        const auto step = static_cast<std::size_t>(std::max(1, settings().sectors_per_turn / 64));
        juce::Path spiral;
        for (auto i = stretch.first; i < stretch.end; i += step) {
            // A quarter of a turn on from twelve o'clock, where the stylus is; the disc turns clockwise under it.
            const auto angle = static_cast<float>(pi / 2 - 2 * pi * frames[i].turn);
            const auto point = middle.getPointOnCircumference(px(frames[i].radius_mm), angle);
            if (i == stretch.first)
                spiral.startNewSubPath(point);
            else
                spiral.lineTo(point);
        }
        over.push_back({stroked(spiral, 1.3f), colour(palette::quiet)});
    }
}

juce::Colour endColour(double margin_mm, double uncertainty_mm) {
    return colour(margin_mm < 0                ? palette::fault
                  : margin_mm < uncertainty_mm ? palette::caution
                                               : palette::text);
}

/// The estimated end and one standard deviation of it on either side.
void DiscFace::addEnd() {
    const auto end_mm = endDiameter_mm();
    if (!end_mm || isPastProgram())
        return;
    const auto estimate = latest ? latest->estimate : side->frames().back().estimate;
    const auto half_mm = std::abs(estimate.endDiameterUncertainty_mm) / 2;
    const auto paint = endColour(*end_mm - 2 * settings().end_radius_mm, 2 * half_mm);
    const auto half = std::max(3.0f, snapped(half_mm * px_per_mm));
    const auto radius = snapped(*end_mm / 2 * px_per_mm);
    const auto inner = std::max(0.0f, radius - half);
    addLine(over, ellipse(middle, inner), 1, paint);
    addLine(over, ellipse(middle, radius + half), 1, paint);
    over.push_back({hatchedRing(middle, inner, radius + half), paint});
    if (radius >= roomForPlates)
        addPlate("end " + longLength(*end_mm, units), middle.translated(0, -radius), paint);
}

void DiscFace::addLimits() {
    if (!hasFrames())
        over.push_back({stroked(circle(settings().start_radius_mm), 1.2f), colour(palette::quiet)});
    const auto limit = circle(settings().end_radius_mm);
    over.push_back({dashed(limit, 4.4f, 8, 5), colour(palette::bottom)});
    over.push_back({dashed(limit, 2, 8, 5), colour(palette::text)});
    const auto radius = px(settings().end_radius_mm);
    if (radius >= roomForPlates)
        addPlate("limit " + longLength(2 * settings().end_radius_mm, units), middle.translated(0, radius),
                 colour(palette::text));
}

/// The place as a whole turn with a knob; the stylus as a pointer on its way in from the right, and the way left to it.
void DiscFace::addStylus() {
    if (latest && latest->state != cut::State::up) {
        const auto at = middle.translated(snapped(latest->radius_mm * px_per_mm), 0);
        const auto limit = middle.translated(px(settings().end_radius_mm), 0);
        juce::Path left, arm;
        if (at.x - limit.x > 8) {
            left.addLineSegment({at, limit}, 1.2f);
            left.addLineSegment({limit.translated(0, -5), limit.translated(0, 5)}, 1.6f);
            over.push_back({left, colour(palette::quiet)});
        }
        arm.addLineSegment(
            {at.translated(6, 0), middle.translated(px(settings().discFormat().discDiameter_mm / 2), 0)},
            2.4f);
        arm.addTriangle(at, at.translated(11, -6), at.translated(11, 6));
        addFilled(over, arm, colour(palette::good));
    }
    if (!place_s || !hasFrames())
        return;
    const auto& frames = side->frames();
    const auto frame = frames[std::min(side->frameAt(*place_s), frames.size() - 1)];
    addLine(over, circle(frame.radius_mm), 1.4f, colour(palette::text));
    const auto knob =
        middle.getPointOnCircumference(snapped(frame.radius_mm * px_per_mm), static_cast<float>(pi / 4));
    juce::Path square;
    square.addRectangle(juce::Rectangle<float>(9, 9).withCentre(knob));
    addFilled(over, square, colour(palette::text));
}

/// Along a spoke of their own each: crosses for what spoils a side, triangles for cautions. Marks that would touch are one.
void DiscFace::addFlags() {
    if (!hasFrames())
        return;
    for (const auto fault : {false, true}) {
        const auto angle =
            static_cast<float>(fault ? -pi / 4 : -3 * pi / 4); // half past ten, half past seven
        auto last = juce::Point<float>(-1000, -1000);
        for (const auto& turn : side->turns()) {
            if (turn.flags == 0 || cut::spoils(turn.flags) != fault)
                continue;
            const auto radius = snapped((turn.outerRadius_mm + turn.innerRadius_mm) / 2 * px_per_mm);
            const auto at = middle.getPointOnCircumference(radius, angle);
            if (at.getDistanceFrom(last) < markGap)
                continue;
            last = at;
            addFilled(over, fault ? cross(at) : triangleMark(at),
                      colour(fault ? palette::fault : palette::caution));
        }
    }
}

void DiscFace::addLabel() {
    const auto& disc = settings().discFormat();
    const auto diameter_mm = disc.discDiameter_mm < smallDisc_mm ? smallLabel_mm : label_mm;
    over.push_back({circle(diameter_mm / 2), colour(palette::paper)});
    over.push_back({stroked(circle(diameter_mm / 2), 1), colour(palette::line)});
    over.push_back({circle(hole_mm / 2), colour(palette::ground)});
    over.push_back({stroked(circle(hole_mm / 2), 1), colour(palette::quiet)});
    const auto radius = px(diameter_mm / 2);
    auto lines = juce::StringArray::fromTokens(toJuce(disc.name), ",", "");
    lines.trim();
    const auto letters = std::max(smallestText, lettersFor(*this) - 3);
    const auto width = std::max(widthOf(lines[0], letters), widthOf(lines[1], letters));
    const auto away = px(hole_mm / 2) + letters;
    if (lines.size() != 2 || std::hypot(width / 2, away + letters / 2) > radius)
        return;
    for (int i = 0; i < 2; ++i)
        words.push_back({lines[i],
                         juce::Rectangle<float>(width, letters + 3)
                             .withCentre(middle.translated(0, i == 0 ? -away : away)),
                         letters, colour(palette::text), juce::Justification::centred});
}

void DiscFace::addPlate(const std::string& text, juce::Point<float> at, juce::Colour paint) {
    const auto string = toJuce(text);
    const auto letters = std::max(smallestText, lettersFor(*this) - 3);
    const auto area = juce::Rectangle<float>(widthOf(string, letters) + 10, letters + 5).withCentre(at);
    juce::Path plate;
    plate.addRoundedRectangle(area, 3);
    plates.push_back({plate, colour(palette::bottom)});
    plates.push_back({stroked(plate, 1), paint});
    words.push_back({string, area, letters, colour(palette::text), juce::Justification::centred});
}

// --- The key

/// What is most to be known first.
std::vector<DiscFace::Entry> DiscFace::entries() const {
    std::vector<Entry> all;
    addDiscEntries(all);
    addSideEntries(all);
    return all;
}

void DiscFace::addDiscEntries(std::vector<Entry>& all) const {
    using Sample = Entry::Sample;
    const auto text = colour(palette::text);
    const auto limit_mm = 2 * settings().end_radius_mm;
    const auto frame = latest ? latest : hasFrames() ? std::optional(side->frames().back()) : std::nullopt;
    if (const auto end_mm = endDiameter_mm()) {
        const auto uncertainty_mm = frame ? std::abs(frame->estimate.endDiameterUncertainty_mm) : 0;
        const auto past = isPastProgram();
        const auto paint = endColour(*end_mm - limit_mm, past ? 0 : uncertainty_mm);
        all.push_back({past ? Sample::none : Sample::end,
                       past ? "ended at" : "end ± " + longLength(uncertainty_mm, units),
                       longLength(*end_mm, units), paint});
    }
    // The limit is the program's: lead-out and finishing groove lie within it.
    const auto reached_mm = isPastProgram() && endDiameter_mm() ? *endDiameter_mm() / 2
                            : frame                             ? frame->radius_mm
                                                                : settings().start_radius_mm;
    const auto left_mm = reached_mm - settings().end_radius_mm;
    if (left_mm < 0)
        all.push_back({Sample::left, "past the limit", longLength(-left_mm, units), colour(palette::fault)});
    else
        all.push_back({Sample::left, "left", longLength(left_mm, units), text});
    all.push_back({Sample::limit, "limit", longLength(limit_mm, units), text});
    if (!hasFrames())
        all.push_back({Sample::start, "start", longLength(2 * settings().start_radius_mm, units), text});
    if (latest && latest->state != cut::State::up)
        all.push_back(
            {Sample::stylus, "stylus", longLength(2 * latest->radius_mm, units), colour(palette::good)});
}

void DiscFace::addSideEntries(std::vector<Entry>& all) const {
    using Sample = Entry::Sample;
    if (!hasFrames())
        return;
    const auto text = colour(palette::text);
    const auto& frames = side->frames();
    if (place_s)
        all.push_back(
            {Sample::place, "at " + text::minutesTenths(*place_s),
             longLength(2 * frames[std::min(side->frameAt(*place_s), frames.size() - 1)].radius_mm, units),
             text});
    const auto count = [&](bool fault) {
        return std::count_if(side->turns().begin(), side->turns().end(), [&](const TurnRow& turn) {
            return turn.flags != 0 && cut::spoils(turn.flags) == fault;
        });
    };
    if (const auto faults = count(true))
        all.push_back({Sample::fault, "spoilt", text::counted(faults, "turn"), colour(palette::fault)});
    if (const auto cautions = count(false))
        all.push_back(
            {Sample::caution, "flagged", text::counted(cautions, "turn"), colour(palette::caution)});
    if (const auto used_mm = frames.back().estimate.used_mm; used_mm > 0)
        all.push_back({Sample::used, "used", longLength(used_mm, units), text});
    all.push_back({Sample::pitch, "pitch",
                   text::plain(settings().pitch_min_um / (units == Units::metric ? 1 : 25.4)) + " to "
                       + shortLength(settings().pitch_max_um, units, 0),
                   text});
    const auto bands = std::count_if(stretches.begin(), stretches.end(),
                                     [](const Stretch& s) { return s.state == cut::State::band; });
    if (bands > 0)
        all.push_back({Sample::band, bands == 1 ? "band" : "bands", std::to_string(bands), text});
    if (std::any_of(stretches.begin(), stretches.end(), [](const Stretch& s) { return isLead(s.state); }))
        all.push_back({Sample::lead, "lead groove", {}, text});
}

/// As many as there is room for, the rest in the description only.
void DiscFace::layOutEntries(juce::Rectangle<float> area) {
    const auto letters = lettersFor(*this), line = letters + 2;
    const auto gap = letters > smallestText ? letters / 2 : 1;
    const auto columnWidth = std::min(area.getWidth(), 98 + 16 * (letters - smallestText));
    std::string said;
    auto column = area.removeFromLeft(columnWidth);
    for (const auto& entry : entries()) {
        said += (said.empty() ? "" : ", ") + entry.name + (entry.value.empty() ? "" : " " + entry.value);
        const auto height = entry.value.empty() ? line : 2 * line;
        if (column.getHeight() < height && area.getWidth() >= columnWidth)
            column = area.removeFromLeft(columnWidth);
        if (column.getHeight() < height)
            continue;
        auto box = column.removeFromTop(height);
        column.removeFromTop(gap);
        addSample(entry, box.removeFromLeft(sampleWidth).removeFromTop(line));
        box.removeFromLeft(4);
        words.push_back({toJuce(entry.name), box.removeFromTop(line), letters,
                         entry.value.empty() ? entry.paint : colour(palette::quiet)});
        if (!entry.value.empty())
            words.push_back(
                {toJuce(entry.value), box, letters, entry.paint, juce::Justification::centredLeft, true});
    }
    setDescription(
        toJuce("The side from above, " + std::string(settings().discFormat().name) + ": " + said + "."));
}

void DiscFace::addSample(const Entry& entry, juce::Rectangle<float> area) {
    using Sample = Entry::Sample;
    const auto at = area.getCentre();
    const auto left = juce::Point<float>(area.getX(), at.y),
               right = juce::Point<float>(area.getRight(), at.y);
    juce::Path line;
    line.startNewSubPath(left);
    line.lineTo(right);
    switch (entry.sample) {
    case Sample::none:
        break;
    case Sample::limit:
        over.push_back({dashed(line, 2, 6, 3.5f), entry.paint});
        break;
    case Sample::start:
        over.push_back({stroked(line, 1.2f), colour(palette::quiet)});
        break;
    case Sample::end: {
        juce::Path hatch;
        for (auto x = left.x + 1; x < right.x - 2; x += 4)
            hatch.addLineSegment({{x, at.y + 4}, {x + 3, at.y - 4}}, 1.3f);
        for (const auto dy : {-4.5f, 4.5f})
            hatch.addLineSegment({left.translated(0, dy), right.translated(0, dy)}, 1);
        over.push_back({hatch, entry.paint});
        break;
    }
    case Sample::left: {
        juce::Path way;
        way.addLineSegment({left, right}, 1.2f);
        way.addLineSegment({left.translated(0.8f, -5), left.translated(0.8f, 5)}, 1.6f);
        over.push_back({way, entry.paint});
        break;
    }
    case Sample::stylus: {
        juce::Path arm;
        arm.addLineSegment({left.translated(6, 0), right}, 2.4f);
        arm.addTriangle(left, left.translated(10, -5), left.translated(10, 5));
        over.push_back({arm, entry.paint});
        break;
    }
    case Sample::place: {
        juce::Path knob;
        knob.addRectangle(juce::Rectangle<float>(9, 9).withCentre(at));
        knob.addLineSegment({left, right}, 1.4f);
        over.push_back({knob, entry.paint});
        break;
    }
    case Sample::fault:
        over.push_back({cross(at), entry.paint});
        break;
    case Sample::caution:
        over.push_back({triangleMark(at), entry.paint});
        break;
    case Sample::used: {
        juce::Path block;
        block.addRectangle(area.reduced(0, 2));
        over.push_back({block, rings.shadeOf(std::sqrt(settings().pitch_min_um * settings().pitch_max_um))});
        break;
    }
    case Sample::pitch:
        for (int i = 0; i < 4; ++i) {
            juce::Path step;
            step.addRectangle(area.getX() + static_cast<float>(i) * sampleWidth / 4, area.getY() + 2,
                              sampleWidth / 4, area.getHeight() - 4);
            const auto widening = settings().pitch_max_um / settings().pitch_min_um;
            over.push_back({step, rings.shadeOf(settings().pitch_min_um * std::pow(widening, i / 3.0))});
        }
        break;
    case Sample::band:
        over.push_back({dashed(line, 1.6f, 1.6f, 3.2f), entry.paint});
        break;
    case Sample::lead: {
        juce::Path spiral;
        for (int i = 0; i <= 40; ++i) {
            const auto point = at.getPointOnCircumference(7 - static_cast<float>(i) * 0.13f,
                                                          static_cast<float>(-i * 4 * pi / 40));
            if (i == 0)
                spiral.startNewSubPath(point);
            else
                spiral.lineTo(point);
        }
        over.push_back({stroked(spiral, 1.3f), colour(palette::quiet)});
        break;
    }
    }
}

// --- What a person does

std::string DiscFace::textAt(juce::Point<float> position) const {
    const auto radius_mm = radiusAt_mm(position);
    const auto& disc = settings().discFormat();
    if (radius_mm > disc.discDiameter_mm / 2
        || radius_mm < (disc.discDiameter_mm < smallDisc_mm ? smallLabel_mm : label_mm) / 2)
        return {};
    const auto diameter = "diameter " + longLength(2 * radius_mm, units);
    if (!hasFrames() || radius_mm > side->frames().front().radius_mm
        || radius_mm < side->frames().back().radius_mm)
        return "Nothing is cut here, " + diameter;
    const auto frame = side->frames()[frameAtRadius(radius_mm)];
    const auto turn = static_cast<std::size_t>(std::max(1.0, std::ceil(frame.turn - 1e-9)));
    auto text = "Turn " + std::to_string(turn) + ", " + text::minutesTenths(frame.time_s) + ", " + diameter;
    const auto& rows = side->turns();
    const auto row =
        std::find_if(rows.begin(), rows.end(), [&](const TurnRow& r) { return r.end_s >= frame.time_s; });
    for (int bit = 0; row != rows.end() && bit < cut::flagCount; ++bit)
        if (row->flags & static_cast<std::uint16_t>(cut::flagAt(bit)))
            text += ", " + std::string(cut::name(cut::flagAt(bit)));
    return text;
}

juce::String DiscFace::getTooltip() {
    return toJuce(textAt(getMouseXYRelative().toFloat()));
}

void DiscFace::mouseDown(const juce::MouseEvent& event) {
    if (radiusAt_mm(event.position) <= settings().discFormat().discDiameter_mm / 2)
        mouseDrag(event);
}

void DiscFace::mouseDrag(const juce::MouseEvent& event) {
    const auto downAt = event.mouseDownPosition;
    if (hasFrames() && radiusAt_mm(downAt) <= settings().discFormat().discDiameter_mm / 2)
        goTo(side->frames()[frameAtRadius(radiusAt_mm(event.position))].time_s);
}

bool DiscFace::keyPressed(const juce::KeyPress& key) {
    if (!hasFrames())
        return false;
    const auto by = [&](double turns) {
        goTo(placeTime_s() + turns * settings().turn_s());
        return true;
    };
    const auto code = key.getKeyCode();
    if (code == juce::KeyPress::rightKey || code == juce::KeyPress::downKey)
        return by(1);
    if (code == juce::KeyPress::leftKey || code == juce::KeyPress::upKey)
        return by(-1);
    if (code == juce::KeyPress::pageDownKey)
        return by(10);
    if (code == juce::KeyPress::pageUpKey)
        return by(-10);
    if (code == juce::KeyPress::homeKey || code == juce::KeyPress::endKey) {
        goTo(code == juce::KeyPress::homeKey ? side->frames().front().time_s : side->frames().back().time_s);
        return true;
    }
    return false;
}

void DiscFace::focusGained(FocusChangeType) {
    repaint();
}

void DiscFace::focusLost(FocusChangeType) {
    repaint();
}

void DiscFace::paint(juce::Graphics& g) {
    g.setColour(colour(palette::panel));
    g.fillRoundedRectangle(getLocalBounds().toFloat(), faceCorner);
    draw(g, under);
    if (hasFrames() && px_per_mm > 0) {
        const auto size = px(settings().discFormat().discDiameter_mm);
        const auto scale = g.getInternalContext().getPhysicalPixelScaleFactor();
        const auto& image = rings.image(juce::roundToInt(size * scale));
        g.drawImage(image, juce::Rectangle<float>(size, size).withCentre(middle));
    }
    draw(g, over);
    draw(g, words);
    if (hasKeyboardFocus(true)) {
        g.setColour(colour(palette::good));
        g.drawRoundedRectangle(getLocalBounds().toFloat().reduced(1.25f), faceCorner, 2.5f);
    }
}

std::unique_ptr<juce::AccessibilityHandler> DiscFace::createAccessibilityHandler() {
    return std::make_unique<juce::AccessibilityHandler>(
        *this, juce::AccessibilityRole::slider, juce::AccessibilityActions(),
        juce::AccessibilityHandler::Interfaces(std::make_unique<TurnValue>(*this)));
}

} // namespace headland::editor
