// SPDX-License-Identifier: GPL-3.0-or-later
// Books by the finished tool: cuts and trials logged, reviewed, noted upon; what is refused; and a tool that is killed,
// stopped, or finds its book locked.

#include "Tests/Console/Tool.h"
#include "Tests/Files/SoundFiles.h"
#include "Tests/Files/TestFolder.h"
#include "Tests/Reference/Command.h"
#include "Tests/Support/Random.h"

#include <catch2/catch.hpp>
#include <juce_core/juce_core.h>

#include <chrono>
#include <cmath>
#include <sqlite3.h>
#include <sstream>
#include <thread>

using namespace headland::test;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

namespace {

constexpr int rate_hz = 44100;

/// Strokes out of quiet, some of them too much for a short preview; a sample that is no number if wanted.
std::string strokes(const TestFolder& folder, const std::string& name, double length_s, bool isBad = false) {
    juce::AudioBuffer<float> sound(2, static_cast<int>(length_s * rate_hz));
    for (int i = 0; i < sound.getNumSamples(); ++i) {
        const auto t = static_cast<double>(i) / rate_hz;
        const auto since = std::fmod(t, 3.1);
        const auto stroke = 0.5 * std::exp(-4 * since) * std::sin(2 * M_PI * 55 * since);
        sound.setSample(0, i, static_cast<float>(stroke + 0.05 * std::sin(2 * M_PI * 900 * t)));
        sound.setSample(1, i, static_cast<float>(stroke - 0.05 * std::sin(2 * M_PI * 900 * t)));
    }
    if (isBad)
        sound.setSample(0, rate_hz, std::numeric_limits<float>::quiet_NaN());
    writeSound<juce::WavAudioFormat>(folder / name, sound, rate_hz, isBad ? 32 : 24);
    return folder / name;
}

juce::var jsonIn(const std::string& path) {
    return juce::JSON::parse(juce::File(path));
}

/// The lines that have not this word.
std::string linesWithout(const std::string& word, const std::string& text) {
    std::string kept;
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);)
        if (line.find(word) == std::string::npos)
            kept += line + "\n";
    return kept;
}

/// What stands on a picture.
std::string wordsOf(const std::string& path) {
    std::string all;
    const auto drawing = juce::parseXML(juce::File(path));
    REQUIRE(drawing != nullptr);
    for (const auto* element : drawing->getChildWithTagNameIterator("text"))
        all += element->getAllSubText().toStdString() + "\n";
    return all;
}

bool isSame(const std::string& a, const std::string& b) {
    return contentOf(a) == contentOf(b); // not shown: megabytes
}

} // namespace

TEST_CASE("A cut reviewed from its book is the cut that was reported: rows, figures, passages", "[book]") {
    const TestFolder folder;
    const auto side = strokes(folder, "side.wav", 20);
    const auto book = folder / "book.headland";
    const auto cut =
        runTool({"cut", side, "--set", "preview_s=0.5", "--set", "disc_level_db=3", "--book", book, "--job",
                 "Lantern Sessions", "--side", "B", "--csv", folder / "a.csv", "--json", folder / "a.json"});
    REQUIRE(cut.code == 3); // it overcuts: the preview is short
    CHECK_THAT(cut.out, Contains("Logged as cut 1 of " + book + ": Lantern Sessions, side B."));
    const auto review =
        runTool({"review", book, "1", "--csv", folder / "b.csv", "--json", folder / "b.json"});
    REQUIRE(review.code == 0);
    CHECK(contentOf(folder / "a.csv").size() > 300000);
    CHECK(isSame(folder / "a.csv", folder / "b.csv"));
    CHECK_THAT(review.out, StartsWith("Cut              1: Lantern Sessions, side B; begun 20"));
    CHECK_THAT(review.out, Contains("Ended            finished") && Contains("Groove kept"));
    // Word for word what the cut said of itself; where a shortfall is worst may be another of several sectors that are alike
    // to the last place of the log.
    const auto saidBefore = linesWithout("preview-short", cut.out.substr(0, cut.out.find("\nLogged as")));
    CHECK(saidBefore.size() > 1500);
    CHECK_THAT(linesWithout("preview-short", review.out), Catch::Matchers::EndsWith(saidBefore));
    const auto before = jsonIn(folder / "a.json"), after = jsonIn(folder / "b.json");
    CHECK(static_cast<int>(after["headland_cut"]) == 1);
    CHECK(juce::JSON::toString(after["settings"]) == juce::JSON::toString(before["settings"]));
    CHECK(juce::JSON::toString(after["program"]) == juce::JSON::toString(before["program"]));
    CHECK(after["passages"].size() > 3);
    CHECK(after["passages"].size() == before["passages"].size());
    for (const auto* key : {"end_diameter_mm", "used_cm2", "pitch_mean_um", "depth_greatest_um", "left_min"})
        CHECK(static_cast<double>(after["summary"][key])
              == Approx(static_cast<double>(before["summary"][key])).epsilon(1e-4));
    CHECK(after["summary"]["verdict_line"] == before["summary"]["verdict_line"]);
    CHECK(after["estimate_check"].size() == 3);
    CHECK(after["book"]["job"] == "Lantern Sessions");
    CHECK(after["book"]["ending"] == "finished");
    CHECK(static_cast<bool>(after["book"]["fault"]) == false);
    CHECK(after["book"]["missing"].size() == 0);
    CHECK(after["book"]["groove_kept"].size() > 0);
    CHECK(runTool({"review", book, "1"}).out == review.out); // whether or not frames are kept
    CHECK(runTool({"review", book, "1", "--quiet"}).out
          == runTool({"cut", side, "--quiet", "--set", "preview_s=0.5", "--set", "disc_level_db=3"}).out);
}

TEST_CASE("The picture from the book has the words of the picture of the cut", "[book]") {
    const TestFolder folder;
    const auto side = strokes(folder, "side.wav", 8);
    REQUIRE(runTool({"cut", side, "--book", folder / "b.headland", "--picture", folder / "a.svg"}).code == 0);
    REQUIRE(runTool({"review", folder / "b.headland", "1", "--picture", folder / "b.svg"}).code == 0);
    REQUIRE(runTool({"review", folder / "b.headland", "1", "--picture", folder / "b.png", "--quiet"}).code
            == 0);
    CHECK(wordsOf(folder / "a.svg").size() > 300);
    CHECK(wordsOf(folder / "a.svg") == wordsOf(folder / "b.svg"));
    CHECK(juce::File(folder / "b.png").getSize() > 10000);
}

TEST_CASE("The groove around a place, from the program's file or from what the book has kept", "[book]") {
    const TestFolder folder;
    const auto side = strokes(folder, "side.wav", 12);
    const auto book = folder / "b.headland";
    REQUIRE(runTool({"cut", side, "--set", "preview_s=0.5", "--book", book, "--json", folder / "a.json",
                     "--quiet"})
                .code
            == 3);
    const auto kept = [&] {
        runTool({"review", book, "1", "--json", folder / "b.json", "--quiet"});
        const auto places = jsonIn(folder / "b.json")["book"]["groove_kept"];
        for (const auto& place : *places.getArray())
            if (place["flag"] == "overcut")
                return std::to_string(static_cast<double>(place["time_s"]));
        return std::string("none");
    }();
    const auto passage = [&] {
        const auto passages = jsonIn(folder / "a.json")["passages"];
        for (const auto& candidate : *passages.getArray())
            if (candidate["flag"] == "overcut")
                return candidate;
        return juce::var();
    }();
    REQUIRE(runTool({"review", book, "1", "--quiet", "--groove", kept, folder / "program.svg", "--groove",
                     "0:01", folder / "any.png"})
                .code
            == 0);
    const auto fromProgram = wordsOf(folder / "program.svg");
    // The picture says the overcut that the cut reported, with a true minus sign.
    const auto land = juce::String(-static_cast<double>(passage["worst"]), 1).toStdString();
    CHECK_THAT(fromProgram, Contains("Overcut by " + land + " µm") && Contains("edges from side.wav"));
    CHECK(juce::File(folder / "any.png").getSize() > 5000);

    std::filesystem::rename(side, folder / "moved.wav");
    REQUIRE(runTool({"review", book, "1", "--quiet", "--groove", kept, folder / "book.svg"}).code == 0);
    const auto fromBook = wordsOf(folder / "book.svg");
    CHECK_THAT(fromBook, Contains("Overcut by " + land + " µm") && Contains("edges kept in the book"));
    CHECK(runTool({"review", book, "1", "--quiet", "--groove", "0:01", folder / "c.svg", "--program",
                   folder / "moved.wav"})
              .code
          == 0);

    const auto refused = [&](std::vector<std::string> more, const char* word) {
        more.insert(more.begin(), {"review", book, "1", "--groove"});
        const auto result = runTool(std::move(more));
        CHECK(result.code == 2);
        CHECK_THAT(result.err, Contains(word));
        CHECK_FALSE(std::filesystem::exists(folder / "d.svg"));
    };
    refused({"0:01", folder / "d.svg"},
            "is not kept, and its program is not there; name the file with --program, or choose");
    refused({"9:00", folder / "d.svg", "--program", folder / "moved.wav"}, "9:00");
    refused({"0:11.9", folder / "d.svg", "--program", folder / "b.json"}, "b.json");
    runCommand("sox -V1 " + quoted(folder / "moved.wav") + " " + quoted(folder / "louder.wav") + " gain 1");
    refused({kept, folder / "d.svg", "--program", folder / "louder.wav"}, "not the program");
}

TEST_CASE("A book lists its sides with cuts, trials and what became of them", "[book]") {
    const TestFolder folder;
    const auto side = strokes(folder, "evening.wav", 3);
    const auto book = folder / "b.headland";
    REQUIRE(runTool({"cut", side, "--book", book, "--quiet"}).code == 0);
    REQUIRE(runTool({"fit", side, "--book", book, "--job", "Lantern Sessions", "--side", "A", "--vary",
                     "land", "--quiet"})
                .code
            == 0);
    REQUIRE(
        runTool({"tune", side, "--book", book, "--job", "Lantern Sessions", "--side", "A", "--quiet"}).code
        == 0);
    REQUIRE(runTool({"cut", side, "--book", book, "--job", "Lantern Sessions", "--side", "A", "--answers",
                     "1", "--quiet"})
                .code
            == 0);
    const auto list = runTool({"review", book, "--check"});
    CHECK(list.code == 0);
    CHECK_THAT(list.out, Contains(": 2 cuts, ") && Contains("Unnamed, side evening")
                             && Contains("Lantern Sessions, side A"));
    CHECK_THAT(list.out,
               Contains("headland fit, land_min_um ") && Contains("headland tune, preview_s 1.8: ends at "));
    CHECK_THAT(list.out,
               Contains("cut 2 ") && Contains("finished") && Contains("Every page of the book is whole."));
    CHECK(list.out.find("cut 2 ")
          > list.out.find("Lantern Sessions, side A")); // below its own side, and only there
    CHECK(list.out.find("cut 2 ") == list.out.rfind("cut 2 "));
    CHECK_THAT(list.out, Contains(" to 0:03.0 ")); // where the program ended, not its lead-out
    CHECK_THAT(runTool({"review", book, "2"}).out, Contains("Answers          cut 1"));
}

TEST_CASE("A note written afterwards is in the review, at its place or of the whole cut", "[book]") {
    const TestFolder folder;
    const auto side = strokes(folder, "side.wav", 6);
    const auto book = folder / "b.headland";
    REQUIRE(runTool({"cut", side, "--book", book, "--quiet"}).code == 0);
    CHECK(runTool({"note", book, "1", "held back in the second half"}).code == 0);
    CHECK_THAT(runTool({"note", book, "1", "bass stroke", "--at", "0:03.1"}).out,
               Contains("Noted on cut 1."));
    const auto review = runTool({"review", book, "1", "--json", folder / "a.json"});
    CHECK_THAT(review.out,
               Contains("at 0:03.1  bass stroke") && Contains("of the cut  held back in the second half"));
    const auto notes = jsonIn(folder / "a.json")["book"]["notes"];
    REQUIRE(notes.size() == 2);
    CHECK(static_cast<double>(notes[0]["time_s"]) == Approx(3.1));
    CHECK(notes[1]["time_s"].isVoid());
    CHECK(notes[0]["deleted_utc"].isVoid());
    CHECK(notes[0]["earlier"].size() == 0);
    CHECK_THAT(runTool({"note", book, "1", "bass stroke, twice", "--edit", "2"}).out,
               Contains("Written anew: note 2 of cut 1."));
    CHECK_THAT(runTool({"note", book, "1", "--delete", "1"}).out, Contains("Deleted note 1 of cut 1."));
    const auto changed = runTool({"review", book, "1", "--json", folder / "b.json"});
    CHECK_THAT(changed.out, Contains("at 0:03.1  bass stroke, twice (note 2)")
                                && Contains(" UTC: bass stroke\n")
                                && Contains("of the cut  held back in the second half (note 1, deleted "));
    const auto now = jsonIn(folder / "b.json")["book"]["notes"];
    CHECK(now[0]["note"] == juce::var(2));
    CHECK(now[0]["text"].toString() == "bass stroke, twice");
    CHECK(now[0]["earlier"][0]["text"].toString() == "bass stroke");
    CHECK(now[1]["deleted_utc"].toString().startsWith("20"));
    const auto refused = [&](std::vector<std::string> arguments, const char* word) {
        const auto result = runTool(std::move(arguments));
        CHECK(result.code == 2);
        CHECK_THAT(result.err, Contains(word));
    };
    refused({"note", book, "7", "nothing"}, "has no cut 7");
    refused({"note", book, "1", ""}, "no words");
    refused({"note", book, "1"}, "no words");
    refused({"note", book, "1", "--edit", "2"}, "no words");
    refused({"note", book, "1", "again", "--edit", "1"}, "Note 1 of cut 1 has been deleted");
    refused({"note", book, "1", "--delete", "1"}, "has been deleted");
    refused({"note", book, "1", "x", "--edit", "9"}, "has no note 9 on its cut 1");
    refused({"note", book, "1", "x", "--edit", "2", "--at", "0:01"}, "a note stays where it is");
    refused({"note", book, "1", "x", "--delete", "2"}, "--delete: a note that is deleted");
    refused({"note", book, "7", "--delete", "2"}, "has no cut 7");
    refused({"note", book, "1", "late", "--at", "3:61"}, "'3:61' is no time");
    refused({"note", folder / "none.headland", "1", "nothing"}, "There is no book");
    CHECK_FALSE(std::filesystem::exists(folder / "none.headland"));
}

TEST_CASE("Bad samples are in the book as they were told", "[book]") {
    const TestFolder folder;
    const auto side = strokes(folder, "bad.wav", 4, true);
    REQUIRE(runTool({"cut", side, "--book", folder / "b.headland", "--quiet"}).code == 0);
    CHECK_THAT(runTool({"review", folder / "b.headland", "1"}).out,
               Contains("Bad samples      1 sample ") && Contains("0:01.0"));
}

TEST_CASE("What a review cannot do is refused in a sentence each, and nothing is written", "[book]") {
    const TestFolder folder;
    const auto side = strokes(folder, "side.wav", 3);
    const auto book = folder / "b.headland";
    REQUIRE(runTool({"cut", side, "--book", book, "--quiet"}).code == 0);
    const auto before = contentOf(book);
    const auto refused = [&](std::vector<std::string> arguments, std::initializer_list<const char*> words) {
        const auto result = runTool(std::move(arguments));
        CHECK(result.code == 2);
        CHECK(result.out.empty());
        for (const auto* word : words)
            CHECK_THAT(result.err, Contains(word));
    };
    refused({"review", folder / "none.headland"}, {"There is no book ", "--book FILE"});
    refused({"review", folder.path()}, {"is a folder"});
    refused({"review", side}, {"is no book of Headland's"});
    refused({"review", book, "3"}, {"has no cut 3"});
    refused({"review", book, "--csv", folder / "a.csv"}, {"--csv: say of which cut"});
    refused({"review", book, "1", "--picture", folder / "a.gif", "--groove", "half", folder / "b.tiff"},
            {"a.gif", "b.tiff", "'half' is no time"});
    refused({"review", book, "1", "--csv", book}, {"the book"});
    CHECK((contentOf(book) == before));
    CHECK(folder.count() == 2);
}

TEST_CASE("A book that cannot be written into is said before the work starts", "[book]") {
    const TestFolder folder;
    const auto side = strokes(folder, "side.wav", 3);
    std::filesystem::create_directory(folder / "folder");
    put(folder / "text", "Dear diary, this is no book.");
    const auto refused = [&](const std::string& book, int code, const char* word) {
        const auto result = runTool({"cut", side, "--book", book, "--csv", folder / "a.csv"});
        CHECK(result.code == code);
        CHECK_THAT(result.err, Contains(word));
        CHECK_FALSE(std::filesystem::exists(folder / "a.csv"));
    };
    refused(folder / "no/such/b.headland", 4, "has no folder");
    refused(folder / "folder", 2, "it is a folder");
    refused(folder / "text", 4, "is no book of Headland's");
    refused(side, 2, "--book");
    CHECK(contentOf(folder / "text") == "Dear diary, this is no book.");
    REQUIRE(runTool({"cut", side, "--book", folder / "b.headland", "--quiet"}).code == 0);
    const auto answers = runTool({"cut", side, "--book", folder / "b.headland", "--answers", "9"});
    CHECK(answers.code == 2);
    CHECK_THAT(answers.err, Contains("has no cut 9 to answer"));
    CHECK(runTool({"cut", side, "--job", "Lantern Sessions"}).code == 2); // without a book
    for (const auto* blank : {"", "  "})
        for (const auto* command : {"cut", "fit", "tune"}) {
            const auto named = runTool({command, side, "--book", folder / "b.headland", "--job", blank});
            CHECK(named.code == 2);
            CHECK_THAT(named.err, Contains("--job: the job has no name"));
        }
    CHECK_THAT(runTool({"cut", side, "--book", folder / "b.headland", "--side", "  "}).err,
               Contains("--side: the side has no name"));
    CHECK_THAT(runTool({"review", folder / "b.headland"}).out, Contains(": 1 cut, "));
}

TEST_CASE("Stopped by the user, the book keeps what was cut and says so", "[book]") {
    const TestFolder folder;
    const auto side = strokes(folder, "side.wav", 600);
    const auto book = folder / "b.headland";
    ToolRun run({"cut", side, "--book", book, "--csv", folder / "a.csv"});
    std::this_thread::sleep_for(std::chrono::milliseconds(900));
    run.signal(SIGINT);
    const auto result = run.wait();
    CHECK(result.code == 130);
    CHECK_THAT(result.err, Contains("the book holds what was cut until then"));
    CHECK_FALSE(std::filesystem::exists(folder / "a.csv"));
    CHECK_THAT(runTool({"review", book, "1"}).out, Contains("Ended            stopped by the user"));
}

TEST_CASE("Killed at any moment, the tool leaves a book that is whole, with the rows it had written",
          "[book]") {
    const TestFolder folder;
    const auto side = strokes(folder, "side.wav", 160);
    const auto book = folder / "b.headland";
    REQUIRE(runTool({"cut", side, "--csv", folder / "all.csv", "--quiet"}).code == 0);
    const auto all = contentOf(folder / "all.csv");
    Random random(2026);
    auto rows = 0;
    for (int kill = 0; kill < 5; ++kill) {
        ToolRun run({"cut", side, "--book", book, "--quiet"});
        std::this_thread::sleep_for(std::chrono::milliseconds(std::lround(random.between(20, 700))));
        run.signal(SIGKILL);
        run.wait();
        const auto list = runTool({"review", book, "--check"});
        if (!std::filesystem::exists(book) || list.out.find("cut ") == std::string::npos)
            continue; // killed before the first row
        REQUIRE(list.code == 0);
    }
    REQUIRE(runTool({"cut", side, "--book", book, "--quiet"}).code == 0); // it goes on
    for (int cut = 1;; ++cut) {
        const auto review =
            runTool({"review", book, std::to_string(cut), "--csv", folder / "part.csv", "--quiet"});
        if (review.code != 0)
            break;
        const auto part = contentOf(folder / "part.csv");
        CHECK(all.starts_with(part));
        rows += part.size() > 10000 ? 1 : 0;
        if (part.size() < all.size())
            CHECK_THAT(runTool({"review", book, std::to_string(cut)}).out,
                       Contains("no end: under way, or broken off"));
    }
    CHECK(rows >= 3);
}

TEST_CASE("A book that stays locked: the other outputs are written, then it is said what is missing, code 4",
          "[book]") {
    const TestFolder folder;
    const auto side = strokes(folder, "side.wav", 4);
    const auto book = folder / "b.headland";
    REQUIRE(runTool({"cut", side, "--book", book, "--quiet"}).code == 0);
    sqlite3* other = nullptr;
    REQUIRE(sqlite3_open(book.c_str(), &other) == SQLITE_OK);
    sqlite3_stmt* lock = nullptr;
    REQUIRE(sqlite3_prepare_v2(other, "BEGIN EXCLUSIVE", -1, &lock, nullptr) == SQLITE_OK);
    REQUIRE(sqlite3_step(lock) == SQLITE_DONE);
    const auto result = runTool({"cut", side, "--book", book, "--csv", folder / "a.csv"});
    CHECK(result.code == 4);
    CHECK_THAT(result.err,
               Contains("is locked by another program") && Contains("sectors of the cut are not in it"));
    CHECK_THAT(result.out, Contains("The side can be cut"));
    CHECK(contentOf(folder / "a.csv").size() > 10000);
    sqlite3_finalize(lock);
    sqlite3_close(other);
    CHECK_THAT(runTool({"review", book}).out, Contains(": 1 cut, "));
}
