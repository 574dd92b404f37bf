// SPDX-License-Identifier: GPL-3.0-or-later
// Whatever a book is told of a cut beside its frames comes back as it was told: settings to the bit, everything else
// word for word and in its order.

#include "Cut/CutSummary.h"
#include "Cut/SettingsTable.h"
#include "Log/BookPages.h"
#include "Log/FrameColumns.h"
#include "Tests/Log/Books.h"
#include "Tests/Support/SameFrames.h"

#include <catch2/catch.hpp>

using namespace headland;
using namespace headland::test;

namespace {

/// Every setting with a value of its own that takes all the figures a double has.
cut::CutSettings oddSettings() {
    cut::CutSettings settings;
    auto odd = 1.0 / 3;
    for (const auto& setting : cut::settingsTable())
        if (setting.key != "format")
            cut::setNumber(settings, setting, cut::getNumber(settings, setting) + (odd += 1.0 / 7));
    cut::setFromText(settings, "format", "17cm-45");
    return settings;
}

log::CutHead wholeHead() {
    auto head = madeUpHead();
    head.side = {"Lantern Sessions, \"take\" 2; it's \xc3\xa9t\xc3\xa9", "A"};
    head.settings = oddSettings();
    head.otherSettings = {{"land_add_um", 0.1 + 0.2}, {"preview_from", 1}};
    head.program = log::ProgramRecord{"/tapes/side a.wav",
                                      {"side a.wav", "WAV, 24 bit", 44100, 2, 5292001, 5292001 / 44100.0}};
    return head;
}

cut::GroovePatch patchOfThree() {
    const auto nan = std::numeric_limits<float>::quiet_NaN();
    return {12.5,
            146.05,
            0.001,
            3,
            {{-1, {{-100.125F, -150.5F}, {-100.25F, -150.75F}, {nan, nan}}},
             {0, {{-201.5F, -260.001F}, {nan, -260.5F}, {-0.002F, nan}}},
             {1, {{nan, nan}, {nan, nan}, {nan, nan}}}}};
}

/// A figure to its last decimal, or whole where it is too great for that.
double asKept(double figure, int decimals) {
    return log::hasPlaces(figure, decimals)
               ? static_cast<double>(log::places(figure, decimals)) / log::powerOfTen(decimals)
               : figure;
}

void requireSamePatch(const cut::GroovePatch& read, const cut::GroovePatch& told) {
    constexpr auto place_um = 0.0005F; // the book keeps whole nanometres
    CHECK(sameBits(read.time_s, told.time_s));
    CHECK(sameBits(read.startRadius_mm, told.startRadius_mm));
    CHECK(sameBits(read.step_rad, told.step_rad));
    CHECK(read.points == told.points);
    REQUIRE(read.turns.size() == told.turns.size());
    const auto isSame = [](float a, float b) {
        return std::isnan(b) ? std::isnan(a) : std::abs(a - b) <= place_um;
    };
    for (std::size_t turn = 0; turn < told.turns.size(); ++turn) {
        CHECK(read.turns[turn].turn == told.turns[turn].turn);
        REQUIRE(read.turns[turn].edges.size() == told.turns[turn].edges.size());
        for (std::size_t i = 0; i < told.points; ++i) {
            CHECK(isSame(read.turns[turn].edges[i].outer_um, told.turns[turn].edges[i].outer_um));
            CHECK(isSame(read.turns[turn].edges[i].inner_um, told.turns[turn].edges[i].inner_um));
        }
    }
}

} // namespace

TEST_CASE("The head of a cut comes back from its book to the bit") {
    const TestFolder folder;
    const auto told = wholeHead();
    makeBook(folder / "book.headland", 10, told);
    log::BookReader reader(folder / "book.headland");
    const auto read = reader.cut(1).head;
    CHECK(read.side == told.side);
    CHECK_FALSE(read.answers.has_value());
    CHECK(read.madeBy == told.madeBy);
    CHECK(read.version == told.version);
    CHECK(read.preview == told.preview);
    CHECK(sameBits(read.sampleRate_hz, told.sampleRate_hz));
    CHECK(cut::getText(read.settings, *cut::findSetting("format")) == "17cm-45");
    for (const auto& setting : cut::settingsTable()) {
        INFO(setting.key);
        CHECK(sameBits(cut::getNumber(read.settings, setting), cut::getNumber(told.settings, setting)));
    }
    CHECK((read.otherSettings == told.otherSettings));
    REQUIRE(read.program.has_value());
    CHECK(read.program->path == told.program->path);
    CHECK(read.program->facts.fileName == told.program->facts.fileName);
    CHECK(read.program->facts.format == told.program->facts.format);
    CHECK(sameBits(read.program->facts.sampleRate_hz, told.program->facts.sampleRate_hz));
    CHECK(read.program->facts.channels == told.program->facts.channels);
    CHECK(read.program->facts.length_frames == told.program->facts.length_frames);
    CHECK(sameBits(read.program->facts.length_s, told.program->facts.length_s));
}

TEST_CASE("Events, notes, gaps and the end of a cut come back from its book as they were told") {
    const TestFolder folder;
    {
        log::BookWriter writer(folder / "book.headland");
        writer.begin(madeUpHead());
        writer.event({0, NAN, "cue", "lower", NAN});
        tell(writer, 0, 20);
        writer.event({20, 1.25, "ride", "land_add_um", 2.0 / 3});
        writer.note({3.5, "a crackle, second band", "2026-03-14T09:26:53.589Z"});
        writer.note({1.5, "", "2026-03-14T09:26:54.000Z"});
        tell(writer, 30, 40);
        writer.note({NAN, "reference \xc2\xb5 for the client", "2026-03-14T09:26:55.000Z"});
        writer.note({1.5, "the same place\nagain", "2026-03-14T09:26:56.000Z"});
        writer.end({"the device stopped", true, 45, 7, 33.0 / 7});
        REQUIRE(writer.flush(longEnough));
        writer.note({0.5, "written afterwards", "2026-03-14T10:00:00.000Z"});
        REQUIRE(writer.flush(longEnough));
    }
    const auto read = log::BookReader(folder / "book.headland").cut(1);
    CHECK(read.frames.size() == 30);

    REQUIRE(read.events.size() == 2);
    CHECK(read.events[0].what == "lower");
    CHECK(std::isnan(read.events[0].time_s));
    CHECK(std::isnan(read.events[0].value));
    CHECK(read.events[1].beforeFrame == 20);
    CHECK(sameBits(read.events[1].time_s, 1.25));
    CHECK(read.events[1].kind == "ride");
    CHECK(sameBits(read.events[1].value, 2.0 / 3));

    REQUIRE(read.notes.size() == 5); // in order of time, of the whole cut last
    CHECK(read.notes[0].text == "written afterwards");
    CHECK(read.notes[1].isMark());
    CHECK(read.notes[1].written_utc == "2026-03-14T09:26:54.000Z");
    CHECK(read.notes[2].text == "the same place\nagain");
    CHECK(read.notes[3].text == "a crackle, second band");
    CHECK(read.notes[4].text == "reference \xc2\xb5 for the client");
    CHECK(std::isnan(read.notes[4].time_s));

    REQUIRE(read.gaps.size() == 2);
    CHECK(read.gaps[0].firstFrame == 20);
    CHECK(read.gaps[0].lastFrame == 29);
    const auto settings = madeUpHead().settings;
    CHECK(sameBits(read.gaps[0].from_s, madeUpFrame(19, settings).time_s));
    CHECK(read.gaps[0].to_s == Approx(madeUpFrame(29, settings).time_s));
    CHECK_FALSE(read.gaps[0].why.empty());
    CHECK(read.gaps[1].firstFrame == 40);
    CHECK(read.gaps[1].lastFrame == 44);

    REQUIRE(read.tail.has_value());
    CHECK(read.tail->ending == "the device stopped");
    CHECK(read.tail->isFault);
    CHECK(read.tail->frames == 45);
    CHECK(read.tail->badSamples == 7);
    CHECK(sameBits(read.tail->badSampleFirst_s, 33.0 / 7));
}

TEST_CASE(
    "Places come back from a book with their edges, the latest of each number, also one told after the end") {
    const TestFolder folder;
    auto first = patchOfThree();
    first.time_s = 99;
    auto late = patchOfThree();
    late.time_s = 2;
    {
        log::BookWriter writer(folder / "book.headland");
        writer.begin(madeUpHead());
        tell(writer, 0, 10);
        writer.place(0, {cut::Flag::overcut, first});
        writer.place(1, {cut::Flag::steep, first});
        REQUIRE(writer.flush(longEnough));
        writer.place(0, {cut::Flag::thinLand, patchOfThree()});
        writer.end(finishedAfter(10));
        REQUIRE(writer.flush(longEnough));
        writer.place(1, {cut::Flag::badSample, late});
        REQUIRE(writer.flush(longEnough));
    }
    log::BookReader reader(folder / "book.headland");
    const auto places = reader.places(1);
    REQUIRE(places.size() == 2);
    CHECK(places[0].flag == cut::Flag::badSample);
    CHECK(places[1].flag == cut::Flag::thinLand);
    requireSamePatch(reader.patch(places[0].place), late);
    requireSamePatch(reader.patch(places[1].place), patchOfThree());
    CHECK_THROWS_WITH(reader.patch(77), Catch::Contains("no kept place 77"));
}

TEST_CASE("A place that is told anew while the one before is being written is the one that is kept") {
    const TestFolder folder;
    constexpr int times = 3000;
    {
        log::BookWriter writer(folder / "book.headland");
        writer.begin(madeUpHead());
        for (int i = 1; i <= times; ++i) {
            auto patch = patchOfThree();
            patch.time_s = i;
            writer.place(0, {cut::Flag::narrow, patch});
            std::this_thread::sleep_for(200us); // so that some come while others are written
        }
        REQUIRE(writer.flush(longEnough));
    }
    const auto places = log::BookReader(folder / "book.headland").places(1);
    REQUIRE(places.size() == 1);
    CHECK(places[0].time_s == times);
}

TEST_CASE("Cuts of one side share job, side and program, and one says which it answers") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    auto head = wholeHead();
    makeBook(path, 5, head);
    head.answers = 1;
    makeBook(path, 6, head);
    head.side.side = "B";
    head.answers = 55; // there is none
    makeBook(path, 7, head);
    log::BookReader reader(path);
    const auto cuts = reader.cuts();
    REQUIRE(cuts.size() == 3);
    CHECK(cuts[2].side.side == "B");
    CHECK(cuts[2].ending == "finished");
    CHECK(cuts[2].last_s == Approx(madeUpFrame(6, madeUpHead().settings).time_s));
    CHECK(reader.cut(2).head.answers == 1);
    CHECK_FALSE(reader.cut(3).head.answers.has_value());
    for (const auto* counted : {"job", "program"})
        CHECK(sqlite(path, quoted(std::string("SELECT count(*) FROM ") + counted)) == "1\n");
    CHECK(sqlite(path, "'SELECT count(*) FROM side'") == "2\n");
}

TEST_CASE("A cut without an end reads as one, and another can begin while it has none") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    {
        log::BookWriter writer(path);
        writer.begin(madeUpHead());
        tell(writer, 0, 10);
        writer.begin(headOf("Lantern Sessions", "B"));
        tell(writer, 0, 12);
        REQUIRE(writer.flush(longEnough));
    }
    log::BookReader reader(path);
    CHECK(reader.cuts().at(0).ending.empty());
    CHECK_FALSE(reader.cut(1).tail.has_value());
    CHECK_FALSE(reader.cut(2).tail.has_value());
    CHECK(faultOf(path, 1, 10).empty());
    CHECK(faultOf(path, 2, 12).empty());
}

TEST_CASE(
    "Every figure of a frame comes back from a book to its last decimal, also what the CSV does not have") {
    const TestFolder folder;
    constexpr std::int64_t count = 1000;
    makeBook(folder / "book.headland", count);
    const auto read = log::BookReader(folder / "book.headland").cut(1).frames;
    const auto told = madeUpFrames(count);
    REQUIRE(read.size() == told.size());
    for (const auto& column : log::frameColumns) {
        INFO(column.name);
        auto wrong = 0, absent = 0;
        for (std::size_t i = 0; i < told.size(); ++i) {
            const auto figure = column.get(told[i]);
            const auto expected = !std::isfinite(figure) ? column.absent : asKept(figure, column.decimals);
            wrong += sameBits(column.get(read[i]), expected) ? 0 : 1;
            absent += std::isfinite(figure) ? 0 : 1;
        }
        CHECK(wrong == 0);
        CHECK(absent < count / 2);
    }
}

TEST_CASE("Figures up to the limits of their numbers come back from a book") {
    const TestFolder folder;
    auto least = madeUpFrame(1, madeUpHead().settings);
    auto greatest = least;
    const auto isPlace = [](const auto& column) { // what no side has is refused
        return column.name == "time_s" || column.name == "turn" || column.name == "radius_mm";
    };
    for (const auto& column : log::frameColumns) {
        column.of(least) = isPlace(column) ? 1 : std::numeric_limits<double>::lowest();
        column.of(greatest) =
            isPlace(column) ? 2 : 9e14; // with six decimals no whole number of 64 bits any more
    }
    auto edge = least;
    for (const auto& column : log::frameColumns)
        column.of(edge) =
            isPlace(column) ? 3
                            : 1e15 / log::powerOfTen(column.decimals); // the greatest kept as a whole number
    least.flags = 0x1ff;
    {
        log::BookWriter writer(folder / "book.headland");
        writer.begin(madeUpHead());
        tell(writer, {least, greatest, edge});
        writer.end(finishedAfter(3));
        REQUIRE(writer.flush(longEnough));
    }
    const auto read = log::BookReader(folder / "book.headland").cut(1).frames;
    REQUIRE(read.size() == 3);
    CHECK(sameBits(read[0], least));
    CHECK(sameBits(read[1], greatest));
    CHECK(sameBits(read[2], edge));
}

TEST_CASE("Rehearsals come back from a book") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    {
        log::BookPages pages(path);
        auto head = wholeHead();
        head.settings.disc_level_db = -3.1;
        pages.rehearsal(head, "disc_level_db", cut::CutSummary());
    }
    const auto read = log::BookReader(path).rehearsals();
    REQUIRE(read.size() == 1);
    CHECK(read[0].varied == "disc_level_db");
    CHECK(read[0].madeBy == "a test");
    CHECK(sameBits(read[0].value, -3.1));
    CHECK(read[0].verdict == cut::CutSummary().verdictLine());
}

TEST_CASE("A reader that was asked for a cut there is not goes on") {
    const TestFolder folder;
    makeBook(folder / "book.headland", 5);
    log::BookReader reader(folder / "book.headland");
    for (int i = 0; i < 2; ++i)
        CHECK_THROWS_WITH(reader.cut(9), Catch::Contains("has no cut 9") && Catch::EndsWith("."));
    CHECK(reader.cut(1).frames.size() == 5);
}

TEST_CASE("A book's name is a file's name, whatever it looks like") {
    const TestFolder folder;
    const auto before = std::filesystem::current_path();
    std::filesystem::current_path(folder.path());
    for (const std::string name : {":memory:", "file:cuts?mode=memory", "100% #1.headland"}) {
        INFO(name);
        makeBook(name, 5);
        CHECK(std::filesystem::is_regular_file(folder / name));
        CHECK(faultOf(name, 1, 5).empty());
    }
    log::BookWriter writer("moved.headland");
    writer.begin(madeUpHead());
    tell(writer, 0, 5);
    CHECK(writer.flush(longEnough));
    std::filesystem::current_path(before); // a host may go where it likes
    tell(writer, 5, 10);
    writer.end(finishedAfter(10));
    CHECK(writer.flush(longEnough));
    CHECK(faultOf(folder / "moved.headland", 1, 10).empty());
}
