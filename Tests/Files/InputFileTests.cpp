// SPDX-License-Identifier: GPL-3.0-or-later
// The bytes under the readers of programs: those of the file, from any place, and never more than there are.

#include "Files/InputFile.h"

#include "Tests/Files/TestFolder.h"

#include <catch2/catch.hpp>

#include <array>
#include <filesystem>
#include <string>
#include <sys/stat.h>

using headland::files::InputFile;
using namespace headland::test;

TEST_CASE("An input file gives its bytes from any place, and none from outside") {
    const TestFolder folder;
    put(folder / "file", "0123456789");
    InputFile file(folder / "file");
    CHECK(file.size_bytes() == 10);
    const auto read = [&](std::int64_t start_bytes, std::int64_t count_bytes) {
        std::array<char, 20> got{};
        const auto there_bytes = file.readAt(start_bytes, got.data(), count_bytes);
        return std::string(got.data(), static_cast<size_t>(there_bytes));
    };
    CHECK(read(0, 4) == "0123");
    CHECK(read(6, 4) == "6789");
    CHECK(read(8, 4) == "89");
    CHECK(read(10, 4).empty());
    CHECK(read(1000, 4).empty());
    CHECK(read(-1, 4).empty());
    CHECK(read(4, 0).empty());
    CHECK(file.failure().empty()); // the end of a file is no failure
}

TEST_CASE("An input file says when it has become shorter") {
    const TestFolder folder;
    put(folder / "file", "0123456789");
    InputFile file(folder / "file");
    std::filesystem::resize_file(folder / "file", 5);
    std::array<char, 8> got{};
    CHECK(file.readAt(0, got.data(), 8) == 5);
    CHECK(file.failure() == "the file has become shorter");
}

TEST_CASE("An input file is the one that was opened, whatever is put in its place") {
    const TestFolder folder;
    put(folder / "file", "0123456789");
    InputFile file(folder / "file");
    std::filesystem::remove(folder / "file");
    REQUIRE(::mkfifo((folder / "file").c_str(), 0600) == 0);
    std::array<char, 4> got{};
    CHECK(file.readAt(0, got.data(), 4) == 4);
    CHECK(std::string(got.data(), 4) == "0123");
}
