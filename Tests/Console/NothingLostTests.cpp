// SPDX-License-Identifier: GPL-3.0-or-later
// The finished tool never writes over what it reads, by whatever name, nor over what is write-protected; what is no book is
// said at once, no wait for one outlasts a signal, and what a killed run leaves half written is removed by the next.

#include "Tests/Console/Tool.h"
#include "Tests/Files/SoundFiles.h"
#include "Tests/Files/TestFolder.h"
#include "Tests/Reference/Command.h"

#include <catch2/catch.hpp>
#include <sqlite3.h>
#include <sys/resource.h>
#include <sys/stat.h>

#include <algorithm>
#include <chrono>
#include <map>
#include <thread>

using namespace headland::test;
using namespace std::chrono_literals;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

namespace {

/// Two seconds of nearly nothing.
std::string quietSide(const TestFolder& folder, const std::string& name, int length_s = 2) {
    runCommand("sox -R -V1 -n -r 44100 -b 16 -c 2 " + quoted(folder / name) + " synth "
               + std::to_string(length_s) + " sine 400 vol 0.05");
    return folder / name;
}

/// Every file in the folder by its content, so that whatever changes is seen.
std::map<std::string, std::string> contents(const TestFolder& folder) {
    std::map<std::string, std::string> all;
    for (const auto& entry : std::filesystem::directory_iterator(folder.path()))
        all[entry.path().filename().string()] =
            entry.is_regular_file() ? contentOf(entry.path().string()) : "";
    return all;
}

/// Refused with this code in one sentence that has the words in it, and at once.
void requireRefused(const std::vector<std::string>& arguments, int code, const std::string& words) {
    const auto start = std::chrono::steady_clock::now();
    const auto result = runTool(arguments);
    CHECK(std::chrono::steady_clock::now() - start < 5s);
    CHECK(result.code == code);
    CHECK(result.out.empty());
    CHECK(std::count(result.err.begin(), result.err.end(), '\n') == 1);
    CHECK_THAT(result.err, StartsWith("headland: ") && Contains(words));
}

/// A file under its own name, through a symbolic link and as a hard link.
std::vector<std::string> namesOf(const TestFolder& folder, const std::string& name) {
    if (!std::filesystem::exists(folder / ("soft-" + name))) {
        std::filesystem::create_symlink(name, folder / ("soft-" + name));
        std::filesystem::create_hard_link(folder / name, folder / ("hard-" + name));
    }
    return {folder / name, folder / ("soft-" + name), folder / ("hard-" + name)};
}

} // namespace

TEST_CASE("No command writes over the program, the preset, the book or what the book names",
          "[nothing-lost]") {
    const TestFolder folder;
    const auto side = quietSide(folder, "side.wav"), other = quietSide(folder, "other.wav");
    const auto book = folder / "b.headland", preset = folder / "p.json";
    put(preset,
        "{\"headland_preset\": 1, \"name\": \"p\", \"about\": \"p\", \"settings\": {\"land_min_um\": 14}}");
    REQUIRE(runTool({"cut", side, "--book", book, "--quiet"}).code == 0);
    REQUIRE(runTool({"cut", other, "--book", book, "--quiet"}).code == 0);
    std::vector<std::string> kept;
    for (const auto* name : {"side.wav", "other.wav", "b.headland", "p.json"})
        for (const auto& path : namesOf(folder, name))
            kept.push_back(path);
    for (const auto* end : {"-wal", "-shm", "-journal"})
        kept.push_back(book + end); // not there: SQLite would take it for its own
    const auto before = contents(folder);
    for (const auto& path : kept) {
        INFO(path);
        for (const auto* option : {"--csv", "--json"})
            requireRefused({"cut", side, "--preset", preset, "--book", book, option, path}, 2,
                           "is the same file as");
        requireRefused({"fit", side, "--preset", preset, "--book", book, "--json", path}, 2,
                       "is the same file as");
        requireRefused({"tune", side, "--preset", preset, "--book", book, "--json", path}, 2,
                       "is the same file as");
        if (path.find("p.json") != std::string::npos)
            continue; // review reads no preset
        for (const auto* option : {"--csv", "--json"})
            requireRefused({"review", book, "1", "--program", side, option, path}, 2, "is the same file as");
    }
    CHECK((contents(folder) == before));
}

TEST_CASE("A picture takes the place of nothing that is read, either", "[nothing-lost]") {
    const TestFolder folder;
    const auto side = quietSide(folder, "side.wav"), book = folder / "b.headland";
    std::filesystem::rename(side, folder / "side.svg"); // whatever it is called
    REQUIRE(runTool({"cut", folder / "side.svg", "--book", book, "--quiet"}).code == 0);
    std::filesystem::create_symlink("side.svg", folder / "link.svg");
    const auto before = contents(folder);
    for (const auto& path : {folder / "side.svg", folder / "link.svg"}) {
        for (const auto* command : {"cut", "fit", "tune"})
            requireRefused({command, folder / "side.svg", "--picture", path}, 2,
                           "is the same file as the program");
        requireRefused({"review", book, "1", "--picture", path}, 2, "a program that the book names");
        requireRefused({"review", book, "1", "--groove", "1", path}, 2, "a program that the book names");
    }
    requireRefused({"review", book, "1", "--csv", folder / "a", "--json", folder / "a"}, 2,
                   "same file as --csv");
    requireRefused(
        {"review", book, "1", "--groove", "1", folder / "a.svg", "--groove", "1.1", folder / "a.svg"}, 2,
        "same file as --groove");
    CHECK((contents(folder) == before));
}

TEST_CASE("A book is made neither over the program nor where its log would be", "[nothing-lost]") {
    const TestFolder folder;
    const auto side = folder / "b.headland-wal";
    std::filesystem::rename(quietSide(folder, "side.wav"), side);
    const auto before = contents(folder);
    requireRefused({"cut", side, "--book", folder / "b.headland"}, 2, "the same file as the program");
    requireRefused({"cut", side, "--book", side}, 2, "the same file as the program");
    CHECK((contents(folder) == before));
}

TEST_CASE("Nothing that is write-protected is replaced, not even by root", "[nothing-lost]") {
    const TestFolder folder;
    const auto side = quietSide(folder, "side.wav"), book = folder / "b.headland";
    REQUIRE(runTool({"cut", side, "--book", book, "--quiet"}).code == 0);
    for (const auto* name : {"a.csv", "a.json", "a.svg", "a.wav"}) {
        put(folder / name, "approved");
        REQUIRE(::chmod((folder / name).c_str(), 0444) == 0);
    }
    const auto before = contents(folder);
    requireRefused({"cut", side, "--csv", folder / "a.csv"}, 4, "it is write-protected");
    for (const auto* command : {"cut", "fit", "tune"}) {
        requireRefused({command, side, "--json", folder / "a.json"}, 4, "it is write-protected");
        requireRefused({command, side, "--picture", folder / "a.svg"}, 4, "it is write-protected");
    }
    requireRefused({"review", book, "1", "--csv", folder / "a.csv"}, 4, "it is write-protected");
    requireRefused({"review", book, "1", "--groove", "1", folder / "a.svg"}, 4, "it is write-protected");
    requireRefused({"demo", "--force", folder / "a.wav"}, 4, "it is write-protected");
    CHECK((contents(folder) == before));
    REQUIRE(::chmod(book.c_str(), 0444) == 0);
    const auto sentence =
        "The book " + book + " cannot be written into; allow that"; // and nothing of its folder
    requireRefused({"cut", side, "--book", book, "--quiet"}, 4, sentence);
    requireRefused({"note", book, "1", "too loud"}, 4, sentence);
    CHECK((contents(folder) == before));
}

TEST_CASE("A file that may not grow as far as it must is said, and no half of it stays", "[nothing-lost]") {
    const TestFolder folder;
    const auto side = quietSide(folder, "side.wav");
    const auto before = contents(folder);
    struct rlimit previous {};
    REQUIRE(::getrlimit(RLIMIT_FSIZE, &previous) == 0);
    const struct rlimit little { 5000, previous.rlim_max };
    REQUIRE(::setrlimit(RLIMIT_FSIZE, &little) == 0); // as after ulimit -f; the tool takes it over
    const auto cut = runTool({"cut", side, "--quiet", "--csv", folder / "a.csv"});
    const auto demo = runTool({"demo", folder / "demo.wav"});
    const auto book = runTool({"cut", side, "--quiet", "--book", folder / "b.headland"});
    REQUIRE(::setrlimit(RLIMIT_FSIZE, &previous) == 0);
    for (const auto* result : {&cut, &demo, &book}) {
        CHECK(result->code == 4);
        CHECK_THAT(result->err, StartsWith("headland: ") && Catch::EndsWith(".\n"));
    }
    CHECK_THAT(cut.err, Contains(folder / "a.csv"));
    CHECK((contents(folder) == before));
}

TEST_CASE("The demo takes no file's place without being told to", "[nothing-lost]") {
    const TestFolder folder;
    const auto side = quietSide(folder, "side.wav");
    const auto before = contents(folder);
    requireRefused({"demo", side}, 2, "--force");
    CHECK((contents(folder) == before));
    CHECK(runTool({"demo", "--force", side}).code == 0);
    CHECK((contents(folder) != before));
}

TEST_CASE("What can be no book is refused at once, by every command", "[nothing-lost]") {
    const TestFolder folder;
    const auto side = quietSide(folder, "side.wav");
    std::filesystem::create_directory(folder / "folder");
    REQUIRE(::mkfifo((folder / "pipe").c_str(), 0600) == 0);
    std::filesystem::create_symlink("pipe", folder / "link");
    REQUIRE(::mkfifo((folder / "b.headland-journal").c_str(), 0600) == 0); // SQLite would open it
    const std::vector<std::pair<std::string, std::string>> places{
        {"", "it has no name"},
        {folder / "folder", "it is a folder"},
        {folder / "pipe", "it is a pipe or a device"},
        {folder / "link", "it is a pipe or a device"},
        {"/dev/zero", "it is a pipe or a device"},
        {folder / "b.headland", "no ordinary file"}};
    for (const auto& [place, words] : places) {
        INFO(place);
        for (const auto* command : {"cut", "fit", "tune"})
            requireRefused({command, side, "--book", place}, 2, words);
        requireRefused({"review", place}, 2, words);
        requireRefused({"review", place, "1"}, 2, words);
        requireRefused({"note", place, "1", "too loud"}, 2, words);
    }
}

TEST_CASE("No wait for a book outlasts a signal", "[nothing-lost]") {
    const TestFolder folder;
    const auto side = quietSide(folder, "side.wav", 30), book = folder / "b.headland";
    REQUIRE(runTool({"cut", side, "--book", book, "--quiet"}).code == 0);
    sqlite3* other = nullptr;
    REQUIRE(sqlite3_open(book.c_str(), &other) == SQLITE_OK);
    sqlite3_stmt* lock = nullptr;
    REQUIRE(sqlite3_prepare_v2(other, "BEGIN EXCLUSIVE", -1, &lock, nullptr) == SQLITE_OK);
    REQUIRE(sqlite3_step(lock) == SQLITE_DONE);
    for (const auto number : {SIGINT, SIGTERM})
        for (const auto& arguments : {std::vector<std::string>{"cut", side, "--book", book},
                                      {"cut", side, "--book", book, "--answers", "1"},
                                      {"review", book},
                                      {"review", book, "1"},
                                      {"note", book, "1", "too loud"}}) {
            INFO(arguments.front() << " " << number);
            ToolRun run(arguments);
            std::this_thread::sleep_for(300ms);
            run.signal(number);
            const auto start = std::chrono::steady_clock::now();
            const auto result = run.wait();
            CHECK(std::chrono::steady_clock::now() - start < 8s);
            CHECK(result.code != 0);
        }
    sqlite3_finalize(lock);
    sqlite3_close(other);
}

TEST_CASE("What a killed run has left is removed by the next one", "[nothing-lost]") {
    const TestFolder folder;
    const auto side = quietSide(folder, "side.wav", 600);
    const auto wholeBefore = contents(folder);
    ToolRun run({"cut", side, "--csv", folder / "a.csv", "--json", folder / "a.json"});
    for (int tries = 0; folder.count() < 3 && tries < 3000; ++tries)
        std::this_thread::sleep_for(10ms);
    run.signal(SIGKILL);
    run.wait();
    REQUIRE(folder.count() == 3);
    REQUIRE(runTool({"cut", quietSide(folder, "short.wav"), "--json", folder / "b.json", "--quiet"}).code
            == 0);
    auto after = contents(folder);
    CHECK(after.erase("b.json") + after.erase("short.wav") == 2);
    CHECK((after == wholeBefore));
}

TEST_CASE("A note has a time that a program can have", "[nothing-lost]") {
    const TestFolder folder;
    const auto side = quietSide(folder, "side.wav"), book = folder / "b.headland";
    REQUIRE(runTool({"cut", side, "--book", book, "--quiet"}).code == 0);
    const auto before = contents(folder);
    for (const auto* time :
         {"999999999999999999", "-999999999999999999", "1e300", "86401", "2000000:00", "nan", "inf"})
        requireRefused({"note", book, "1", "hi", "--at=" + std::string(time)}, 2,
                       "is no time in the program");
    CHECK((contents(folder) == before));
    requireRefused({"review", book, "1", "--groove", "1e300", folder / "a.svg"}, 2,
                   "is no time in the program");
    // Headland took such times once, and another program may write them.
    for (const auto* time : {"999999999999999999", "-9e300", "9e999"})
        runCommand("sqlite3 -batch " + quoted(book)
                   + " \"INSERT INTO note(cut_id, time_s, written_utc, kind, text) VALUES(1, " + time
                   + ", '', 'note', 'beyond')\"");
    const auto review = runTool({"review", book, "1"});
    CHECK(review.code == 0);
    CHECK_THAT(review.out, Contains("of the cut  beyond"));
}
