// SPDX-License-Identifier: GPL-3.0-or-later
// The picture of a place: to one scale along and across, its figures the patch's own and its dimension lines as long as they
// say, an overcut marked by shape, nothing where nothing was cut, no word over another or over a line.
#include "Console/GroovePicture.h"

#include "Console/PngPicture.h"
#include "Cut/PatchPlan.h"
#include "Groove/Geometry.h"
#include "Tests/Console/Drawings.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <functional>
#include <numbers>

using namespace headland;
using namespace headland::console;
using namespace headland::test;

namespace {

constexpr double radius_um = 146000;
const juce::String lit = "#56b4e9", dark = "#0072b2", overcutColour = "#d55e00", black = "#000000";

/// Where a turn's groove is: µm from the start radius, of a 90° V.
struct Groove {
    double centre_um = 0, depth_um = 25, left_um = 0, right_um = 0;
};

/// A patch of five turns, `half_um` long to either side, a point each 4 µm.
cut::GroovePatch patchOf(double half_um, const std::function<Groove(int turn, double along_um)>& groove) {
    cut::GroovePatch patch;
    patch.time_s = 96;
    patch.startRadius_mm = radius_um / 1000;
    patch.step_rad = 4 / radius_um;
    patch.points = static_cast<std::size_t>(2 * std::lround(half_um / 4) + 1);
    for (int turn = -2; turn <= 2; ++turn) {
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

/// Turns of this pitch; the right wall swings, the more the later the turn.
cut::GroovePatch swinging(double half_um, double pitch_um, double swing_um) {
    return patchOf(half_um, [=](int turn, double along_um) {
        const auto wave = std::sin(2 * std::numbers::pi * along_um / 300 + turn);
        return Groove{-pitch_um * turn, 25.0 + turn, 0.3 * swing_um * wave, swing_um * wave};
    });
}

/// Turns that meet by as much as `by_um` in the middle; by 20 µm, between 60 µm on either side of it.
cut::GroovePatch meeting(double half_um, double by_um, double middle_um = 0) {
    return patchOf(half_um, [=](int turn, double along_um) {
        const auto away = (along_um - middle_um) / 60;
        const auto bulge_um = turn == 0 ? std::max(0.0, 12 + by_um - 20 * away * away) : 0.0;
        return Groove{-62.0 * turn, 25, 0, bulge_um / groove::sqrt2};
    });
}

struct Drawn {
    explicit Drawn(const cut::GroovePatch& p, const std::string& name = "side.wav",
                   const std::string& source = "edges kept in the log")
        : patch(p), drawing(drawGroovePicture({name, settings, patch, source})) {}
    cut::CutSettings settings;
    const cut::GroovePatch& patch;
    SvgDrawing drawing;

    bool says(const std::string& text) const { return words(drawing).contains(text); }
    /// The one text that begins so.
    std::string textThatBegins(const std::string& start) const {
        for (const auto& text : words(drawing))
            if (text.starts_with(start))
                return text;
        return {};
    }
    double px_per_um() const {
        for (const auto* bar : elements(drawing, "rect"))
            if (bar->getDoubleAttribute("height") == 8 && bar->getStringAttribute("fill") == black)
                for (const auto& text : words(drawing))
                    if (text.ends_with("along and across"))
                        return bar->getDoubleAttribute("width") / std::stod(text);
        return 0;
    }
    /// Bounds of the paths with these paints, in order.
    std::vector<juce::Rectangle<float>> paths(const juce::String& fill, const juce::String& stroke,
                                              const juce::String& width) const {
        std::vector<juce::Rectangle<float>> found;
        for (const auto* path : elements(drawing, "path"))
            if (path->getStringAttribute("fill") == fill && path->getStringAttribute("stroke") == stroke
                && path->getStringAttribute("stroke-width") == width)
                found.push_back(juce::Drawable::parseSVGPath(path->getStringAttribute("d")).getBounds());
        return found;
    }
    /// Edges: of each turn the outer, then the inner one.
    std::vector<juce::Rectangle<float>> edges() const { return paths("none", black, "1.2"); }
    std::vector<juce::Line<float>> lines(const juce::String& width) const {
        std::vector<juce::Line<float>> found;
        for (const auto* line : elements(drawing, "line"))
            if (line->getStringAttribute("stroke") == black
                && line->getStringAttribute("stroke-width") == width)
                found.emplace_back(static_cast<float>(line->getDoubleAttribute("x1")),
                                   static_cast<float>(line->getDoubleAttribute("y1")),
                                   static_cast<float>(line->getDoubleAttribute("x2")),
                                   static_cast<float>(line->getDoubleAttribute("y2")));
        return found;
    }
    /// Whether an upright dimension line is this long.
    bool hasDimension(double length_um) const {
        for (const auto& line : lines("1.6"))
            if (line.getStartX() == line.getEndX()
                && std::abs(line.getLength() - length_um * px_per_um()) < 0.21)
                return true;
        return false;
    }
};

/// No text on a dimension, witness or leader line, and no dimension on another.
void checkLines(const Drawn& drawn) {
    const auto upright = drawn.lines("1.6");
    for (std::size_t i = 0; i < upright.size(); ++i)
        for (std::size_t j = 0; j < i; ++j) {
            const auto &a = upright[i], &b = upright[j];
            if (std::abs(a.getStartX() - b.getStartX()) > 10 || std::abs(a.getEndX() - a.getStartX()) > 0
                || std::abs(b.getEndX() - b.getStartX()) > 0)
                continue;
            INFO("at " << a.getStartX() << ": " << a.getStartY() << " and " << b.getStartY());
            CHECK(std::min(a.getEndY(), b.getEndY()) <= std::max(a.getStartY(), b.getStartY()) + 0.05f);
        }
    for (const auto* width : {"1", "1.6"})
        for (const auto& line : drawn.lines(width))
            for (const auto* text : elements(drawn.drawing, "text")) {
                INFO(text->getAllSubText()
                     << " and a line of " << width << " at " << line.getStartX() << " " << line.getStartY());
                CHECK_FALSE(boxOf(*text).intersects(line));
            }
}

juce::Image decoded(const std::string& png) {
    juce::MemoryInputStream stream(png.data(), png.size(), false);
    return juce::PNGImageFormat().decodeImage(stream);
}

std::string micrometres(double value_um) {
    const auto tenths = std::lround(std::abs(value_um) * 10);
    return std::string(value_um < 0 ? "−" : "") + std::to_string(tenths / 10) + "."
           + std::to_string(tenths % 10) + " µm";
}

} // namespace

TEST_CASE("Lands and grooves are drawn to the scale of the bar, along as across") {
    for (const auto pitch_um : {62.0, 150.0, 400.0}) {
        const auto patch = patchOf(3000, [=](int turn, double along_um) { // grooves of 200 µm in length
            return Groove{-pitch_um * turn, std::abs(along_um) < 101 ? 25.0 : std::nan("")};
        });
        const Drawn drawn(patch);
        const auto scale = drawn.px_per_um();
        INFO(pitch_um);
        REQUIRE(scale > 0.2);
        const auto edges = drawn.edges();
        REQUIRE(edges.size() == 10);
        CHECK(edges[4].getWidth() == Approx(200 * scale).margin(0.25)); // along
        CHECK(edges[5].getWidth() == Approx(200 * scale).margin(0.25));
        CHECK(edges[4].getY() - edges[5].getY() == Approx(50 * scale).margin(0.25)); // across: the width
        const auto land_um = cut::PatchPlan(patch).land_um(2, patch.points / 2);
        CHECK(land_um == Approx(pitch_um - 50).margin(0.02));
        CHECK(edges[3].getY() - edges[4].getY()
              == Approx(land_um * scale).margin(0.25)); // the land before it
        // The turn before lies further out, which is below: seen from above, with the way of the cut to the right.
        CHECK(edges[2].getY() > edges[4].getY());
        CHECK(edges[4].getY() > edges[6].getY());
    }
}

TEST_CASE("Later is to the right") {
    const auto patch = patchOf(400, [](int turn, double along_um) {
        return Groove{-62.0 * turn, along_um > 0 ? 25.0 : std::nan("")};
    });
    const Drawn drawn(patch);
    for (const auto& edge : drawn.edges())
        CHECK(edge.getX() >= (190 + 1576) / 2); // the middle of the view
    CHECK(drawn.says("the way of the cut"));
    CHECK(drawn.says("outward, to the edge of the disc"));
}

TEST_CASE("The walls are of two shades, the bottom half way between the edges") {
    const auto patch = swinging(150, 70, 6);
    const Drawn drawn(patch);
    const auto outer = drawn.paths(lit, {}, {}), inner = drawn.paths(dark, {}, {});
    const auto bottom = drawn.paths("none", "#ffffff", "1.6");
    const auto plan = cut::PatchPlan(patch);
    REQUIRE(outer.size() == 5);
    REQUIRE(inner.size() == 5);
    REQUIRE(bottom.size() == 5);
    for (std::size_t turn = 1; turn < 4; ++turn) {
        auto least = 1e9, most = -1e9;
        for (std::size_t point = 0; point < patch.points; ++point) {
            least = std::min(least, plan.bottom(turn, point).outward_um);
            most = std::max(most, plan.bottom(turn, point).outward_um);
        }
        CHECK(bottom[turn].getHeight() == Approx((most - least) * drawn.px_per_um()).margin(0.3));
        CHECK(outer[turn].getBottom() > bottom[turn].getBottom()); // outward is below
        CHECK(inner[turn].getY() < bottom[turn].getY());
        CHECK(outer[turn].getY() == Approx(bottom[turn].getY()).margin(0.3));
        CHECK(inner[turn].getBottom() == Approx(bottom[turn].getBottom()).margin(0.3));
    }
}

TEST_CASE("The figures are the patch's, and every dimension line is as long as it says") {
    for (const auto pitch_um : {75.0, 110.0}) {
        auto patch = swinging(140, pitch_um, 8);
        patch.turns.erase(patch.turns.begin()); // three turns, all in view
        patch.turns.pop_back();
        const Drawn drawn(patch);
        const cut::PatchPlan plan(patch);
        const auto land_um = plan.narrowestLand()->value_um;
        const auto width_um = plan.narrowestGroove()->value_um;
        const auto place = patch.points / 2;
        INFO(pitch_um);
        CHECK(drawn.says("least land " + micrometres(land_um)));
        CHECK(drawn.says("narrowest groove " + micrometres(width_um)));
        CHECK(drawn.says("spacing " + micrometres(plan.spacing_um(1, place))));
        CHECK(drawn.says("depth " + micrometres(plan.depth_um(1, place)) + ", bottom to edge"));
        for (const auto length_um : {land_um, width_um, plan.spacing_um(1, place), plan.depth_um(1, place)}) {
            INFO(length_um << " µm");
            CHECK(drawn.hasDimension(length_um));
        }
        CHECK_THAT(drawn.textThatBegins("Least land here "),
                   Catch::StartsWith("Least land here " + micrometres(land_um) + " between the turns "));
    }
}

TEST_CASE(
    "The title says where and how: file, time, radius, format, level, where the edges come from, set land") {
    const auto patch = swinging(400, 75, 3);
    const Drawn drawn(patch);
    CHECK(drawn.says("side.wav"));
    CHECK(drawn.says(
        "1:36.000 at the stylus; radius 146.00 mm, diameter 292.0 mm; 30 cm, 33 1/3 rpm; disc level "
        "0.0 dB; edges kept in the log"));
    CHECK_THAT(drawn.textThatBegins("Least land here "), Catch::EndsWith("; set land 12 µm"));
    CHECK(drawn.says("turn 0, the place"));
    CHECK(drawn.says("turn −1"));
    CHECK(drawn.says("turn 1"));
    const auto heightOf = [&](const std::string& word) {
        for (const auto* text : elements(drawn.drawing, "text"))
            if (text->getAllSubText() == juce::String::fromUTF8(word.c_str()))
                return text->getDoubleAttribute("y");
        return -1.0;
    };
    const auto line_px = heightOf("1:36.000") - heightOf("turn 0, the place");
    CHECK(line_px == Approx(15));
    CHECK(heightOf("1:34.200") - heightOf("turn −1") == line_px); // a turn of 1.8 s before
    CHECK(heightOf("1:37.800") - heightOf("turn 1") == line_px);
    CHECK(heightOf("turn −1") > heightOf("turn 1"));
}

TEST_CASE("An overcut is hatched and outlined where the grooves have met, and there only") {
    const auto patch = meeting(300, 20);
    const Drawn drawn(patch);
    const auto scale = drawn.px_per_um();
    const auto met = drawn.paths(overcutColour, black, "2.4");
    REQUIRE(met.size() == 1);
    CHECK(met[0].getWidth() == Approx(120 * scale).margin(1)); // zero of the parabola at 60 µm either side
    CHECK(met[0].getHeight() == Approx(20 * scale).margin(0.5));
    const auto hatch = drawn.lines("1.2");
    CHECK(hatch.size() > 10);
    auto inside = 0;
    for (const auto& line : hatch)
        inside += met[0].expanded(0.2f).contains(line.getStart()) ? 1 : 0;
    CHECK(inside > 10);
    CHECK(inside >= static_cast<int>(hatch.size()) - 5); // the others are the key's
    CHECK(drawn.says("overcut: land −20.0 µm"));
    CHECK(drawn.says("overcut: two grooves have met"));
    CHECK(drawn.hasDimension(20));
    CHECK_THAT(drawn.textThatBegins("Overcut by "),
               Catch::StartsWith("Overcut by 20.0 µm between the turns −1 and 0, at 1:36.000; set land"));
    const auto apart = meeting(300, -3);
    const Drawn none(apart);
    CHECK(none.paths(overcutColour, black, "2.4").empty());
    CHECK(none.lines("1.2").empty());
    CHECK(none.says("least land 3.0 µm"));
    CHECK_FALSE(none.says("overcut: two grooves have met"));
}

TEST_CASE("The view reaches to an overcut further along") {
    const auto patch = meeting(1200, 20, 900);
    const Drawn drawn(patch);
    const auto met = drawn.paths(overcutColour, black, "2.4");
    REQUIRE(met.size() == 1);
    CHECK(met[0].getRight() < 1576);
    CHECK(drawn.says("overcut: land −20.0 µm"));
}

TEST_CASE(
    "The view ends with the patch's last turns, so that turns it does not know are not taken for land") {
    const auto viewOf = [](const Drawn& drawn) {
        for (const auto* box : elements(drawn.drawing, "rect"))
            if (box->getStringAttribute("fill") == "#efebe0")
                return juce::Rectangle<double>(box->getDoubleAttribute("x"), box->getDoubleAttribute("y"),
                                               box->getDoubleAttribute("width"),
                                               box->getDoubleAttribute("height"));
        return juce::Rectangle<double>();
    };
    auto patch = swinging(1200, 40, 0);
    const Drawn drawn(patch);
    const auto all = viewOf(drawn);
    CHECK(all.getBottom() == Approx(drawn.edges()[0].getBottom() + 6).margin(0.2));
    CHECK(all.getY() == Approx(drawn.edges()[9].getY() - 6).margin(0.2));
    for (auto& edge :
         patch.turns.front().edges) // the side begins with the next: there is nothing further out
        edge = cut::noEdge;
    const auto first = viewOf(Drawn(patch));
    CHECK(first.getBottom() == Approx(900));
    CHECK(first.getY() > 134 + 20);
    const auto shortPatch = swinging(100, 62, 0);
    const Drawn narrow(shortPatch);
    CHECK(viewOf(narrow).getWidth() == Approx(200 * narrow.px_per_um()).margin(1));
}

TEST_CASE("Nothing is drawn where nothing was cut") {
    const auto gap = [](double along_um) { return along_um > 40 && along_um < 120; };
    const auto patch = patchOf(300, [&](int turn, double along_um) {
        return Groove{-62.0 * turn, gap(along_um) || turn == 1 ? std::nan("") : 25.0};
    });
    const Drawn drawn(patch);
    const auto edges = drawn.edges();
    CHECK(edges.size() == 4 * 2 * 2); // four turns in two pieces each
    const auto middle = (190 + 1576) / 2;
    for (const auto& fill : {lit, dark})
        for (const auto& wall : drawn.paths(fill, {}, {}))
            CHECK((wall.getRight() <= middle + 40 * drawn.px_per_um() + 0.3
                   || wall.getX() >= middle + 119 * drawn.px_per_um()));
    CHECK(drawn.textThatBegins("turn 1").empty());
    const auto bare = patchOf(300, [](int, double) { return Groove{.depth_um = std::nan("")}; });
    const Drawn nothing(bare);
    CHECK(nothing.says("Nothing was cut here; set land 12 µm"));
    CHECK(nothing.edges().empty());
    CHECK(nothing.paths(lit, {}, {}).empty());
    CHECK(nothing.textThatBegins("least land").empty());
    const auto lifted = patchOf(300, [](int turn, double along_um) { // out of the disc for a while
        return Groove{-62.0 * turn, turn == 0 && std::abs(along_um) < 50 ? -1.0 : 25.0};
    });
    CHECK(Drawn(lifted).edges().size() == 5 * 2 + 2);
}

TEST_CASE("Words are clear of each other and of the lines, whatever the patch") {
    const juce::ScopedJuceInitialiser_GUI fonts;
    const auto check = [](const cut::GroovePatch& patch) {
        const Drawn drawn(patch);
        checkWords(drawn.drawing, 10);
        checkLines(drawn);
    };
    SECTION("plain turns") {
        check(swinging(1200, 62, 0));
    }
    SECTION("turns that swing") {
        for (const auto pitch_um : {70.0, 100.0, 250.0})
            check(swinging(1200, pitch_um, 9));
    }
    SECTION("an overcut at the place and beside it") {
        for (const auto middle_um : {0.0, 30.0, -200.0, 1100.0})
            check(meeting(1200, 20, middle_um));
    }
    SECTION("turns as far apart as in a lead-in") {
        check(swinging(1200, 1200, 5));
    }
    SECTION("turns all on top of each other") {
        check(swinging(1200, 3, 1));
    }
    SECTION("a patch as short as a groove is wide, or of one point") {
        check(swinging(40, 62, 2));
        check(swinging(0, 62, 2));
    }
    SECTION("nothing at all") {
        check(patchOf(100, [](int, double) { return Groove{.depth_um = std::nan("")}; }));
        check({});
    }
    SECTION("names longer than the sheet is wide") {
        const auto patch = swinging(1200, 70, 5);
        const Drawn drawn(patch, std::string(400, 'W'), "edges from " + std::string(300, 'W') + ".wav");
        checkWords(drawn.drawing);
        CHECK_THAT(drawn.textThatBegins("1:36.000 at the stylus"), Catch::EndsWith(".wav"));
    }
}

TEST_CASE("The PNG of a place decodes, with lands and both walls in their colours") {
    const auto patch = swinging(400, 75, 3);
    const Drawn drawn(patch);
    const auto image = decoded(pngBytes(drawn.drawing));
    REQUIRE(image.isValid());
    CHECK(image.getWidth() == pictureWidth_px);
    CHECK(image.getHeight() == pictureHeight_px);
    const auto at = [&](const juce::Rectangle<float>& box) { return juce::roundToInt(box.getCentreY()); };
    const auto x = juce::roundToInt(drawn.edges()[4].getX()) + 60; // away from labels
    const auto colour = [&](int y) {
        return image.getPixelAt(std::max(x, 260), y).toDisplayString(false).toLowerCase();
    };
    CHECK(colour(at(drawn.paths(lit, {}, {})[2])) == lit.substring(1));
    CHECK(colour(at(drawn.paths(dark, {}, {})[2])) == dark.substring(1));
    CHECK(colour((at(drawn.edges()[3]) + at(drawn.edges()[4])) / 2) == "efebe0");
    for (const auto* fill : {&lit, &dark}) // what lies beyond the view is covered
        CHECK(image.getPixelAt(1582, at(drawn.paths(*fill, {}, {})[2])) == juce::Colours::white);
    CHECK(image.getPixelAt(300, 134 - 8) == juce::Colours::white);
}
