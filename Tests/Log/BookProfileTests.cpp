// SPDX-License-Identifier: GPL-3.0-or-later
// What a cut was given of a rehearsal, in the book: as it was, once for several cuts, and refused where it is damaged.
#include "Files/Errors.h"
#include "Files/ProfileFile.h"
#include "Log/BookProfile.h"
#include "Tests/Log/Books.h"
#include "Tests/Support/Random.h"

#include <catch2/catch.hpp>

using namespace headland;
using namespace headland::test;
using Catch::Matchers::Contains;

namespace {

std::shared_ptr<const plan::Profile> someProfile(unsigned seed, double length_s) {
    plan::Profile profile;
    Random random(seed);
    profile.length_s = length_s;
    profile.bins.resize(static_cast<std::size_t>(std::ceil(length_s / profile.bin_s())));
    for (auto& bin : profile.bins)
        bin = {static_cast<float>(random.between(0, 60)), static_cast<float>(random.between(0, 60)),
               static_cast<float>(random.between(0, 20))};
    return std::make_shared<const plan::Profile>(profile);
}

log::CutHead headWith(std::shared_ptr<const plan::Profile> profile) {
    auto head = madeUpHead();
    head.profile = std::move(profile);
    return head;
}

} // namespace

TEST_CASE(
    "A book keeps what a cut was given of a rehearsal, to the byte, and once for cuts one after the other") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    const auto first = someProfile(1, 300), second = someProfile(2, 20); // the first in more than one piece
    REQUIRE(files::profileBytes(*first).size() > log::profilePiece_bytes);
    for (const auto& profile : {first, first, second, {}})
        makeBook(path, 30, headWith(profile));
    log::BookReader reader(path);
    CHECK((reader.profile(1) == files::profileBytes(*first)));
    CHECK((reader.profile(2) == files::profileBytes(*first)));
    CHECK((reader.profile(3) == files::profileBytes(*second)));
    CHECK(reader.profile(4).empty());
    CHECK(sqlite(path, quoted("SELECT count(*) FROM profile")) == "2\n");
    CHECK_THROWS_WITH(reader.profile(5), Contains("has no cut 5"));
    reader.check();
    for (const auto cut : {1, 2, 3, 4})
        CHECK(faultOf(path, cut, 30).empty());
}

TEST_CASE("A profile in a book that is none is refused in words, and is no reason not to read the cut") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    makeBook(path, 30, headWith(someProfile(3, 300)));
    const std::string damage =
        GENERATE("UPDATE profile_piece SET bytes = x'00'", "DELETE FROM profile_piece WHERE number = 1",
                 "UPDATE profile_piece SET bytes = 'none' WHERE number = 0", "DELETE FROM profile_piece");
    sqlite(path, quoted(damage));
    INFO(damage);
    log::BookReader reader(path);
    CHECK_THROWS_AS(reader.profile(1), files::InputError);
    CHECK_THROWS_WITH(reader.profile(1),
                      Contains("The book") && Contains("cut 1 has a profile that is none"));
    CHECK(faultOf(path, 1, 30).empty());
}

TEST_CASE("More of a profile than there can be is not read") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    makeBook(path, 30, headWith(someProfile(4, 10)));
    for (auto number = 1; number <= 40; ++number)
        sqlite(path, quoted("INSERT INTO profile_piece VALUES(1, " + std::to_string(number)
                            + ", zeroblob(1000000))"));
    log::Database book(path, log::Database::Access::read, 0);
    const auto bytes = log::profileBytesOf(book, 1).size();
    CHECK(bytes > 30'000'000);
    CHECK(bytes < files::profileSizeMax_bytes + 1'100'000);
    CHECK_THROWS_AS(log::BookReader(path).profile(1), files::InputError);
}
