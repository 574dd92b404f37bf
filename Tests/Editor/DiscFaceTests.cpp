// SPDX-License-Identifier: GPL-3.0-or-later
// The disc face: rings where the frames say, diameters that are the format's, a click that comes back to its turn, keys, words
// for every state, and nothing painted twice.
#include "Editor/DiscFace.h"
#include "Text/Figures.h"
#include "Text/Times.h"

#include "Tests/Editor/Views.h"

#include <memory>

using namespace headland;
using namespace headland::test;
using Catch::Contains;
using cut::State;
using editor::Units;

namespace {

constexpr std::array sizes{std::pair{260, 190}, std::pair{520, 330}, std::pair{900, 700},
                           std::pair{300, 620}};

struct Rig {
    explicit Rig(int width = 900, int height = 700) {
        face.setSize(width, height);
        face.onPlace = [this](double time_s) { places.push_back(time_s); };
    }
    std::string all() const {
        std::string all;
        for (const auto& text : editor::wordsOf(face.texts()))
            all += text + "|";
        return all;
    }
    std::string description() { return face.getDescription().toStdString(); }
    juce::Point<float> at(double radius_mm, float angle = 2) const {
        return face.centre().getPointOnCircumference(static_cast<float>(radius_mm * face.scale_px_per_mm()),
                                                     angle);
    }
    juce::MouseEvent mouse(juce::Point<float> where, juce::Point<float> downAt) {
        return {juce::Desktop::getInstance().getMainMouseSource(),
                where,
                {},
                0,
                0,
                0,
                0,
                0,
                &face,
                &face,
                {},
                downAt,
                {},
                1,
                where != downAt};
    }
    void click(juce::Point<float> where) { face.mouseDown(mouse(where, where)); }

    juce::ScopedJuceInitialiser_GUI juceIsUp;
    editor::DiscFace face;
    std::vector<double> places;
};

/// Mid-side: quiet, a loud passage, quiet, a band, medium; a turn's length thin, another overcut: two turns each.
std::unique_ptr<SideMaker> midSide() {
    auto side = std::make_unique<SideMaker>();
    side->leadIn();
    side->cut(State::program, 120, 75);
    side->flag(cut::Flag::thinLand, 1, 90);
    side->cut(State::program, 60, [](double share) { return 75 + 225 * std::sin(3.14159 * share); });
    side->cut(State::program, 60, 80);
    side->cut(State::band, 1, 800);
    side->flag(cut::Flag::overcut, 1, 110);
    side->cut(State::program, 50.5, 110);
    return side;
}

std::unique_ptr<SideMaker> wholeSide() {
    auto side = midSide();
    side->cut(State::program, 300, 130);
    side->cut(State::leadOut, 2.5, 6400);
    side->cut(State::finishing, 1, 0.0);
    return side;
}

std::unique_ptr<SideMaker> overrun() {
    auto side = std::make_unique<SideMaker>();
    side->leadIn();
    side->endDiameter_mm = 117.2;
    side->uncertainty_mm = 0.4;
    side->cut(State::program, 600, 144.5);
    return side;
}

std::unique_ptr<SideMaker> firstTurn() {
    auto side = std::make_unique<SideMaker>();
    side->cut(State::leadIn, 0.8, 1200);
    return side;
}

struct Case {
    const char* name;
    std::unique_ptr<SideMaker> side;
    bool isDown;
    std::optional<double> place_s;
    const char *says, *alsoSays;
};

std::vector<Case> states() {
    std::vector<Case> all;
    all.push_back({"nothing", nullptr, false, {}, "limit|120.7 mm", "start|292.6 mm"});
    all.push_back({"one turn", firstTurn(), true, {}, "stylus|293.7 mm", "left|86.5 mm"});
    all.push_back({"mid-side", midSide(), true, {}, "end ± 3.6 mm|152.4 mm", "limit|120.7 mm"});
    all.push_back({"looking back", midSide(), true, 300.0, "at 5:00.0|", "spoilt|2 turns"});
    auto risky = midSide();
    risky->endDiameter_mm = 121.9;
    risky->cut(State::program, 1, 110);
    all.push_back({"may not fit", std::move(risky), true, {}, "end ± 3.6 mm|121.9 mm", "limit|"});
    all.push_back({"whole side", wholeSide(), false, {}, "ended at|147.7 mm", "left|13.5 mm"});
    all.push_back({"overrun", overrun(), true, {}, "past the limit|", "end ± 0.4 mm|117.2 mm"});
    return all;
}

juce::Colour shade(std::uint32_t argb) {
    return editor::colour(argb);
}

} // namespace

TEST_CASE("Every state of the disc face is said in words, whole, at every size") {
    for (const auto& [width, height] : sizes)
        for (const auto& state : states()) {
            Rig rig(width, height);
            const auto* side = state.side ? &state.side->history : nullptr;
            rig.face.show(side, side && state.isDown ? &state.side->last() : nullptr, state.place_s,
                          Units::metric);
            INFO(state.name << " " << width);
            checkTexts(rig.face.texts(), rig.face);
            CHECK_THAT(rig.all(), Contains(state.says) && Contains(state.alsoSays));
            CHECK_THAT(rig.description(), Contains("The side from above, 30 cm, 33 1/3 rpm"));
            keepPicture(rig.face, juce::String("disc ") + state.name);
        }
}

TEST_CASE("The disc face has the figures in both units and every format's diameters") {
    Rig rig;
    const auto side = midSide();
    rig.face.show(&side->history, &side->last(), {}, Units::metric);
    CHECK_THAT(rig.all(),
               Contains("stylus|" + editor::longLength(2 * side->last().radius_mm, Units::metric))
                   && Contains("used|" + editor::longLength(side->last().estimate.used_mm, Units::metric))
                   && Contains("left|" + editor::longLength(side->last().estimate.left_mm, Units::metric))
                   && Contains("flagged|2 turns") && Contains("spoilt|2 turns") && Contains("band|1"));
    rig.face.show(&side->history, &side->last(), {}, Units::inch);
    CHECK_THAT(rig.all(), Contains("limit|4.750 in") && Contains("end ± 0.142 in|6.000 in"));
    for (int i = 0; i < 5; ++i) {
        Rig empty;
        cut::CutSettings settings;
        settings.applyFormat(i);
        empty.face.setFormat(settings);
        CHECK_THAT(empty.all(),
                   Contains("limit|" + editor::longLength(2 * settings.end_radius_mm, Units::metric)));
        CHECK_THAT(empty.description(), Contains(std::string(settings.discFormat().name)));
        CHECK(empty.face.scale_px_per_mm() * settings.discFormat().discDiameter_mm == Approx(676).margin(1));
    }
}

TEST_CASE("Rings lie at their radii, in the shade of their pitch") {
    Rig rig;
    SideMaker side;
    side.leadIn();
    side.cut(State::program, 200, 75); // 15 mm
    side.cut(State::program, 50, 300); // 15 mm
    rig.face.show(&side.history, nullptr, {}, Units::metric);
    const auto image = pictureOf(rig.face);
    const auto pixel = [&](double radius_mm) {
        const auto at = rig.at(radius_mm);
        return image.getPixelAt(static_cast<int>(at.x), static_cast<int>(at.y));
    };
    const auto alike = [](juce::Colour a, juce::Colour b) {
        return std::abs(a.getRed() - b.getRed()) < 4 && std::abs(a.getGreen() - b.getGreen()) < 4
               && std::abs(a.getBlue() - b.getBlue()) < 4;
    };
    const auto& rings = rig.face.turnRings();
    for (const auto into_mm : {1.0, 7.0, 14.0}) {
        CHECK(alike(pixel(146.3 - into_mm), rings.shadeOf(75)));
        CHECK(alike(pixel(146.3 - 15 - into_mm), rings.shadeOf(300)));
        CHECK(pixel(146.3 - 30 - into_mm) == shade(editor::palette::land));
    }
    CHECK_FALSE(alike(rings.shadeOf(75), rings.shadeOf(300)));
    // Where the cut ends, to a pixel, at many angles.
    for (float angle = 0.1f; angle < 6.2f; angle += 0.37f) {
        const auto isCut = [&](double radius_mm) {
            const auto at = rig.at(radius_mm, angle);
            return alike(image.getPixelAt(static_cast<int>(at.x), static_cast<int>(at.y)),
                         rings.shadeOf(300));
        };
        const auto pixel_mm = 1.6 / rig.face.scale_px_per_mm();
        CHECK(isCut(116.3 + pixel_mm));
        CHECK_FALSE(isCut(116.3 - pixel_mm));
    }
}

TEST_CASE("The limit is a dashed circle at its radius") {
    Rig rig;
    rig.face.show(nullptr, nullptr, {}, Units::metric);
    const auto image = pictureOf(rig.face);
    int on = 0, off = 0, beside = 0;
    for (float angle = 0; angle < 3.1f; angle += 0.005f) { // but for its plate at the bottom
        if (angle > 2.5f)
            break;
        const auto is = [&](double radius_mm) {
            const auto at = rig.at(radius_mm, angle);
            return image.getPixelAt(static_cast<int>(at.x), static_cast<int>(at.y)).getBrightness() > 0.7f;
        };
        (is(60.325) ? on : off)++;
        beside += is(60.325 + 2) || is(60.325 - 2);
    }
    CHECK(on > 200);
    CHECK(off > 100);
    CHECK(beside == 0);
}

TEST_CASE("A click comes back to the time of its turn, a drag follows, off the disc nothing happens") {
    for (const auto& [width, height] : sizes) {
        Rig rig(width, height);
        const auto side = wholeSide();
        rig.face.show(&side->history, nullptr, {}, Units::metric);
        const auto& frames = side->history.frames();
        for (const auto i : {std::size_t{1000}, frames.size() / 3, frames.size() / 2}) {
            rig.places.clear();
            rig.click(rig.at(frames[i].radius_mm));
            REQUIRE(rig.places.size() == 1);
            CHECK(std::abs(rig.places[0] - frames[i].time_s) <= side->settings.turn_s());
            rig.face.mouseDrag(rig.mouse(rig.at(100, 5), rig.at(frames[i].radius_mm)));
            REQUIRE(rig.places.size() == 2);
            CHECK(side->history.frames()[side->history.frameAt(rig.places[1])].radius_mm
                  == Approx(100).margin(0.2));
        }
        rig.places.clear();
        rig.click({1, 1});
        rig.face.mouseDrag(rig.mouse(rig.at(100), {1, 1}));
        CHECK(rig.places.empty());
    }
    Rig empty;
    empty.click(empty.at(100));
    CHECK(empty.places.empty());
}

TEST_CASE("Keys go a turn, ten turns, to the beginning and to the end") {
    Rig rig;
    const auto side = wholeSide();
    const auto& frames = side->history.frames();
    const auto press = [&](int key, std::optional<double> from_s) {
        rig.places.clear();
        rig.face.show(&side->history, nullptr, from_s, Units::metric);
        REQUIRE(rig.face.keyPressed(juce::KeyPress(key)));
        REQUIRE(rig.places.size() == 1);
        return rig.places[0];
    };
    const auto turn_s = side->settings.turn_s();
    using juce::KeyPress;
    CHECK(press(KeyPress::rightKey, 100) == Approx(100 + turn_s));
    CHECK(press(KeyPress::downKey, 100) == Approx(100 + turn_s));
    CHECK(press(KeyPress::leftKey, 100) == Approx(100 - turn_s));
    CHECK(press(KeyPress::upKey, 100) == Approx(100 - turn_s));
    CHECK(press(KeyPress::pageDownKey, 100) == Approx(100 + 10 * turn_s));
    CHECK(press(KeyPress::pageUpKey, 100) == Approx(100 - 10 * turn_s));
    CHECK(press(KeyPress::pageUpKey, 1) == frames.front().time_s);
    CHECK(press(KeyPress::homeKey, 100) == frames.front().time_s);
    CHECK(press(KeyPress::endKey, 100) == frames.back().time_s);
    CHECK(press(KeyPress::leftKey, {}) == Approx(frames.back().time_s - turn_s));
    CHECK_FALSE(rig.face.keyPressed(juce::KeyPress('x')));
    Rig empty;
    CHECK_FALSE(empty.face.keyPressed(juce::KeyPress(KeyPress::rightKey)));
}

TEST_CASE("Under the mouse are turn, time, diameter and what was flagged") {
    Rig rig;
    const auto side = midSide();
    rig.face.show(&side->history, &side->last(), {}, Units::metric);
    const auto& turns = side->history.turns();
    const auto& row = turns[99];
    const auto radius_mm = (row.outerRadius_mm + row.innerRadius_mm) / 2;
    const auto text = rig.face.textAt(rig.at(radius_mm));
    CHECK_THAT(text,
               Contains("Turn 100, ") && Contains(", diameter " + text::fixed(2 * radius_mm, 1) + " mm"));
    CHECK_THAT(text, Contains(text::minutesTenths((row.start_s + row.end_s) / 2).substr(0, 3)));
    const auto flagged = std::find_if(turns.begin(), turns.end(), [](const auto& t) { return t.flags != 0; });
    CHECK_THAT(rig.face.textAt(rig.at((flagged->outerRadius_mm + flagged->innerRadius_mm) / 2)),
               Contains("thin-land"));
    CHECK(rig.face.textAt(rig.at(70)) == "Nothing is cut here, diameter 140.0 mm");
    CHECK(rig.face.textAt(rig.at(30)).empty());
    CHECK(rig.face.textAt({1, 1}).empty());
}

TEST_CASE("The same side asks for no second paint, and a new turn draws its own ring only") {
    Rig rig;
    int asked = 0;
    rig.face.setVisible(true);
    rig.face.setCachedComponentImage(new PaintCounter(asked));
    SideMaker side;
    side.leadIn();
    side.cut(State::program, 200, 75);
    const auto show = [&] { rig.face.show(&side.history, &side.last(), {}, Units::metric); };
    show();
    const auto first = asked;
    CHECK(first > 0);
    show();
    CHECK(asked == first);
    side.cut(State::program, 1.0 / 256, 75); // 0.3 µm: nothing to be seen, and no more to be painted
    show();
    CHECK(asked == first);
    rig.face.setCachedComponentImage(nullptr);
    pictureOf(rig.face);
    const auto all = rig.face.turnRings().pixelsDrawn();
    CHECK(all > 300000);
    side.cut(State::program, 1, 75);
    show();
    pictureOf(rig.face);
    const auto more = rig.face.turnRings().pixelsDrawn() - all;
    CHECK(more > 1000);
    CHECK(more < 12000); // of 2100 around
}

TEST_CASE("Rings added turn by turn are the rings of a whole side") {
    const auto side = midSide();
    Rig atOnce, grown;
    atOnce.face.show(&side->history, nullptr, {}, Units::metric);
    editor::SideHistory history(side->settings);
    const auto& all = side->history.frames();
    const std::vector<cut::CutFrame> frames(all.begin(), all.end());
    for (std::size_t i = 0; i < frames.size(); i += 700) {
        const auto count = std::min<std::size_t>(700, frames.size() - i);
        history.add(std::span(frames).subspan(i, count));
        grown.face.show(&history, i + count < frames.size() ? &frames[i + count - 1] : nullptr, {},
                        Units::metric);
        pictureOf(grown.face);
    }
    const auto a = pictureOf(atOnce.face), b = pictureOf(grown.face);
    int differ = 0;
    for (int y = 0; y < a.getHeight(); ++y)
        for (int x = 0; x < a.getWidth(); ++x)
            differ += std::abs(a.getPixelAt(x, y).getRed() - b.getPixelAt(x, y).getRed()) > 2;
    CHECK(differ == 0);
}

TEST_CASE("A new cut begins with an empty disc") {
    Rig rig;
    const auto side = midSide();
    rig.face.show(&side->history, nullptr, {}, Units::metric);
    const auto full = pictureOf(rig.face);
    SideMaker other;
    other.leadIn();
    rig.face.show(&other.history, &other.last(), {}, Units::metric);
    const auto at = rig.at(140);
    const auto x = static_cast<int>(at.x), y = static_cast<int>(at.y);
    CHECK(full.getPixelAt(x, y) != shade(editor::palette::land));
    CHECK(pictureOf(rig.face).getPixelAt(x, y) == shade(editor::palette::land));
}

TEST_CASE("A longer cut made in the place of another one is not taken for its continuation") {
    Rig rig;
    const auto quiet = midSide();
    const auto loud = overrun();
    auto side = std::make_unique<editor::SideHistory>(quiet->settings);
    const auto& frames = quiet->history.frames();
    side->add(std::vector<cut::CutFrame>(frames.begin(), frames.end()));
    rig.face.show(side.get(), nullptr, {}, Units::metric);
    *side = loud->history;
    rig.face.show(side.get(), nullptr, {}, Units::metric);
    Rig fresh;
    fresh.face.show(&loud->history, nullptr, {}, Units::metric);
    const auto at = rig.at(130); // in the quiet one's loud passage
    const auto x = static_cast<int>(at.x), y = static_cast<int>(at.y);
    CHECK(pictureOf(rig.face).getPixelAt(x, y) == pictureOf(fresh.face).getPixelAt(x, y));
}

TEST_CASE("For who hears the window the disc face is a slider of turns") {
    Rig rig;
    const auto side = midSide();
    rig.face.show(&side->history, &side->last(), 100.0, Units::metric);
    const auto handler = rig.face.createAccessibilityHandler();
    CHECK(handler->getRole() == juce::AccessibilityRole::slider);
    auto* value = handler->getValueInterface();
    REQUIRE(value != nullptr);
    const auto turn = static_cast<int>(std::ceil(100 / side->settings.turn_s() + 1.25));
    CHECK(value->getCurrentValue() == turn);
    CHECK(value->getCurrentValueAsString() == "turn " + juce::String(turn));
    CHECK(value->getRange().getMaximumValue() == static_cast<double>(side->history.turns().size()));
    value->setValue(turn + 5);
    REQUIRE(rig.places.size() == 1);
    CHECK(rig.places[0] == Approx(100 + 5 * side->settings.turn_s()).margin(side->settings.turn_s()));
    CHECK(rig.face.getWantsKeyboardFocus());
}
