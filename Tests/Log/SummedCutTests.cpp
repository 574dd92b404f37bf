// SPDX-License-Identifier: GPL-3.0-or-later
// A cut summed up while its frames are read, against one whose frames have all been kept: the same sums to the last bit,
// and the same of all else.

#include "Log/BookPages.h"
#include "Tests/Log/Books.h"
#include "Tests/Log/OldBooks.h"
#include "Tests/Support/Random.h"

#include <catch2/catch.hpp>
#include <tuple>

using namespace headland;
using namespace headland::test;

namespace {

/// Frame `number` of a side in which everything happens: every flag and every state, and other figures in each.
cut::CutFrame eventfulFrame(std::int64_t number, std::int64_t count, const cut::CutSettings& settings,
                            Random& random) {
    auto frame = madeUpFrame(number, settings);
    const auto share = static_cast<double>(number) / static_cast<double>(count);
    frame.state = share < 0.05           ? cut::State::leadIn
                  : share > 0.95         ? cut::State::finishing
                  : share > 0.9          ? cut::State::leadOut
                  : random.unit() < 0.01 ? cut::State::band
                                         : cut::State::program;
    frame.flags = 0;
    for (int bit = 0; bit < cut::flagCount; ++bit)
        if (random.unit() < 0.0005)
            frame.flags = static_cast<std::uint16_t>(frame.flags | static_cast<unsigned>(cut::flagAt(bit)));
    for (auto* figure :
         {&frame.landMin_um, &frame.widthMin_um, &frame.slopePeak, &frame.curvatureMin_um, &frame.demand_um,
          &frame.shortfall_um, &frame.peak_dbfs, &frame.depthPeak_um, &frame.estimate.left_mm})
        *figure = random.between(-1000, 1000);
    return frame;
}

/// A book with one eventful cut, of which some frames in the middle are missing if wanted.
void makeEventfulBook(const std::string& path, std::int64_t count, bool isOfFile, bool hasGap) {
    log::BookPages pages(path);
    auto head = madeUpHead();
    if (isOfFile)
        head.program = {"/tapes/a.wav", {"a.wav", "WAV, 24 bit", 44100, 2, 44100 * 600, 600}};
    const auto cut = pages.beginCut(head, log::utcNow());
    log::Transaction transaction(pages.database());
    Random random(static_cast<unsigned>(count));
    const auto isMissing = [&](std::int64_t number) {
        return hasGap && number >= count / 2 && number < count / 2 + 100;
    };
    for (std::int64_t number = 0; number < count; ++number) {
        const auto frame = eventfulFrame(number, count, head.settings, random);
        if (!isMissing(number))
            pages.frame(cut, number, frame);
    }
    if (hasGap)
        pages.gap(cut, {count / 2, count / 2 + 99, 1, 2, "lost"});
    pages.endCut(cut, {"finished", false, count, 3, 0.5});
    transaction.commit();
}

auto figuresOf(const cut::Forecast& forecast) {
    const auto& e = forecast.estimate;
    return std::tuple{forecast.share,
                      forecast.time_s,
                      forecast.seen,
                      e.used_mm,
                      e.left_mm,
                      e.used_cm2,
                      e.left_cm2,
                      e.left_min,
                      e.endDiameter_mm,
                      e.grade,
                      e.endDiameterUncertainty_mm};
}

void requireSame(const log::FrameSums& brief, const log::FrameSums& full) {
    CHECK(brief.program_s == full.program_s);
    CHECK((brief.summary == full.summary));
    for (std::size_t i = 0; i < full.estimates.forecasts().size(); ++i)
        CHECK((figuresOf(brief.estimates.forecasts()[i]) == figuresOf(full.estimates.forecasts()[i])));
    CHECK((figuresOf(brief.estimates.last()) == figuresOf(full.estimates.last())));
}

/// Both ways of reading cut 1; gives back the one that kept the frames.
log::LoggedCut requireSameBothWays(const std::string& path) {
    log::BookReader reader(path);
    auto full = reader.cut(1);
    const auto brief = reader.summedCut(1);
    requireSame(brief.sums, log::sumsOf(full));
    CHECK(brief.cut.frames.empty());
    CHECK(brief.cut.head.side.job == full.head.side.job);
    CHECK(brief.cut.gaps.size() == full.gaps.size());
    CHECK(brief.cut.notes.size() == full.notes.size());
    CHECK(brief.cut.events.size() == full.events.size());
    REQUIRE(brief.cut.tail.has_value() == full.tail.has_value());
    if (full.tail) {
        CHECK(brief.cut.tail->frames == full.tail->frames);
        CHECK(brief.cut.tail->badSamples == full.tail->badSamples);
    }
    return full;
}

} // namespace

TEST_CASE("A cut summed up while it is read has the sums of all its frames, to the last bit") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    for (const auto isOfFile : {false, true})
        for (const auto hasGap : {false, true})
            for (const std::int64_t count : {1000, 8192, 75'000}) { // read by one thread, and by several
                INFO(count << " frames" << (isOfFile ? " of a file" : "")
                           << (hasGap ? ", some missing" : ""));
                std::filesystem::remove(path);
                makeEventfulBook(path, count, isOfFile, hasGap);
                const auto full = requireSameBothWays(path);
                REQUIRE(static_cast<std::int64_t>(full.frames.size()) == count - (hasGap ? 100 : 0));
                const auto sums = log::sumsOf(full);
                for (int bit = 0; count > 50'000 && bit < cut::flagCount;
                     ++bit) // or it would not be eventful
                    CHECK(sums.summary.worstOf(cut::flagAt(bit)).valid);
                CHECK(sums.estimates.last().estimate.used_mm > 0);
            }
}

TEST_CASE("A cut without any program, one without any frame and those of older books are summed up alike") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    for (const std::int64_t count : {0, 1, 250}) { // the made-up cut's lead-in has 300
        INFO(count << " frames");
        std::filesystem::remove(path);
        makeBook(path, count);
        CHECK_FALSE(log::sumsOf(requireSameBothWays(path)).estimates.last().seen);
    }
    for (const auto version : {1, 2}) {
        INFO("version " << version);
        std::filesystem::remove(path);
        makeOldBook(path, version);
        CHECK(requireSameBothWays(path).frames.size() == 35);
    }
}

TEST_CASE("A cut under way is summed up as far as it has come") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    log::BookWriter writer(path, {.period = 10ms});
    writer.begin(madeUpHead());
    tell(writer, 0, 500);
    REQUIRE(writer.flush(longEnough));
    CHECK(requireSameBothWays(path).frames.size() == 500);
}

TEST_CASE(
    "A cut that is not there, and one with frames missing of which nothing is said, are not summed up") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    makeBook(path, 100);
    log::BookReader reader(path);
    CHECK_THROWS_WITH(reader.summedCut(2), Catch::Contains("has no cut 2"));
    log::Database(path, log::Database::Access::write, 0).run("DELETE FROM frame WHERE number = 50");
    CHECK_THROWS_WITH(reader.summedCut(1), Catch::Contains("frames missing of which it says nothing"));
}
