// SPDX-License-Identifier: GPL-3.0-or-later
// The groove window: its figures are the patch's, its picture is to scale along and across, every state says in words what it
// is, and the same patch is not painted twice.
#include "Editor/GrooveWindow.h"

#include "Tests/Editor/Views.h"
#include "Tests/Support/Median.h"

#include <ctime>

using namespace headland;
using namespace headland::test;
using Catch::Contains;
using Catch::StartsWith;
using editor::Units;

namespace {

constexpr std::array sizes{std::pair{260, 190}, std::pair{520, 330}, std::pair{900, 700}};

struct Rig {
    explicit Rig(int width = 520, int height = 330) { window.setSize(width, height); }
    void show(const cut::GroovePatch& patch, double landSet_um = 12, Units units = Units::metric) {
        window.show({patch, landSet_um, "At the stylus", {}}, units);
    }
    std::string all() const {
        std::string all;
        for (const auto& text : editor::wordsOf(window.texts()))
            all += text + "|";
        return all;
    }
    std::string description() { return window.getDescription().toStdString(); }
    juce::ScopedJuceInitialiser_GUI juceIsUp;
    editor::GrooveWindow window;
};

struct State {
    const char* name;
    editor::GrooveSight sight;
    const char* says; ///< at every size
};

std::vector<State> states() {
    const auto lifted = patchOf(2000, -2, 2, [](int turn, double along_um) {
        auto groove = swung(turn, along_um, 75, 4);
        if (turn == 0)
            groove.depth_um = 25 - 40 * std::exp(-std::pow((along_um - 40) / 60, 2));
        return groove;
    });
    const auto first = patchOf(2000, 0, 0, [](int, double along_um) {
        return Groove{0, along_um > 1 ? NAN : 25};
    });
    const auto bare = patchOf(500, -1, 1, [](int, double) { return Groove{0, NAN}; });
    const auto leadIn = patchOf(7000, -1, 0, [](int turn, double along_um) {
        return Groove{-1200.0 * turn, turn == 0 && along_um > 1 ? NAN : 25};
    });
    const auto thin = patchOf(
        2000, -2, 2, [](int turn, double along_um) { return swung(turn, along_um, 95, turn == 0 ? 18 : 6); });
    return {
        {"nothing",
         {{}, 12, "At the stylus", "Nothing has been cut yet: lower the stylus."},
         "Nothing has been"},
        {"bare", {bare, 12, "At the stylus", {}}, "Nothing was cut here"},
        {"one turn", {first, 12, "At the stylus", {}}, "o land"},
        {"lead-in", {leadIn, 12, "At the stylus", {}}, "Least land 1150.0 µm"},
        {"silent", {livePatch(62, 0), 12, "At the stylus", {}}, "Least land 12.0 µm"},
        {"loud", {livePatch(160, 24), 12, "At the stylus", {}}, "Least land "},
        {"overcut", {metPatch(9.4), 12, "Overcut at 3:21.0, diameter 262.1 mm", {}}, "Overcut by 9.4 µm"},
        {"lifted", {lifted, 12, "Lifted at 3:21.0, diameter 262.1 mm", {}}, "Lifted"},
        {"thin", {thin, 26, "Thin land at 3:21.0, diameter 262.1 mm", {}}, "Thin land "},
    };
}

juce::Colour shade(std::uint32_t argb) {
    return editor::colour(argb);
}

/// Pixels of this colour down one column of the view, as [first, end) runs.
std::vector<std::pair<int, int>> runsDown(const juce::Image& image, int x, juce::Colour wanted) {
    std::vector<std::pair<int, int>> runs;
    for (int y = 0; y < image.getHeight(); ++y)
        if (image.getPixelAt(x, y) == wanted) {
            if (!runs.empty() && runs.back().second == y)
                ++runs.back().second;
            else
                runs.emplace_back(y, y + 1);
        }
    return runs;
}

} // namespace

TEST_CASE("Shapes stand out from what they lie against") {
    const auto luminance = [](std::uint32_t argb) { // WCAG 2.1, from memory
        const auto linear = [](double v) {
            return v <= 0.03928 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
        };
        const juce::Colour c(argb);
        return 0.2126 * linear(c.getFloatRed()) + 0.7152 * linear(c.getFloatGreen())
               + 0.0722 * linear(c.getFloatBlue());
    };
    for (const auto& [shape, against] : editor::palette::shapePairs) {
        const auto a = luminance(shape) + 0.05, b = luminance(against) + 0.05;
        INFO(std::hex << shape << " against " << against);
        CHECK(std::max(a, b) / std::min(a, b) >= 3);
    }
}

TEST_CASE("Every state of the groove window says what it is, whole, at every size") {
    for (const auto& [width, height] : sizes)
        for (const auto& state : states()) {
            Rig rig(width, height);
            rig.window.show(state.sight, Units::metric);
            INFO(state.name << " " << width);
            checkTexts(rig.window.texts(), rig.window);
            CHECK_THAT(rig.all(), Contains(state.says));
            CHECK(rig.window.getTitle().toStdString() == state.sight.heading);
            CHECK(rig.description().size() > 20);
            keepPicture(rig.window, juce::String("groove ") + state.name);
        }
}

TEST_CASE("The figures of the groove window are the patch's, in both units") {
    Rig rig;
    const auto patch = livePatch(110, 12);
    rig.show(patch);
    const auto land = cut::PatchPlan(patch).narrowestLand(rig.window.scale()->field());
    REQUIRE(land.has_value());
    const auto figure = editor::shortLength(land->value_um, Units::metric);
    CHECK_THAT(rig.all(), Contains("least land " + figure) && Contains("Least land " + figure)
                              && Contains("set land 12.0 µm") && Contains("turn −1"));
    CHECK_THAT(rig.description(), Contains(figure) && Contains("set land 12.0 µm"));
    rig.show(patch, 12, Units::inch);
    CHECK_THAT(rig.all(), Contains("least land " + editor::shortLength(land->value_um, Units::inch))
                              && Contains("set land 0.47 mil") && !Contains("µm"));
}

TEST_CASE("Lands and walls are as many pixels wide as the scale says, the disc's edge below") {
    for (const auto pitch_um : {62.0, 90.0, 150.0}) {
        Rig rig(900, 700);
        rig.show(patchOf(1500, -2, 2, [=](int turn, double) { return Groove{-pitch_um * turn, 25}; }), 0);
        const auto scale = *rig.window.scale();
        const auto image = pictureOf(rig.window);
        const auto x = static_cast<int>(scale.view.right) - 30; // away from the dimension
        const auto lands = runsDown(image, x, shade(editor::palette::land));
        const auto lit = runsDown(image, x, shade(editor::palette::wallLit));
        const auto dark = runsDown(image, x, shade(editor::palette::wallDark));
        INFO(pitch_um);
        REQUIRE(lit.size() >= 3);
        REQUIRE(lit.size() == dark.size());
        for (std::size_t i = 0; i < lit.size(); ++i) { // the inner wall above, the outer, lit one below
            CHECK(dark[i].second <= lit[i].first);
            if (dark[i].first > scale.view.top + 1 && lit[i].second < scale.view.bottom - 1)
                CHECK(lit[i].second - dark[i].first == Approx(50 * scale.px_per_um).margin(2));
            if (i > 0) {
                CHECK(dark[i].first - lit[i - 1].second
                      == Approx((pitch_um - 50) * scale.px_per_um).margin(2));
                CHECK(dark[i].first - dark[i - 1].first == Approx(pitch_um * scale.px_per_um).margin(1.1));
            }
        }
        CHECK(lands.size() >= 2);
    }
}

TEST_CASE("Along the groove the scale is the same, and later is to the right") {
    Rig rig(900, 700);
    rig.show(patchOf(1500, -1, 1,
                     [](int turn, double along_um) { // 104 µm of groove, after the place
                         return Groove{-90.0 * turn, along_um > 5 && along_um < 122 ? 25 : NAN};
                     }),
             0);
    const auto scale = *rig.window.scale();
    const auto image = pictureOf(rig.window);
    const auto y = static_cast<int>(scale.outwardZero_px + 12 * scale.px_per_um); // in the place's outer wall
    int first = -1, end = 0;
    for (int x = static_cast<int>(scale.view.left); x < scale.view.right; ++x)
        if (image.getPixelAt(x, y) == shade(editor::palette::wallLit)) {
            first = first < 0 ? x : first;
            end = x + 1;
        }
    CHECK(first >= scale.alongZero_px);
    CHECK(end - first == Approx(9 * 11.6 * scale.px_per_um).margin(2));
}

TEST_CASE("The scale bar is as long as it says") {
    for (const auto units : {Units::metric, Units::inch}) {
        Rig rig;
        rig.show(livePatch(75, 4), 12, units);
        const auto scale = *rig.window.scale();
        const auto image = pictureOf(rig.window);
        const auto& texts = rig.window.texts();
        const auto bar = std::find_if(texts.begin(), texts.end(), [](const auto& text) {
            return text.area.getY() > 300 && text.text.getFloatValue() > 0;
        });
        REQUIRE(bar != texts.end());
        const auto length_um = bar->text.getDoubleValue() * (units == Units::metric ? 1 : 25.4);
        const auto y = static_cast<int>(bar->area.getCentreY());
        int length_px = 0;
        for (int x = 0; x < static_cast<int>(bar->area.getX()); ++x)
            length_px += image.getPixelAt(x, y) == shade(editor::palette::text);
        CHECK(length_px == Approx(length_um * scale.px_per_um).margin(2));
    }
}

TEST_CASE("An overcut is filled, hatched and named, and nothing else is") {
    Rig rig;
    rig.show(metPatch(9.4));
    CHECK_THAT(rig.all(),
               Contains("overcut by 9.4 µm") && Contains("Overcut by 9.4 µm between the turns −1 and 0"));
    const auto filled = [&] { // left of the dimension and its plate
        const auto image = pictureOf(rig.window);
        const auto& view = rig.window.scale()->view;
        int count = 0;
        for (int y = static_cast<int>(view.top); y < view.bottom; ++y)
            for (int x = static_cast<int>(view.left); x < rig.window.scale()->alongZero_px - 8; ++x)
                count += image.getPixelAt(x, y) == shade(editor::palette::fault);
        return count;
    };
    CHECK(filled() > 30);
    rig.show(metPatch(-3));
    CHECK_THAT(rig.all(), Contains("Thin land 3.0 µm") && !Contains("vercut"));
    CHECK(filled() == 0);
    rig.show(metPatch(-12));
    CHECK_THAT(rig.all(), Contains("Least land 12.0 µm") && !Contains("Thin"));
}

TEST_CASE("The same patch asks for no second paint, another does") {
    Rig rig;
    auto asked = 0;
    rig.window.setCachedComponentImage(new PaintCounter(asked));
    rig.window.setVisible(true);
    rig.show(livePatch(75, 4)); // its later half is NaN
    const auto first = asked;
    CHECK(first > 0);
    rig.show(livePatch(75, 4));
    CHECK(asked == first);
    rig.show(livePatch(75, 4.01));
    CHECK(asked == first + 1);
    rig.show(livePatch(75, 4.01), 13);
    CHECK(asked == first + 2);
    rig.show(livePatch(75, 4.01), 13, Units::inch);
    CHECK(asked == first + 3);
}

TEST_CASE("At the stylus the scale goes in steps and stays while the turns fit") {
    Rig rig;
    rig.show(livePatch(75, 4));
    const auto at = rig.window.scale()->px_per_um;
    CHECK(std::abs(std::remainder(10 * std::log10(at), 1)) < 1e-6);
    rig.show(livePatch(68, 3));
    CHECK(rig.window.scale()->px_per_um == at); // would fit a little larger
    rig.show(livePatch(250, 40));
    const auto small = rig.window.scale()->px_per_um;
    CHECK(small < at);
    rig.show(livePatch(62, 0));
    CHECK(rig.window.scale()->px_per_um > 1.6 * small); // much larger
    for (const auto pitch_um : {75.0, 160.0, 300.0}) {  // and always the three last turns are in view
        const auto patch = livePatch(pitch_um, 10);
        rig.show(patch);
        const auto field = rig.window.scale()->field();
        const cut::PatchPlan plan(patch);
        for (std::size_t turn = 1; turn < 4; ++turn)
            CHECK(field.holds(plan.bottom(turn, plan.placePoint())));
    }
}

TEST_CASE("A paint of the groove window at the stylus is quick", "[.][timing]") {
    Rig rig;
    juce::Image image(juce::Image::RGB, 520, 330, true);
    for (const auto& [name, pitch_um, swing_um] :
         {std::tuple{"quiet", 62.0, 2.0}, std::tuple{"loud", 160.0, 24.0},
          std::tuple{"lead-in", 1200.0, 5.0}}) {
        std::vector<cut::GroovePatch> patches;
        for (int i = 0; i < 200; ++i)
            patches.push_back(livePatch(pitch_um, swing_um + i * 0.01));
        std::vector<double> showing_ms, painting_ms;
        for (const auto& patch : patches) {
            const auto start = std::clock(); // of this process: others may be busy
            rig.show(patch);
            const auto shown = std::clock();
            juce::Graphics g(image);
            rig.window.paint(g);
            const auto painted = std::clock();
            const auto ms = [](std::clock_t ticks) {
                return 1000.0 * static_cast<double>(ticks) / CLOCKS_PER_SEC;
            };
            showing_ms.push_back(ms(shown - start));
            painting_ms.push_back(ms(painted - shown));
        }
        const auto least_ms = *std::min_element(painting_ms.begin(), painting_ms.end());
        WARN(name << ": show " << median(showing_ms) << " ms, paint " << median(painting_ms)
                  << " ms, at least " << least_ms);
        CHECK(least_ms < 2); // undisturbed
    }
}
