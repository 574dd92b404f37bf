// SPDX-License-Identifier: GPL-3.0-or-later
// A folder or a book that may not be written into: said in words, and the cut is complete when it is allowed again.

#include "Tests/Log/Books.h"
#include "Tests/Support/Child.h"

#include <catch2/catch.hpp>

#include <sys/stat.h>

using namespace headland;
using namespace headland::test;
using Catch::Matchers::Contains;

namespace {

/// A cut into a book while `place` must not be written into; what was said, then what is wrong afterwards.
std::string cutWhileForbidden(const std::string& path, const std::string& place, std::int64_t cut) {
    struct stat before {};
    if (::stat(place.c_str(), &before) != 0 || ::chmod(place.c_str(), before.st_mode & 0555U) != 0)
        return "the permission could not be taken away";
    log::BookWriter writer(path);
    writer.begin(headOf("Harbour Lights", "A"));
    tell(writer, 0, 500);
    auto said = troubleWith(writer, "allow that");
    ::chmod(place.c_str(), before.st_mode);
    tell(writer, 500, 600);
    writer.end(finishedAfter(600));
    said += writer.flush(longEnough) ? "|" : "|not complete: " + writer.status().trouble;
    return said + writer.status().trouble + faultOf(path, cut, 600);
}

/// A folder that belongs to whoever the child is going to be.
void giveAway(const TestFolder& folder) {
    if (::geteuid() == 0)
        REQUIRE(::chown(folder.path().c_str(), 65534, 65534) == 0);
}

} // namespace

TEST_CASE("A folder that may not be written into is said, and the cut is complete when it may") {
    for (const bool isThere : {false, true}) {
        INFO((isThere ? "a book is there" : "no book is there"));
        const TestFolder folder;
        giveAway(folder);
        const auto path = folder / "book.headland";
        const auto said = inChild([&]() -> std::string {
            if (!becomeNobody())
                return "the child is still root";
            if (isThere)
                makeBook(path, 20);
            return cutWhileForbidden(path, folder.path().string(), isThere ? 2 : 1);
        });
        CHECK_THAT(said,
                   Contains(path) && Contains(isThere ? "allow that in its folder, or" : "allow that, or")
                       && Contains("choose another place. The cut goes on: ") && Catch::EndsWith("more.|"));
    }
}

TEST_CASE("A book that may not be written into is said, and the cut is complete when it may") {
    const TestFolder folder;
    giveAway(folder);
    const auto path = folder / "book.headland";
    const auto said = inChild([&]() -> std::string {
        if (!becomeNobody())
            return "the child is still root";
        makeBook(path, 20);
        return cutWhileForbidden(path, path, 2);
    });
    CHECK_THAT(said, Contains(path) && Contains("cannot be written into") && Catch::EndsWith("more.|"));
}

TEST_CASE("A book can be read from where nothing can be written") {
    const TestFolder folder;
    giveAway(folder);
    const auto path = folder / "book.headland";
    const auto said = inChild([&]() -> std::string {
        if (!becomeNobody())
            return "the child is still root";
        makeBook(path, 20);
        ::chmod(path.c_str(), 0444);
        ::chmod(folder.path().c_str(), 0555);
        const auto fault = faultOf(path, 1, 20);
        ::chmod(folder.path().c_str(), 0755);
        return fault + std::to_string(folder.count());
    });
    CHECK(said == "1");
}
