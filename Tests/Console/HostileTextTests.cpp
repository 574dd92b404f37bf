// SPDX-License-Identifier: GPL-3.0-or-later
// Names and texts from outside that steer a terminal, forge a line, turn the direction of writing or are no text at all, sent
// through every command: nothing that the tool says or writes carries them on. Read back by others: jq for JSON (RFC 8259),
// xmllint for SVG (XML 1.0), Miller for CSV (RFC 4180).

#include "Files/Json.h"
#include "Tests/Console/Tool.h"
#include "Tests/Files/SoundFiles.h"
#include "Tests/Files/TestFolder.h"
#include "Text/Safe.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <sstream>

using namespace headland::test;
using Catch::Matchers::Contains;

namespace {

/// Escape and BEL, a line feed with a forged line behind it, CSI of one character, an override of the direction, a
/// noncharacter, a byte that is no UTF-8.
const std::string hostile = "a\x1b[2J\a\nheadland: forged\xc2\x9b\xe2\x80\xae\xef\xbf\xbe\xff";

/// A quiet side under a hostile name.
std::string hostileSide(const TestFolder& folder) {
    constexpr int rate_hz = 44100;
    juce::AudioBuffer<float> sound(2, 3 * rate_hz);
    for (int i = 0; i < sound.getNumSamples(); ++i)
        for (int channel = 0; channel < 2; ++channel)
            sound.setSample(channel, i, static_cast<float>(0.05 * std::sin(2 * M_PI * 400 * i / rate_hz)));
    writeSound<juce::WavAudioFormat>(folder / "side.wav", sound, rate_hz, 16);
    std::filesystem::rename(folder / "side.wav", folder / (hostile + ".wav"));
    return folder / (hostile + ".wav");
}

/// Every line is safe, and none is the forged one.
void requireSafe(const std::string& text) {
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
        INFO(line);
        CHECK(headland::text::printable(line) == line);
        CHECK_THAT(line, !Catch::Matchers::StartsWith("headland: forged"));
    }
}

/// Runs the tool and looks at what it says.
ToolResult run(const std::vector<std::string>& arguments) {
    const auto result = runTool(arguments);
    INFO(arguments.front() << " " << result.code);
    requireSafe(result.out);
    requireSafe(result.err);
    return result;
}

/// One sentence on standard error, exit code 2.
std::string refusal(const std::vector<std::string>& arguments) {
    const auto result = run(arguments);
    INFO(result.err);
    CHECK(result.code == 2);
    CHECK(result.out.empty());
    CHECK(std::count(result.err.begin(), result.err.end(), '\n') == 1);
    return result.err;
}

/// Whether another program takes what a file holds; under a name that a shell takes too.
bool takes(const std::string& command, const std::string& path) {
    const TestFolder folder;
    std::filesystem::copy_file(path, folder / "written");
    return std::system((command + " '" + (folder / "written") + "' > /dev/null 2>&1").c_str()) == 0;
}

bool isJson(const std::string& path) {
    return takes("jq -e .", path);
}
bool isXml(const std::string& path) {
    return takes("xmllint --noout", path);
}
bool isCsv(const std::string& path) {
    return takes("mlr --icsv --ojson cat", path);
}

} // namespace

TEST_CASE("Hostile names through cut, review and note", "[hostile]") {
    const TestFolder folder;
    const auto side = hostileSide(folder), at = folder / hostile, book = at + ".headland";
    const auto cut = run({"cut", side, "--csv", at + ".csv", "--json", at + ".json", "--picture", at + ".svg",
                          "--book", book, "--job", hostile, "--side", hostile});
    REQUIRE(cut.code == 0);
    CHECK_THAT(cut.out, Contains("forged")); // it was there, and did no harm
    CHECK(run({"cut", side, "--picture", at + ".png"}).code == 0);
    CHECK(run({"note", book, "1", hostile}).code == 0);
    CHECK(run({"note", book, "1", hostile, "--at", "0:01"}).code == 0);
    CHECK(run({"review", book}).code == 0);
    const auto review = run({"review", book, "1", "--csv", at + "2.csv", "--json", at + "2.json", "--picture",
                             at + "2.svg", "--groove", "0:01", at + "3.svg"});
    INFO(review.err);
    REQUIRE(review.code == 0);
    for (const auto* end : {".csv", "2.csv"})
        CHECK(isCsv(at + end));
    for (const auto* end : {".svg", "2.svg", "3.svg"})
        CHECK(isXml(at + end));
    for (const auto* end : {".json", "2.json"}) {
        CHECK(isJson(at + end));
        requireSafe(contentOf(at + end));
    }
    const auto report = headland::files::readJson(contentOf(at + "2.json"));
    CHECK(report["book"]["notes"].size() == 2);
    CHECK(report["book"]["job"] == headland::text::printable(hostile));
}

TEST_CASE("Hostile names through fit, tune and demo", "[hostile]") {
    const TestFolder folder;
    const auto side = hostileSide(folder), at = folder / hostile;
    for (const auto* command : {"fit", "tune"}) {
        const auto result = run({command, side, "--json", at + ".json", "--picture", at + ".svg", "--book",
                                 at + ".headland", "--job", hostile});
        INFO(result.err);
        CHECK(result.code == 0);
        CHECK(isJson(at + ".json"));
        CHECK(isXml(at + ".svg"));
        requireSafe(contentOf(at + ".json"));
    }
    CHECK(run({"review", at + ".headland"}).code == 0);
    CHECK(run({"demo", at + "-demo.wav"}).code == 0);
    CHECK(run({"demo", folder / (hostile + "/none.wav")}).code == 4);
}

TEST_CASE("Hostile texts are refused in one line", "[hostile]") {
    const TestFolder folder;
    const auto side = hostileSide(folder), at = folder / hostile;
    refusal({"cut", at});
    refusal({"cut", folder.path().string() + "/" + hostile + "/side.wav"});
    refusal({"cut", side, "--set", hostile});
    refusal({"cut", side, "--set", hostile + "=1"});
    refusal({"cut", side, "--set", "land_min_um=" + hostile});
    refusal({"cut", side, "--set", "format=" + hostile});
    refusal({"cut", side, "--preset", hostile});
    refusal({"cut", side, "--picture", at});
    refusal({"cut", side, "--csv", side});
    refusal({"review", at});
    refusal({"review", side});
    refusal({"note", at, "1", "words"});
    put(at + ".json", "{\"headland_preset\": 1, \"settings\": {\"format\": "
                      "\"\\u001b]0;owned\\u0007\\nheadland: forged\"}}");
    refusal({"cut", side, "--preset", at + ".json"});
    put(at + ".json", "{\"" + hostile + "\": 1}");
    refusal({"cut", side, "--preset", at + ".json"});
    put(at + ".txt", "no sound");
    refusal({"cut", at + ".txt"});
    CHECK(run({"cut", side, "--csv", at + "/none.csv"}).code == 4);
    for (const auto& arguments : std::vector<std::vector<std::string>>{{hostile},
                                                                       {"cut", "--" + hostile},
                                                                       {"fit", side, "--vary", hostile},
                                                                       {"review", at, hostile},
                                                                       {"cut", side, hostile}})
        CHECK(run(arguments).code == 2);
}

TEST_CASE("A preset that is no ordinary file is refused in one line", "[hostile]") {
    const TestFolder folder;
    const auto side = hostileSide(folder);
    CHECK_THAT(refusal({"cut", side, "--preset", "/proc/self/mem"}), Contains("cannot be read"));
    CHECK_THAT(refusal({"cut", side, "--preset", "/dev/zero"}), Contains("is not a file"));
    CHECK_THAT(refusal({"cut", side, "--preset", "/proc/self"}), Contains("is not a file"));
    put(folder / "deep.json", "{\"headland_preset\": 1, \"settings\": " + std::string(200000, '['));
    CHECK_THAT(refusal({"cut", side, "--preset", folder / "deep.json"}), Contains("deep"));
}

TEST_CASE("A decimal comma is read on the command line, and what could be two numbers is refused",
          "[hostile]") {
    const TestFolder folder;
    const auto side = hostileSide(folder);
    const auto json = [&](const std::string& set) {
        REQUIRE(run({"cut", side, "--quiet", "--set", set, "--json", folder / "a.json"}).code == 0);
        return headland::files::readJson(contentOf(folder / "a.json"))["settings"];
    };
    CHECK(json("land_min_um=12,5")["land_min_um"] == 12.5);
    CHECK(json("end_radius_mm=60,325")["end_radius_mm"] == 60.325);
    CHECK(json("rpm=33 1/3")["rpm"] == 100.0 / 3);
    CHECK_THAT(refusal({"cut", side, "--set", "land_min_um=1,234.5"}), Contains("'1,234.5' is not a number"));
    CHECK_THAT(refusal({"cut", side, "--set", "land_min_um=1,2,3"}), Contains("'1,2,3' is not a number"));
}
