// SPDX-License-Identifier: GPL-3.0-or-later
// The stream under JUCE's readers: it gives the file's bytes and remembers what JUCE would pass over.

#include "Files/InputBytes.h"

#include "Tests/Files/TestFolder.h"

#include <catch2/catch.hpp>

#include <array>
#include <filesystem>
#include <string>

using headland::files::InputBytes;
using namespace headland::test;

TEST_CASE("Input bytes are those of the file, from any position") {
    const TestFolder folder;
    put(folder / "file", "0123456789");
    InputBytes bytes(folder / "file");
    std::array<char, 4> got{};
    CHECK(bytes.getTotalLength() == 10);
    CHECK(bytes.read(got.data(), 4) == 4);
    CHECK(std::string(got.data(), 4) == "0123");
    CHECK(bytes.getPosition() == 4);
    CHECK(bytes.setPosition(6));
    CHECK_FALSE(bytes.isExhausted());
    CHECK(bytes.read(got.data(), 4) == 4);
    CHECK(std::string(got.data(), 4) == "6789");
    CHECK(bytes.isExhausted());
    CHECK_FALSE(bytes.cameUpShort());
    CHECK(bytes.failure().empty());
}

TEST_CASE("Input bytes remember a read that came up short, until told to forget it") {
    const TestFolder folder;
    put(folder / "file", "0123456789");
    InputBytes bytes(folder / "file");
    std::array<char, 4> got{};
    bytes.setPosition(8);
    CHECK(bytes.read(got.data(), 4) == 2);
    CHECK(bytes.cameUpShort());
    CHECK(bytes.failure().empty()); // the end of a file is no failure
    bytes.forgetShortReads();
    CHECK_FALSE(bytes.cameUpShort());
    bytes.setPosition(1000);
    CHECK(bytes.read(got.data(), 4) == 0);
    CHECK(bytes.cameUpShort());
}

TEST_CASE("Input bytes give nothing to a reader that asks for less than nothing") {
    const TestFolder folder;
    put(folder / "file", "0123456789");
    InputBytes bytes(folder / "file");
    std::array<char, 4> got{};
    CHECK(bytes.read(got.data(), -4) == 0);
    CHECK(bytes.read(got.data(), 0) == 0);
    CHECK(bytes.getPosition() == 0);
    CHECK_FALSE(bytes.cameUpShort());
}

TEST_CASE("Input bytes stop a reader that goes on behind the end for ever") {
    const TestFolder folder;
    put(folder / "file", "0123");
    InputBytes bytes(folder / "file");
    const auto readOn = [&](int count) {
        for (int i = 0; i < count; ++i)
            bytes.readInt();
    };
    CHECK_NOTHROW(readOn(1000)); // a damaged header may do that
    CHECK_THROWS_AS(readOn(1000000), InputBytes::ReadingOn);
}

TEST_CASE("Input bytes say when the file has become shorter") {
    const TestFolder folder;
    put(folder / "file", "0123456789");
    InputBytes bytes(folder / "file");
    std::filesystem::resize_file(folder / "file", 5);
    std::array<char, 8> got{};
    CHECK(bytes.read(got.data(), 8) == 5);
    CHECK(bytes.failure() == "the file has become shorter");
}
