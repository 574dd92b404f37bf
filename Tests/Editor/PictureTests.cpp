// SPDX-License-Identifier: GPL-3.0-or-later
// Every state of the window as a picture: the figures on it are the frames', and it looks as it did when a person last looked
// at it. The pictures are drawn without a display, at 900 x 600, and kept at half that size in Tests/Editor/Pictures.
// `editor_tests "[draw-pictures]"` draws them anew; look at every one before you keep it.
#include "Tests/Editor/DeskRig.h"
#include "Tests/Files/TestFolder.h"

#include "Log/BookNotes.h"
#include "Log/BookWriter.h"
#include "Log/CutRecorder.h"

#include <catch2/catch.hpp>

#include <array>
#include <cmath>
#include <functional>

using namespace headland;
using Catch::Matchers::Contains;
using test::DeskRig;
using test::StagedCut;

namespace {

constexpr int width = 900, height = 600;

juce::File folder() {
    return juce::File(HEADLAND_ROOT).getChildFile("Tests/Editor/Pictures");
}

/// Quiet, then a loud passage with a lot of bass and some of it out of phase.
test::Program quietThenLoud(double loud_s, double amplitude, double end_s) {
    auto program = test::silence(end_s);
    test::addTone(program, 0.5, end_s - 1, 440, 0.03);
    test::addTone(program, 2, 3, 180, 0.06, 1, 0.3);
    test::addTone(program, loud_s, std::min(3.0, end_s - loud_s), 62, amplitude, 1, 0.8);
    test::addTone(program, loud_s + 0.4, 1.2, 130, amplitude / 3, 1, -0.4);
    return program;
}

cut::CutSettings hasty() {
    cut::CutSettings settings;
    settings.preview_s = 0.45;
    settings.pitch_slew_um_per_rev_s = 90;
    return settings;
}

/// What is on the desk, and what must be kept for it.
struct Scene {
    std::unique_ptr<StagedCut> cut;
    std::unique_ptr<test::TestFolder> books;
    std::unique_ptr<DeskRig> rig = std::make_unique<DeskRig>(true, width, height);

    void stage(const cut::CutSettings& settings, test::Program program, double time_s) {
        cut = std::make_unique<StagedCut>(settings, std::move(program));
        cut->runTo(time_s);
        rig->access.staged = cut.get();
        rig->access.glimpse = cut->glimpse();
    }
    void look() {
        for (int i = 0; i < 3; ++i) // a patch is looked up once a place stands still
            rig->desk().refresh();
    }
};

/// A side that is whole, in a book, and opened for review.
Scene review(const cut::CutSettings& settings, const test::Program& program) {
    Scene scene;
    scene.books = std::make_unique<test::TestFolder>();
    const auto path = *scene.books / "lantern.headland";
    {
        log::BookWriter writer(path);
        log::CutHead head;
        head.side = {"Lantern Sessions", "A"};
        head.madeBy = "headland cut";
        head.settings = settings;
        head.sampleRate_hz = program.rate_hz;
        head.preview = "own delay";
        log::CutRecorder recorder(writer, head);
        cut::CutEngine engine;
        engine.prepare(settings, program.rate_hz);
        engine.process(program.left.data(), program.right.data(), static_cast<int>(program.length()),
                       recorder);
        engine.finish(recorder);
        recorder.end({"finished", false, recorder.frames(), 0, NAN});
        if (!writer.flush(std::chrono::seconds(30)))
            throw std::runtime_error("the book was not written");
    }
    log::addNote(path, 1, {8.6, "listen to the drum here", "2031-03-14T09:26:53.589Z"});
    log::addNote(path, 1, {3.2, "", "2031-03-14T09:26:54.000Z"});
    scene.rig->desk().review(path, 1);
    return scene;
}

Scene midway(cut::CutSettings settings, test::Program program, double time_s) {
    Scene scene;
    settings.side_length_s = static_cast<double>(program.length()) / program.rate_hz;
    scene.stage(settings, std::move(program), time_s);
    return scene;
}

struct State {
    const char* name;
    std::function<Scene()> make;
    const char* said; ///< stands in what is wrong or what to do next
};

const std::vector<State>& states() {
    static const std::vector<State> all{
        {"nothing loaded", [] { return Scene(); }, "Open a program file to cut it"},
        {"set-up refused",
         [] {
             Scene scene;
             scene.rig->access.glimpse.problems = {"land_min_um is -4 µm; it must lie between 0 and 200 µm."};
             return scene;
         },
         "Caution: The stylus stays up"},
        {"lead-in", [] { return midway({}, quietThenLoud(12, 0.3, 20), -1.2); }, "The stylus is down"},
        {"quiet program", [] { return midway({}, quietThenLoud(40, 0.3, 44), 30); }, "Nothing is wrong."},
        {"loud passage arriving", [] { return midway({}, quietThenLoud(12, 0.35, 20), 11.1); },
         "Nothing is wrong."},
        {"shortfall flagged", [] { return midway(hasty(), quietThenLoud(9, 0.22, 14), 9.15); },
         "Caution: A demand came too late"},
        {"overcut", [] { return midway(hasty(), quietThenLoud(9, 0.6, 14), 9.6); },
         "Scrap: Two turns have met"},
        {"lead-out", [] { return midway({}, quietThenLoud(6, 0.3, 10), 10.6); }, "The stylus is down"},
        {"side finished", [] { return midway({}, quietThenLoud(6, 0.3, 10), 1e9); }, "Notice: "},
        {"log trouble",
         [] {
             auto scene = midway({}, quietThenLoud(12, 0.3, 20), 10);
             scene.rig->access.glimpse.troubles = {"The disk of lantern.headland is full: 412 sectors wait "
                                                   "in memory; make room, and they are written."};
             return scene;
         },
         "Fault: The disk of lantern.headland is full"},
        {"host without preview",
         [] {
             auto scene = midway({}, quietThenLoud(12, 0.3, 20), 4);
             scene.rig->access.glimpse.cautions = {
                 "The second head is to make the preview, but the host gives no second input: connect one, "
                 "or set Preview "
                 "from to the processor's own delay, which makes it meanwhile."};
             return scene;
         },
         "the host gives no second input"},
        {"mono",
         [] {
             auto program = test::silence(16);
             test::addTone(program, 1, 14, 110, 0.2);
             return midway({}, std::move(program), 10);
         },
         "Nothing is wrong."},
        {"review of a clean side", [] { return review({}, quietThenLoud(12, 0.3, 20)); },
         "Reviewing: cut 1 of lantern.headland"},
        {"review of a scrapped side", [] { return review(hasty(), quietThenLoud(9, 0.6, 14)); },
         "Reviewing: Scrap: it overcuts at 0:10.8"},
    };
    return all;
}

juce::File fileOf(const State& state) {
    return folder().getChildFile(juce::String(state.name).replaceCharacter(' ', '-') + ".png");
}

/// Smaller by a whole factor, every point the mean of those it stands for.
juce::Image smaller(const juce::Image& picture, int factor) {
    juce::Image result(juce::Image::RGB, picture.getWidth() / factor, picture.getHeight() / factor, false);
    const juce::Image::BitmapData from(picture, juce::Image::BitmapData::readOnly);
    juce::Image::BitmapData to(result, juce::Image::BitmapData::writeOnly);
    for (int y = 0; y < result.getHeight(); ++y)
        for (int x = 0; x < result.getWidth(); ++x) {
            std::array<int, 3> sum{};
            for (int dy = 0; dy < factor; ++dy)
                for (int dx = 0; dx < factor; ++dx) {
                    const auto point = from.getPixelColour(x * factor + dx, y * factor + dy);
                    sum[0] += point.getRed();
                    sum[1] += point.getGreen();
                    sum[2] += point.getBlue();
                }
            const auto mean = [&](std::size_t channel) {
                return static_cast<juce::uint8>(sum[channel] / (factor * factor));
            };
            to.setPixelColour(x, y, juce::Colour(mean(0), mean(1), mean(2)));
        }
    return result;
}

juce::Image half(const juce::Image& picture) {
    return smaller(picture, picture.getWidth() / (width / 2));
}

/// How far two pictures are apart: the mean difference of a channel, 0 to 255, and the share of points that differ much.
struct Difference {
    double mean, share;
    bool isSmall() const { return mean < 1.2 && share < 0.01; }
};

Difference differenceOf(const juce::Image& a, const juce::Image& b) {
    if (a.getBounds() != b.getBounds())
        return {255, 1};
    constexpr int much = 40;
    double sum = 0, different = 0;
    for (int y = 0; y < a.getHeight(); ++y)
        for (int x = 0; x < a.getWidth(); ++x) {
            const auto p = a.getPixelAt(x, y), q = b.getPixelAt(x, y);
            const auto d = std::abs(p.getRed() - q.getRed()) + std::abs(p.getGreen() - q.getGreen())
                           + std::abs(p.getBlue() - q.getBlue());
            sum += d / 3.0;
            different += d > much ? 1 : 0;
        }
    const auto points = static_cast<double>(a.getWidth()) * a.getHeight();
    return {sum / points, different / points};
}

juce::Image load(const State& state) {
    return juce::ImageFileFormat::loadFrom(fileOf(state)).convertedToFormat(juce::Image::RGB);
}

} // namespace

TEST_CASE("Every state looks as it did when it was last looked at, and unlike every other", "[picture]") {
    for (const auto& state : states()) {
        auto scene = state.make();
        scene.look();
        const auto picture = half(scene.rig->picture());
        INFO(state.name);
        CHECK_THAT(scene.rig->part<editor::SentenceList>("wrong").shown(), Contains(state.said));
        for (const auto& other : states()) {
            const auto kept = load(other);
            REQUIRE(kept.isValid());
            const auto difference = differenceOf(picture, kept);
            INFO("against the kept picture of '" << other.name << "': mean " << difference.mean << ", share "
                                                 << difference.share);
            CHECK(difference.isSmall() == (&other == &state));
        }
    }
}

TEST_CASE("The figures on the picture are those of the frame under the stylus", "[picture]") {
    for (const auto index : {3u, 4u, 6u, 11u}) {
        const auto& state = states()[index];
        auto scene = state.make();
        scene.look();
        const auto& frame = scene.cut->frames().back();
        const auto figure = [&](const char* name) {
            return scene.rig->part<editor::FigureTile>(name).shown().value;
        };
        INFO(state.name);
        CHECK(figure("Pitch") == editor::shortLength(frame.pitch_um, editor::Units::metric));
        CHECK(figure("Depth") == editor::shortLength(frame.depth_um, editor::Units::metric));
        CHECK(figure("Width") == editor::shortLength(frame.widthMin_um, editor::Units::metric));
        CHECK(figure("Land") == editor::shortLength(frame.landMin_um, editor::Units::metric));
        CHECK(figure("Radius") == editor::longLength(frame.radius_mm, editor::Units::metric, 2));
        scene.rig->desk().showIn(editor::Units::inch);
        CHECK(figure("Pitch") == editor::shortLength(frame.pitch_um, editor::Units::inch));
        CHECK(figure("Radius") == editor::longLength(frame.radius_mm, editor::Units::inch, 2));
    }
}

TEST_CASE("At any size and scale the picture is the same, only larger", "[picture]") {
    const auto coarse = [](const juce::Image& picture) { // so that finer letters and hairlines do not count
        return smaller(picture, picture.getWidth() / (width / 10));
    };
    const auto apart = [&](const juce::Image& a, const juce::Image& b) {
        return differenceOf(coarse(a), coarse(b)).mean;
    };
    constexpr double most = 3.5; // of 255
    std::vector<juce::Image> smalls;
    for (const auto index : {0u, 4u, 13u}) {
        const auto& state = states()[index];
        auto scene = state.make();
        scene.look();
        auto& window = *scene.rig->window;
        const auto small = smalls.emplace_back(scene.rig->picture());
        INFO(state.name);
        for (const auto& [w, h] : {std::pair{1350, 900}, std::pair{1800, 1200}}) {
            window.setSize(w, h);
            REQUIRE(scene.rig->picture().getWidth() == w);
            CHECK(apart(scene.rig->picture(), small) < most);
        }
        window.setSize(width, height);
        for (const auto scale : {1.5f, 2.0f}) { // as on a screen with so many pixels to a point
            const auto picture = window.createComponentSnapshot(window.getLocalBounds(), true, scale);
            REQUIRE(picture.getWidth() == juce::roundToInt(width * scale));
            CHECK(apart(picture, small) < most);
        }
    }
    CHECK(apart(smalls[0], smalls[1]) > 2 * most);
    CHECK(apart(smalls[1], smalls[2]) > 2 * most);
}

TEST_CASE("Draws the pictures anew", "[.][draw-pictures]") {
    folder().createDirectory();
    for (const auto& state : states()) {
        auto scene = state.make();
        scene.look();
        const auto file = fileOf(state);
        file.deleteFile();
        juce::FileOutputStream out(file);
        REQUIRE(juce::PNGImageFormat().writeImageToStream(half(scene.rig->picture()), out));
        if (const auto* whole = std::getenv("HEADLAND_PICTURES_WHOLE")) { // to be looked at
            const auto large = juce::File(juce::String(whole)).getChildFile(file.getFileName());
            large.deleteFile();
            juce::FileOutputStream outLarge(large);
            REQUIRE(juce::PNGImageFormat().writeImageToStream(scene.rig->picture(), outLarge));
        }
    }
}
