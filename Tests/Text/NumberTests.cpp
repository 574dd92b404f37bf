// SPDX-License-Identifier: GPL-3.0-or-later
// Numbers as a person types them.

#include "Text/Number.h"

#include <catch2/catch.hpp>

#include <string>

using namespace headland::text;

namespace {

/// The number when it is the whole text.
std::optional<double> whole(std::string_view text) {
    const auto number = leadingNumber(text);
    return number && number->rest.empty() ? std::optional(number->value) : std::nullopt;
}

} // namespace

TEST_CASE("A decimal comma is read as a decimal point") {
    CHECK(whole("12,5") == 12.5);
    CHECK(whole("12.5") == 12.5);
    CHECK(whole("-0,25") == -0.25);
    CHECK(whole("1,5e3") == 1500.0);
    CHECK(whole("60,325") == 60.325); // a comma is never a mark of thousands
    CHECK(whole("33,333333333333336") == 100.0 / 3);
    CHECK(leadingNumber("12,5 µm")->value == 12.5);
    CHECK(leadingNumber("12,5 µm")->rest == " µm");
    CHECK(leadingNumber("5.75in")->rest == "in");
}

TEST_CASE("A fraction is read as the trade writes it, to the last bit") {
    CHECK(whole("33 1/3") == 100.0 / 3);
    CHECK(whole("16 2/3") == 50.0 / 3);
    CHECK(whole("3 3/11") == 36.0 / 11); // 3 + 3/11 would be rounded twice, to another number
    CHECK(whole("4 3/4") == 4.75);
    CHECK(whole("-2 1/2") == -2.5);
    CHECK(whole("3/8") == 0.375);
    CHECK(leadingNumber("5 3/4 in")->rest == " in");
    CHECK(leadingNumber("12 µm/s")->value == 12); // no fraction
    CHECK(leadingNumber("12 µm/s")->rest == " µm/s");
}

TEST_CASE("What could be more than one number is not read") {
    for (const auto* two : {"1,234.5", "1.234,5", "1,2,3", "1.2.3"}) // not its beginning either
        CHECK_FALSE(leadingNumber(two).has_value());
    for (const auto* wrong : {"1,234.5", "1.234,5", "1,2,3", "1.2.3", "12,", "12,x", ",", "", "x", "nan",
                              "inf", "1e999", "1/x", "1/0", "1,5/2", "1/-2", "1 -1/2", "99999999999/3"})
        CHECK_FALSE(whole(wrong).has_value());
}
