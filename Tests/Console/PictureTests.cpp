// SPDX-License-Identifier: GPL-3.0-or-later
// The picture: everything on the sheet, no words over other words, names and units there, the curves where their values
// belong, in the SVG and in the PNG made from it.

#include "Console/Picture.h"

#include "Console/PictureTitle.h"
#include "Console/PngPicture.h"
#include "Tests/Console/Drawings.h"
#include "Tests/Log/Frames.h"

#include <catch2/catch.hpp>
#include <ctime>
#include <juce_gui_basics/juce_gui_basics.h>

using namespace headland;
using namespace headland::console;
using namespace headland::test;

namespace {

/// A picture of invented frames, with what it was made from.
struct Drawn {
    Drawn(double length_s, const std::function<void(cut::CutFrame&)>& change = {},
          const std::string& fileName = "side A.wav")
        : series(settings) {
        cut::SummaryBuilder builder(settings);
        for (const auto& frame : inventedSide(settings, length_s, change)) {
            builder.frame(frame);
            series.frame(frame);
        }
        summary = builder.summary();
        drawing = drawPicture({fileName, settings, summary, series.bins()});
    }
    cut::CutSettings settings;
    PictureSeries series;
    cut::CutSummary summary;
    SvgDrawing drawing{1, 1};
};

/// Raises every flag again and again over the side, so that all lanes are full.
void raiseEverything(cut::CutFrame& frame) {
    for (int bit = 0; bit < cut::flagCount; ++bit)
        if (std::fmod(frame.time_s, 3.0 + bit) < 0.2)
            raise(frame, cut::flagAt(bit));
    if (frame.has(cut::Flag::overcut))
        frame.landMin_um = -5;
}

/// The first path with this value of an attribute: the panels are drawn from the top.
const juce::XmlElement* firstPath(const SvgDrawing& drawing, const char* attribute, const char* value) {
    for (const auto* element : elements(drawing, "path"))
        if (element->getStringAttribute(attribute) == value)
            return element;
    return nullptr;
}

/// The path with this stroke that holds the most points.
juce::Path longestPath(const SvgDrawing& drawing, const juce::String& stroke) {
    juce::String data;
    for (const auto* element : elements(drawing, "path"))
        if (element->getStringAttribute("stroke") == stroke
            && element->getStringAttribute("d").length() > data.length())
            data = element->getStringAttribute("d");
    return juce::Drawable::parseSVGPath(data);
}

juce::Image decoded(const std::string& png) {
    juce::MemoryInputStream stream(png.data(), png.size(), false);
    return juce::PNGImageFormat().decodeImage(stream);
}

} // namespace

TEST_CASE("Words are on the sheet and clear of each other, on sides of every kind") {
    const juce::ScopedJuceInitialiser_GUI fonts;
    SECTION("two minutes") {
        checkWords(Drawn(120).drawing);
    }
    SECTION("twenty minutes with every flag") {
        checkWords(Drawn(1200, raiseEverything).drawing);
    }
    SECTION("one second") {
        checkWords(Drawn(1).drawing);
    }
    SECTION("no program at all") {
        checkWords(Drawn(0).drawing);
    }
    SECTION("a name longer than the sheet is wide") {
        checkWords(Drawn(30, {}, std::string(400, 'W')).drawing);
    }
    SECTION("a demand beyond every scale") {
        checkWords(Drawn(30, [](cut::CutFrame& frame) { frame.demand_um = 123456; }).drawing);
    }
}

TEST_CASE("The picture names the side, the verdict, the figures with their units, and the axes") {
    const Drawn drawn(120);
    const auto found = words(drawn.drawing);
    CHECK(found.count("side A.wav") == 1);
    CHECK(found.count(drawn.summary.verdictLine()) == 1);
    CHECK(found.count("pitch, µm per turn (right: lines per inch)") == 1);
    CHECK(found.count("depth, µm") == 1);
    CHECK(found.count("groove diameter, mm") == 1);
    CHECK(found.count("program time at the stylus, min:s") == 1);
    CHECK(found.count("set land, 12 µm") == 1);
    CHECK(found.count("innermost allowed, 120.65 mm") == 1);
    CHECK(found.count("254 lpi") == 1); // beside 100 µm
    CHECK(found.count("1:00") == 1);
    CHECK(found.count("flagged passages: none") == 1);
}

TEST_CASE(
    "Each kind of flag has a lane with its name, its count, and marks of a shape and colour of its own") {
    const Drawn drawn(120, raiseEverything);
    const auto found = words(drawn.drawing);
    for (int bit = 0; bit < cut::flagCount; ++bit)
        CHECK(found.count(std::string(cut::name(cut::flagAt(bit)))) == 1);
    std::set<std::pair<juce::String, int>> kinds; // colour and number of corners
    for (const auto* element : elements(drawn.drawing, "path"))
        if (element->getStringAttribute("stroke-width") == "0.8")
            kinds.insert({element->getStringAttribute("fill"),
                          element->getStringAttribute("d").retainCharacters("LA").length()});
    CHECK(kinds.size() == cut::flagCount);
    const Drawn one(60, [](cut::CutFrame& frame) {
        if (frame.time_s > 30 && frame.time_s < 30.5)
            raise(frame, cut::Flag::narrow);
    });
    CHECK(words(one.drawing).count("narrow") == 1);
    CHECK(words(one.drawing).count("1 passage") == 1);
    CHECK(words(one.drawing).count("overcut") == 0);
}

TEST_CASE(
    "The pitch is to scale: its range stands where the scale says least and greatest are, the mean between") {
    auto odd = false;
    const Drawn drawn(600, [&odd](cut::CutFrame& frame) { frame.pitch_um = (odd = !odd) ? 60 : 180; });
    std::map<int, double> scale; // tick value to place
    for (const auto* element : elements(drawn.drawing, "text"))
        if (element->getStringAttribute("text-anchor") == "end" && element->getDoubleAttribute("y") < 500)
            scale[element->getAllSubText().getIntValue()] = element->getDoubleAttribute("y");
    REQUIRE(scale.count(0) == 1);
    REQUIRE(scale.count(100) == 1);
    const auto perMicrometre = (scale[100] - scale[0]) / 100;
    const auto* range = firstPath(drawn.drawing, "fill", "#56b4e9");
    REQUIRE(range != nullptr);
    const auto pitch = juce::Drawable::parseSVGPath(range->getStringAttribute("d"));
    const auto tickMiddle = 0.35 * 13; // a tick's number stands this much below its line
    const auto top = scale[0] - tickMiddle + perMicrometre * drawn.summary.pitchGreatest_um;
    const auto bottom = scale[0] - tickMiddle + perMicrometre * drawn.summary.pitchLeast_um;
    CHECK(pitch.getBounds().getY() == Approx(top).margin(0.3));
    CHECK(pitch.getBounds().getBottom() == Approx(bottom).margin(0.3));
    const auto* mean = firstPath(drawn.drawing, "stroke", "#0072b2");
    REQUIRE(mean != nullptr);
    CHECK(juce::Drawable::parseSVGPath(mean->getStringAttribute("d")).getBounds().getCentreY()
          == Approx((top + bottom) / 2).margin(2));
}

TEST_CASE("Nothing is drawn outside the sheet, whatever the values") {
    const Drawn drawn(60, [](cut::CutFrame& frame) {
        frame.demand_um = 1e6;
        frame.landMin_um = std::fmod(frame.time_s, 2) < 1 ? 1e5 : -300;
        frame.estimate.endDiameter_mm = -1e4;
    });
    const juce::Rectangle<float> sheet(0, 0, pictureWidth_px, pictureHeight_px);
    for (const auto* element : elements(drawn.drawing, "path"))
        CHECK(sheet.contains(juce::Drawable::parseSVGPath(element->getStringAttribute("d")).getBounds()));
}

TEST_CASE("The lead-out of a short side does not crowd out the program, unless something in it is flagged") {
    const auto lastTick = [](const SvgDrawing& drawing) {
        auto last = 0;
        for (const auto& word : words(drawing))
            if (word.size() == 4 && word[1] == ':')
                last = std::max(last, juce::String(word.substr(2)).getIntValue());
        return last;
    };
    const auto draw = [](std::uint16_t flagsInLeadOut) {
        const cut::CutSettings settings;
        PictureSeries series(settings);
        cut::SummaryBuilder builder(settings);
        for (auto frame : inventedSide(settings, 1)) {
            builder.frame(frame);
            series.frame(frame);
        }
        cut::CutFrame frame = distinctFrame();
        frame.state = cut::State::leadOut;
        for (frame.time_s = 4; frame.time_s < 40; frame.time_s += 0.01) {
            frame.flags = frame.time_s > 20 && frame.time_s < 21 ? flagsInLeadOut : std::uint16_t{0};
            builder.frame(frame);
            series.frame(frame);
        }
        const auto summary = builder.summary();
        return drawPicture({"short.wav", settings, summary, series.bins()});
    };
    CHECK(lastTick(draw(0)) == 2);
    CHECK(lastTick(draw(static_cast<std::uint16_t>(cut::Flag::thinLand))) >= 20);
}

TEST_CASE("The SVG is XML whatever the file's name, and the name comes through") {
    const auto name = std::string("<&>\"' \x01\xff ½.wav");
    const Drawn drawn(5, {}, name);
    const auto xml = juce::parseXML(juce::String::fromUTF8(drawn.drawing.toText().c_str()));
    REQUIRE(xml != nullptr);
    CHECK(xml->hasTagName("svg"));
    CHECK(drawn.drawing.toText().find("&#1;") == std::string::npos); // no XML has such a character
    CHECK(drawn.drawing.toText().find("&#65533;&#65533;") != std::string::npos);
    auto found = false;
    for (const auto* text : xml->getChildWithTagNameIterator("text"))
        found = found || text->getAllSubText().startsWith("<&>\"' ");
    CHECK(found);
}

TEST_CASE("A name of any length is shortened at once, to what there is room for and no more") {
    constexpr double size_px = 24, room_px = 400, boldWider = 1.15;
    for (const std::size_t length : {100, 101, 300'000}) { // a book may hold a name of a million letters
        INFO(length << " letters");
        std::string name;
        while (name.size() < length - 4)
            name += "abcdefghijklm"[name.size() % 13];
        name += ".wav";
        const auto before = std::clock();
        const auto brief = console::shortened(name, size_px, room_px);
        CHECK(static_cast<double>(std::clock() - before) / CLOCKS_PER_SEC < 1);
        const std::string gap = "…";
        const auto half = brief.find(gap);
        REQUIRE(half != std::string::npos);
        CHECK(brief == name.substr(0, half) + gap + name.substr(name.size() - half));
        CHECK(boldWider * console::textWidth_px(brief, size_px) <= room_px);
        const auto longer = name.substr(0, half + 1) + gap + name.substr(name.size() - half - 1);
        CHECK(boldWider * console::textWidth_px(longer, size_px) > room_px);
    }
    CHECK(console::shortened("short.wav", size_px, room_px) == "short.wav");
    CHECK(console::shortened("none fits.wav", size_px, 1) == "…");
}

TEST_CASE("A side of any length makes a drawing of bounded size") {
    CHECK(Drawn(2400, raiseEverything).drawing.toText().size() < 1500000);
}

TEST_CASE("The PNG has the drawing's size and ink where the curves are") {
    const Drawn drawn(120);
    const auto image = decoded(pngBytes(drawn.drawing));
    REQUIRE(image.isValid());
    CHECK(image.getWidth() == pictureWidth_px);
    CHECK(image.getHeight() == pictureHeight_px);
    CHECK(image.getPixelAt(2, 2) == juce::Colours::white);
    const auto curve = longestPath(drawn.drawing, "#0072b2");
    auto inked = 0, points = 0;
    for (juce::PathFlatteningIterator part(curve); part.next(); ++points) {
        const auto pixel =
            image.getPixelAt(juce::roundToInt(part.x2 - 0.5f), juce::roundToInt(part.y2 - 0.5f));
        inked += pixel.getBlue() > pixel.getRed() + 60 ? 1 : 0; // the cut's blue, over whatever lies below
    }
    REQUIRE(points > 500);
    CHECK(inked > 0.95 * points);
    auto dark = 0; // and the words are there: black in the title's place
    for (int x = 124; x < 300; ++x)
        for (int y = 20; y < 45; ++y)
            dark += image.getPixelAt(x, y).getBrightness() < 0.3f ? 1 : 0;
    CHECK(dark > 200);
}
