// SPDX-License-Identifier: GPL-3.0-or-later
// The finished tool, run as a person or a script would: exit codes, what is said where, and that nothing is left behind
// when it fails or is stopped.

#include "Tests/Console/Tool.h"
#include "Tests/Files/SoundFiles.h"
#include "Tests/Files/TestFolder.h"

#include <catch2/catch.hpp>
#include <juce_graphics/juce_graphics.h>

#include <chrono>
#include <cmath>
#include <fcntl.h>
#include <limits>
#include <pty.h>
#include <thread>

using namespace headland::test;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

namespace {

constexpr int rate_hz = 44100;

/// A sine of this peak in both channels.
juce::AudioBuffer<float> sine(double frequency_hz, double peak, double length_s) {
    juce::AudioBuffer<float> sound(2, static_cast<int>(length_s * rate_hz));
    for (int i = 0; i < sound.getNumSamples(); ++i)
        for (int channel = 0; channel < 2; ++channel)
            sound.setSample(channel, i,
                            static_cast<float>(peak * std::sin(2 * M_PI * frequency_hz * i / rate_hz)));
    return sound;
}

/// A quiet side of a few seconds that can be cut.
std::string quietSide(const TestFolder& folder) {
    writeSound<juce::WavAudioFormat>(folder / "side.wav", sine(400, 0.1, 4), rate_hz, 16);
    return folder / "side.wav";
}

/// Appends a number in the byte order of WAV.
void append(std::string& bytes, std::uint32_t value, int count) {
    for (int i = 0; i < count; ++i)
        bytes += static_cast<char>(value >> (8 * i) & 0xff);
}

/// A mono WAV of silence that takes no room on the disk: a header, and a hole.
std::string silentSide(const TestFolder& folder, int length_s) {
    const auto data_bytes = static_cast<std::uint32_t>(length_s) * rate_hz * 2;
    std::string header = "RIFF";
    append(header, data_bytes + 36, 4);
    header += "WAVEfmt ";
    append(header, 16, 4);
    append(header, 1, 2); // PCM
    append(header, 1, 2); // mono
    append(header, rate_hz, 4);
    append(header, rate_hz * 2, 4);
    append(header, 2, 2);
    append(header, 16, 2);
    header += "data";
    append(header, data_bytes, 4);
    put(folder / "long.wav", header);
    std::filesystem::resize_file(folder / "long.wav", header.size() + data_bytes);
    return folder / "long.wav";
}

int linesOf(const std::string& text) {
    return static_cast<int>(std::count(text.begin(), text.end(), '\n'));
}

/// Waits until the folder holds more than `count` entries: the tool has opened its outputs.
void waitForMore(const TestFolder& folder, long count) {
    for (int tries = 0; folder.count() <= count && tries < 3000; ++tries)
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    REQUIRE(folder.count() > count);
}

/// What the tool writes to a terminal on standard error.
std::string terminalText(const std::vector<std::string>& arguments) {
    int terminal = -1, tool = -1;
    REQUIRE(::openpty(&terminal, &tool, nullptr, nullptr, nullptr) == 0);
    std::string text;
    std::thread reader([&text, terminal] {
        char bytes[4096];
        for (ssize_t count; (count = ::read(terminal, bytes, sizeof bytes)) > 0;)
            text.append(bytes, static_cast<std::size_t>(count));
    });
    {
        ToolRun run(arguments, -1, tool);
        run.wait();
    }
    ::close(tool); // the last one to hold it: the reader comes to the end
    reader.join();
    ::close(terminal);
    return text;
}

} // namespace

TEST_CASE("A side that can be cut: 0, the summary on standard output, nothing on standard error") {
    const TestFolder folder;
    const auto result = runTool({"cut", quietSide(folder)});
    CHECK(result.code == 0);
    CHECK_THAT(result.out,
               StartsWith("Program") && Contains("The side can be cut") && Contains("not a safety system"));
    CHECK(result.err.empty()); // no progress bar in a pipe
    CHECK(folder.count() == 1);
}

TEST_CASE("Asked to be quiet, it prints the verdict line only") {
    const TestFolder folder;
    const auto result = runTool({"cut", "--quiet", quietSide(folder)});
    CHECK(result.code == 0);
    CHECK_THAT(result.out, StartsWith("The side can be cut"));
    CHECK(linesOf(result.out) == 1);
}

TEST_CASE("A side that cannot be cut: 3") {
    const TestFolder folder;
    writeSound<juce::WavAudioFormat>(folder / "loud.wav", sine(30, 1, 6), rate_hz, 16);
    const auto result = runTool({"cut", folder / "loud.wav", "--set", "disc_level_db=10"});
    CHECK(result.code == 3);
    CHECK_THAT(result.out, Contains("The side cannot be cut"));
    CHECK(runTool({"cut", folder / "loud.wav", "--set", "disc_level_db=10", "--quiet"}).code == 3);
}

TEST_CASE("A side too long for the disc: 3, by how much, and the level that fits does fit") {
    const TestFolder folder;
    writeSound<juce::WavAudioFormat>(folder / "loud.wav", sine(60, 0.3, 40), rate_hz, 16);
    const std::vector<std::string> cut{"cut",   folder / "loud.wav", "--set", "end_radius_mm=144",
                                       "--set", "land_min_um=12"};
    const auto result = runTool(cut);
    REQUIRE(result.code == 3);
    REQUIRE_THAT(result.out,
                 Contains("Too long by") && Contains("The whole program fits at a disc level of"));
    const auto level =
        juce::String(result.out).fromFirstOccurrenceOf("at a disc level of ", false, false).getDoubleValue();
    const auto atLevel = [&](double level_db) {
        auto arguments = cut;
        arguments.insert(arguments.end(), {"--quiet", "--set", "disc_level_db=" + std::to_string(level_db)});
        return runTool(arguments);
    };
    CHECK(level < 0);
    CHECK_THAT(atLevel(level).out, !Contains("does not fit"));
    CHECK_THAT(atLevel(level + 0.1).out, Contains("does not fit"));
}

TEST_CASE(
    "A side that runs out of disc: 3, where it was stopped, and nothing cut inside the finishing groove") {
    const TestFolder folder;
    const auto side = silentSide(folder, 600);
    const auto result = runTool({"cut", side, "--set", "start_radius_mm=70", "--csv", folder / "a.csv"});
    CHECK(result.code == 3);
    CHECK_THAT(result.out, Contains("the disc ended at ") && Contains("Too long by      about ")
                               && Contains("finishing groove at 106.4 mm") && !Contains("Estimate"));
    juce::StringArray rows;
    rows.addLines(juce::File(folder / "a.csv").loadFileAsString().trimEnd());
    REQUIRE(rows.size() > 1000);
    CHECK(rows[rows.size() - 1].contains(",finishing,"));
    for (int i = 1; i < rows.size(); ++i)
        REQUIRE(juce::StringArray::fromTokens(rows[i], ",", "")[2].getDoubleValue() >= 52.8);
    const auto lifted = runTool(
        {"cut", side, "--set", "start_radius_mm=70", "--set", "disc_end=lift", "--csv", folder / "b.csv"});
    CHECK(lifted.code == 3);
    CHECK_THAT(lifted.out, Contains("no finishing groove"));
    CHECK(juce::File(folder / "b.csv").loadFileAsString().trimEnd().contains(",program,past-end;disc-end,"));
}

TEST_CASE("When even silence does not fit, no level is said to help") {
    const TestFolder folder;
    const auto result = runTool({"cut", silentSide(folder, 60), "--set", "end_radius_mm=145"});
    CHECK(result.code == 3);
    CHECK_THAT(result.out, Contains("No level helps"));
}

TEST_CASE("Bad input: 2, one sentence each") {
    const TestFolder folder;
    const auto refused = [](std::vector<std::string> arguments) {
        arguments.insert(arguments.begin(), "cut");
        const auto result = runTool(arguments);
        CHECK(result.code == 2);
        CHECK(result.out.empty());
        CHECK(linesOf(result.err) == 1);
        CHECK_THAT(result.err, StartsWith("headland: "));
        return result.err;
    };
    const auto side = quietSide(folder);
    put(folder / "words.wav", "these are words");
    CHECK_THAT(refused({folder / "missing.wav"}), Contains("missing.wav"));
    CHECK_THAT(refused({folder.path().string()}), Contains("folder"));
    CHECK_THAT(refused({folder / "words.wav"}), Contains("words.wav"));
    CHECK_THAT(refused({side, "--preset", "nonesuch"}), Contains("nonesuch"));
    CHECK_THAT(refused({side, "--set", "land=12"}), Contains("'land' is not a setting"));
    CHECK_THAT(refused({side, "--picture", folder / "side.jpg"}), Contains(".svg or .png"));
    CHECK_THAT(refused({side, "--csv", side}), Contains("the same file as the program"));
    CHECK_THAT(refused({side, "--csv", folder / "x", "--json", folder / "x"}),
               Contains("same file as --csv"));
    CHECK(folder.count() == 2);
}

TEST_CASE("All problems are listed at once, of settings, presets, outputs and program") {
    const TestFolder folder;
    const auto result = runTool({"cut", folder / "missing.wav", "--preset", "nonesuch", "--set", "land=12",
                                 "--set", "rpm=fast", "--set", "pitch_min_um=500", "--set", "pitch_max_um=90",
                                 "--picture", folder / "x.gif"});
    CHECK(result.code == 2);
    for (const auto* part : {"missing.wav", "nonesuch", "'land'", "rpm", "pitch_min_um", "x.gif"})
        CHECK_THAT(result.err, Contains(part));
    CHECK(linesOf(result.err) == 6);
}

TEST_CASE("A command line that cannot be understood: 2, --help and --version: 0") {
    CHECK(runTool({}).code == 2);
    CHECK(runTool({"cut"}).code == 2);
    CHECK(runTool({"cut", "a.wav", "--sett", "land_min_um=3"}).code == 2);
    CHECK(runTool({"engrave", "a.wav"}).code == 2);
    const auto help = runTool({"cut", "--help"});
    CHECK(help.code == 0);
    for (const auto* part :
         {"0    ", "2    ", "3    ", "4    ", "130  ", "cannot be cut", "not a safety system"})
        CHECK_THAT(help.out, Contains(part));
    const auto version = runTool({"--version"});
    CHECK(version.code == 0);
    CHECK_THAT(version.out, StartsWith("headland ") && Contains("."));
}

TEST_CASE("An option takes one value only, so that the program can follow it") {
    const TestFolder folder;
    const auto side = quietSide(folder);
    CHECK(runTool({"cut", "--quiet", "--set", "land_min_um=13", side}).code == 0);
    CHECK(runTool({"cut", "--quiet", "--preset", "30cm-45", "--preset", "lathe-nimble", side}).code == 0);
    CHECK(runTool({"cut", side, "--set", "land_min_um=13", "rpm=45"}).code == 2);
    // Nor is a value in brackets taken for a list.
    CHECK_THAT(runTool({"cut", side, "--preset", "[a,b]"}).err, Contains("'[a,b]'"));
    CHECK_THAT(runTool({"cut", side, "--set", "[a=1,b=2]"}).err, Contains("'[a' is not a setting"));
}

TEST_CASE("The lists hold every setting and preset") {
    const auto settings = runTool({"settings"});
    CHECK(settings.code == 0);
    CHECK_THAT(settings.out,
               Contains("land_min_um  (default 12 µm, from 0 to 200)") && Contains("one of 30cm-33"));
    const auto presets = runTool({"presets"});
    CHECK(presets.code == 0);
    CHECK_THAT(presets.out,
               Contains("lathe-sluggish") && Contains("17cm-45") && Contains("Sets format=17cm-45"));
}

TEST_CASE("Outputs are whole: a row for every sector, a report, pictures with ink in them") {
    const TestFolder folder;
    const auto side = quietSide(folder);
    REQUIRE(runTool({"cut", side, "--csv", folder / "a.csv", "--json", folder / "a.json", "--picture",
                     folder / "a.svg"})
                .code
            == 0);
    REQUIRE(runTool({"cut", side, "--quiet", "--picture", folder / "a.png"}).code == 0);
    CHECK(folder.count() == 5); // the side and four outputs, no temporary
    juce::var report;
    REQUIRE(juce::JSON::parse(juce::String::fromUTF8(contentOf(folder / "a.json").c_str()), report).wasOk());
    CHECK(static_cast<double>(report["settings"]["side_length_s"]) == Approx(4)); // taken from the file
    CHECK(linesOf(contentOf(folder / "a.csv")) == 1 + static_cast<int>(report["summary"]["sectors"]));
    CHECK(juce::parseXML(juce::File(folder / "a.svg")) != nullptr);
    const auto image = juce::ImageFileFormat::loadFrom(juce::File(folder / "a.png"));
    REQUIRE(image.isValid());
    auto blue = 0;
    for (int x = 0; x < image.getWidth(); ++x)
        for (int y = 0; y < image.getHeight(); ++y)
            blue += image.getPixelAt(x, y) == juce::Colour(0xff0072b2) ? 1 : 0;
    CHECK(blue > 100);
}

TEST_CASE("The side length is the person's if given, the file's otherwise") {
    const TestFolder folder;
    const auto side = quietSide(folder);
    REQUIRE(runTool({"cut", side, "--json", folder / "a.json", "--set", "side_length_s=0"}).code == 0);
    const auto report = juce::JSON::parse(juce::File(folder / "a.json"));
    CHECK(static_cast<double>(report["settings"]["side_length_s"]) == 0);
}

TEST_CASE("Samples that are no numbers are told, and cut as silence") {
    const TestFolder folder;
    auto sound = sine(400, 0.1, 2);
    sound.setSample(0, rate_hz, std::numeric_limits<float>::quiet_NaN());
    writeSound<juce::WavAudioFormat>(folder / "bad.wav", sound, rate_hz, 32);
    const auto result = runTool({"cut", folder / "bad.wav"});
    CHECK(result.code == 0);
    CHECK_THAT(result.out, Contains("Bad samples      1 sample ") && Contains("0:01.0"));
}

TEST_CASE("An output that cannot be written: 4, before the work starts, nothing left") {
    const TestFolder folder;
    const auto long_s = silentSide(folder, 3600); // cutting it would take seconds
    std::filesystem::create_directory(folder / "out");
    const auto start = std::chrono::steady_clock::now();
    for (const auto& output : {folder / "no/such/a.csv", folder / "out", std::string("/dev/full")}) {
        const auto result = runTool({"cut", long_s, "--json", folder / "a.json", "--csv", output});
        CHECK(result.code == 4);
        CHECK_THAT(result.err, Contains(output));
        CHECK(linesOf(result.err) == 1);
        CHECK(folder.count() == 2);
    }
    CHECK(std::chrono::steady_clock::now() - start < std::chrono::seconds(3));
}

TEST_CASE("A summary that cannot be written is not taken for done: 4") {
    const TestFolder folder;
    const auto side = quietSide(folder);
    const auto full = ::open("/dev/full", O_WRONLY | O_CLOEXEC);
    REQUIRE(full >= 0);
    const auto result = ToolRun({"cut", side}, full).wait();
    ::close(full);
    CHECK(result.code == 4);
    CHECK_THAT(result.err, Contains("standard output"));
}

TEST_CASE("Stopped by a signal: 130, one sentence, no output and no temporary, an older output as it was") {
    for (const auto number : {SIGINT, SIGTERM, SIGHUP}) {
        const TestFolder folder;
        const auto side = silentSide(folder, 5 * 3600); // half a minute of work
        put(folder / "old.csv", "older log");
        ToolRun run({"cut", side, "--csv", folder / "old.csv", "--json", folder / "new.json", "--picture",
                     folder / "new.png"});
        waitForMore(folder, 2);
        run.signal(number);
        const auto start = std::chrono::steady_clock::now();
        const auto result = run.wait();
        CHECK(std::chrono::steady_clock::now() - start < std::chrono::seconds(8));
        CHECK(result.code == 130);
        CHECK(linesOf(result.err) == 1);
        CHECK_THAT(result.err, Contains("Stopped"));
        CHECK(result.out.empty());
        CHECK(folder.count() == 2);
        CHECK(contentOf(folder / "old.csv") == "older log");
    }
}

TEST_CASE("A terminal gets a progress bar, wiped at the end, --quiet gives it none") {
    const TestFolder folder;
    const auto side = silentSide(folder, 120);
    const auto text = terminalText({"cut", side});
    CHECK_THAT(text, Contains("Cutting [") && Contains(" %"));
    CHECK(text.rfind("\r\033[K") == text.size() - 4);
    CHECK(terminalText({"cut", side, "--quiet"}).empty());
}

TEST_CASE("The demo command writes a side that the tool can cut") {
    const TestFolder folder;
    REQUIRE(runTool({"demo", folder / "demo.wav"}).code == 0);
    const auto result = runTool({"cut", folder / "demo.wav", "--quiet"});
    CHECK(result.code == 0);
    CHECK(runTool({"demo", folder / "no/such/demo.wav"}).code == 4);
}
