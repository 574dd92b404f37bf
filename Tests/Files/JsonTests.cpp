// SPDX-License-Identifier: GPL-3.0-or-later
// JSON in and out: numbers to the bit, what RFC 8259 has not refused with the place, no text that a terminal or another
// program stumbles over. Debian's jq, another reader of JSON, must take whatever is written (section 2 and 7 of the RFC).

#include "Files/Json.h"

#include "Tests/Files/TestFolder.h"
#include "Tests/Support/Random.h"

#include <catch2/catch.hpp>

#include <bit>
#include <cmath>
#include <cstdlib>
#include <limits>

using namespace headland::files;
using namespace headland::test;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

namespace {

std::string problemOf(std::string_view text) {
    try {
        readJson(text);
    } catch (const JsonError& error) {
        return error.what();
    }
    return {};
}

} // namespace

TEST_CASE("Every number comes back to the same bits") {
    Random random(71);
    std::vector<double> numbers{
        0.0, -0.0, 100.0 / 3, 60.325, 0.1, 5e-324, std::numeric_limits<double>::max(), 1e22, 1e-5};
    for (int i = 0; i < 20000; ++i) {
        const auto bits = static_cast<std::uint64_t>(random.unit() * 0x1p32) << 32
                          | static_cast<std::uint64_t>(random.unit() * 0x1p32);
        if (const auto number = std::bit_cast<double>(bits); std::isfinite(number))
            numbers.push_back(number);
    }
    const auto read = readJson(jsonText(Json(numbers)));
    REQUIRE(read.size() == numbers.size());
    for (std::size_t i = 0; i < numbers.size(); ++i)
        if (std::bit_cast<std::uint64_t>(read[i].get<double>()) != std::bit_cast<std::uint64_t>(numbers[i]))
            FAIL(numbers[i] << " came back as " << read[i]);
}

TEST_CASE("Members keep their order, and what is no number is null") {
    CHECK(jsonText({{"b", 1}, {"a", std::numeric_limits<double>::quiet_NaN()}, {"c", INFINITY}})
          == "{\n    \"b\": 1,\n    \"a\": null,\n    \"c\": null\n}\n");
    CHECK(jsonText(readJson(R"({"z": 1, "a": [true, "x"], "m": {}})"))
          == "{\n    \"z\": 1,\n    \"a\": [\n        true,\n        \"x\"\n    ],\n    \"m\": {}\n}\n");
}

TEST_CASE("What RFC 8259 has not is refused, with the place") {
    CHECK(problemOf("{\"a\": 1}\n").empty());
    CHECK_THAT(problemOf("{\n  \"a\": 012\n}"), StartsWith("line 2, column 10 (byte 12)"));
    CHECK_THAT(problemOf("{\"a\": 1} x"), StartsWith("line 1, column 10 (byte 10)"));
    for (const auto* wrong : {"",
                              " ",
                              "{",
                              "[1,]",
                              "{\"a\": 1,}",
                              "{a: 1}",
                              "{'a': 1}",
                              "[1] [2]",
                              "[+1]",
                              "[.5]",
                              "[1.]",
                              "[0x10]",
                              "[NaN]",
                              "[Infinity]",
                              "[1e]",
                              "// no\n1",
                              "[1 /* no */]",
                              "[\"\t\"]",
                              "[\"\x01\"]",
                              "[\"\\x41\"]",
                              "[\"\\ud800\"]",
                              "[\"\xff\"]",
                              "[\"\xc0\xaf\"]",
                              "[\"\xed\xa0\x80\"]",
                              "tru",
                              "nul",
                              "\"",
                              "[1e999]",
                              "[-1e999]"}) {
        INFO(wrong);
        CHECK_FALSE(problemOf(wrong).empty());
    }
}

TEST_CASE("A name that stands twice in an object is refused, and in two objects it is none of that") {
    CHECK(problemOf(R"({"a": {"a": 1}, "b": [{"a": 1}, {"a": 2}]})").empty());
    CHECK_THAT(problemOf("{\"a\": 1,\n \"a\": 2}"), Contains("'a' stands twice") && Contains("line 2"));
    CHECK_THAT(problemOf(R"({"x": {"a": 1, "b": 2, "a": 1}})"), Contains("'a' stands twice"));
    CHECK_THAT(problemOf(R"({"a": 1, "\u0061": 1})"), Contains("'a' stands twice"));
    CHECK_THAT(problemOf("{\"\\u001b[2J\": 1, \"\\u001b[2J\": 1}"), Contains("'\xef\xbf\xbd[2J'"));
}

TEST_CASE("However deep a text nests, it is read to the bound and refused there") {
    const auto nested = [](int depth) {
        return std::string(static_cast<std::size_t>(depth), '[')
               + std::string(static_cast<std::size_t>(depth), ']');
    };
    CHECK(problemOf(nested(jsonDepthMax)).empty());
    CHECK_THAT(problemOf(nested(jsonDepthMax + 1)), Contains("deep") && Contains("byte 17"));
    CHECK_THAT(problemOf(nested(200000)), Contains("deep"));
    std::string objects;
    for (int i = 0; i < 200000; ++i)
        objects += "{\"a\":";
    CHECK_THAT(problemOf(objects), Contains("deep"));
}

TEST_CASE("What is written is JSON, whatever bytes its texts are made of: jq reads it") {
    const TestFolder folder;
    std::string bytes;
    for (int byte = 0; byte < 256; ++byte)
        bytes += static_cast<char>(byte);
    const Json hostile{
        {"a\a\x1b[2J", bytes}, {"b", "\xe2\x80\xae\xc2\x9b\xef\xbf\xbe"}, {"c", {bytes, {{bytes, 1}}}}};
    for (const auto& text : {jsonText(hostile), reportText(hostile)}) {
        put(folder / "hostile.json", text);
        CHECK(std::system(("jq -e . '" + (folder / "hostile.json") + "' > /dev/null").c_str()) == 0);
        CHECK_NOTHROW(readJson(text));
    }
    const auto report = reportText(hostile);
    for (const auto* unsafe : {"\x1b", "\a", "\\u", "\xc2\x9b", "\xe2\x80\xae", "\xef\xbf\xbe", "\x7f"})
        CHECK_THAT(report, !Contains(unsafe));
    CHECK_THAT(report, StartsWith("{\n    \"a\xef\xbf\xbd\xef\xbf\xbd[2J\": "));
}
