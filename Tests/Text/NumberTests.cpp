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

TEST_CASE("What could be more than one number is not read") {
    for (const auto* wrong :
         {"1,234.5", "1.234,5", "1,2,3", "1.2.3", "12,", "12,x", ",", "", "x", "nan", "inf", "1e999"})
        CHECK_FALSE(leadingNumber(wrong).has_value());
}
