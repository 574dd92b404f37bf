// SPDX-License-Identifier: GPL-3.0-or-later
// What is kept is known by any of its names, whether it is there or not.

#include "Files/KeptFiles.h"

#include "Tests/Files/TestFolder.h"

#include <catch2/catch.hpp>

using namespace headland::files;
using namespace headland::test;

TEST_CASE("A kept file is known by any of its names") {
    const TestFolder folder;
    put(folder / "side.wav", "x");
    std::filesystem::create_symlink(folder / "side.wav", folder / "link.wav");
    std::filesystem::create_symlink("link.wav", folder / "link of a link.wav");
    std::filesystem::create_hard_link(folder / "side.wav", folder / "hard.wav");
    std::filesystem::create_directory_symlink(folder.path(), folder / "here");
    const auto indirect = folder.path().string() + "/../" + folder.path().filename().string();
    KeptFiles kept;
    kept.add(folder / "side.wav", "the program");
    for (const auto& name : {folder / "side.wav", folder / "link.wav", folder / "link of a link.wav",
                             folder / "hard.wav", folder / "here/side.wav", indirect + "/./side.wav"}) {
        INFO(name);
        CHECK(kept.roleAt(name) == "the program");
    }
    CHECK(kept.roleAt(folder / "other.wav").empty());
    KeptFiles byLink;
    byLink.add(folder / "link.wav", "the program");
    CHECK(byLink.roleAt(folder / "side.wav") == "the program");
}

TEST_CASE("What is not there yet is known by where it would be") {
    const TestFolder folder;
    std::filesystem::create_symlink("new.csv", folder / "link.csv");
    KeptFiles kept;
    kept.add(folder / "new.csv", "--csv");
    CHECK(kept.roleAt(folder / "link.csv") == "--csv");
    CHECK(kept.roleAt(folder.path().string() + "/../" + folder.path().filename().string() + "/new.csv")
          == "--csv");
    CHECK(kept.roleAt(folder / "new.json").empty());
    put(folder / "made.csv", "x");
    std::filesystem::create_hard_link(folder / "made.csv", folder / "new.csv"); // came after it was added
    CHECK(kept.roleAt(folder / "made.csv") == "--csv");
}

TEST_CASE("A kept file is known where it has been moved to") {
    const TestFolder folder;
    put(folder / "side.wav", "x");
    KeptFiles kept;
    kept.add(folder / "side.wav", "the program");
    std::filesystem::rename(folder / "side.wav", folder / "log.csv");
    CHECK(kept.roleAt(folder / "log.csv") == "the program");
    CHECK(kept.roleAt(folder / "side.wav") == "the program"); // it may come back
}

TEST_CASE("A book is kept with what SQLite keeps beside it, and beside the file that a link leads to") {
    const TestFolder folder;
    std::filesystem::create_directory(folder / "elsewhere");
    put(folder / "elsewhere/real.headland", "x");
    std::filesystem::create_symlink("elsewhere/real.headland", folder / "link.headland");
    KeptFiles kept;
    kept.addBook(folder / "link.headland", "the book");
    for (const auto* end : {"-wal", "-shm", "-journal"})
        for (const auto* book : {"link.headland", "elsewhere/real.headland"})
            CHECK(kept.roleAt(folder / (std::string(book) + end)) == "what belongs to the book");
    CHECK(kept.roleAt(folder / "elsewhere/real.headland") == "the book");
}

TEST_CASE("A link that leads to itself is a name as any other") {
    const TestFolder folder;
    std::filesystem::create_symlink("round", folder / "round");
    KeptFiles kept;
    kept.add(folder / "round", "the program");
    CHECK(kept.roleAt(folder / "round") == "the program");
    CHECK(kept.roleAt(folder / "other").empty());
}
