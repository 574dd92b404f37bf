// SPDX-License-Identifier: GPL-3.0-or-later
// Text made safe for a terminal, labels, JSON, XML and CSV. The sets are Unicode's: general categories Cc, Zl, Zp, the
// property Bidi_Control, noncharacters (Unicode 15, chapters 4, 5.19 and 23.7); overlong forms and surrogates in UTF-8 are
// refused as Unicode's table 3-7 has it.

#include "Text/Safe.h"

#include <catch2/catch.hpp>

#include <string>

using namespace headland::text;

namespace {

const std::string mark = "\xef\xbf\xbd"; // U+FFFD

} // namespace

TEST_CASE("Ordinary text of any script stays as it is") {
    for (const std::string kept :
         {"Abend für Streicher, Seite 2 \xe2\x80\x93 ½", "日本語 \xd8\xa7\xd9\x84 עברית", "\xf0\x9f\x8e\xbb",
          "", "\xe2\x80\x8d zero-width joiner, that emoji and Indic scripts need"})
        CHECK(printable(kept) == kept);
}

TEST_CASE("Text that steers a terminal is made harmless") {
    CHECK(printable("a\033[2Jb") == "a" + mark + "[2Jb");
    CHECK(printable("line\nline\r\t") == "line" + mark + "line" + mark + mark);
    CHECK(printable(std::string("a\0b", 3)) == "a" + mark + "b");
    CHECK(printable("\a\x7f") == mark + mark);
    CHECK(printable("\xc2\x80\xc2\x9b\x31m\xc2\x9f") == mark + mark + "1m" + mark); // C1, with its CSI
    CHECK(printable("\xc2\xa0") == "\xc2\xa0");                                     // the first after them
}

TEST_CASE("Text that turns the order of what stands around it, or breaks its line, is made harmless") {
    for (const std::string each :
         {"\xd8\x9c", "\xe2\x80\x8e", "\xe2\x80\x8f", "\xe2\x80\xa8", "\xe2\x80\xa9", "\xe2\x80\xaa",
          "\xe2\x80\xab", "\xe2\x80\xac", "\xe2\x80\xad", "\xe2\x80\xae", "\xe2\x81\xa6", "\xe2\x81\xa7",
          "\xe2\x81\xa8", "\xe2\x81\xa9", "\xef\xbb\xbf"})
        CHECK(printable("a" + each + "b") == "a" + mark + "b");
}

TEST_CASE("Noncharacters, of which XML knows none, are replaced") {
    for (const std::string each : {"\xef\xbf\xbe", "\xef\xbf\xbf", "\xef\xb7\x90", "\xef\xb7\xaf",
                                   "\xf0\x9f\xbf\xbe", "\xf4\x8f\xbf\xbf"})
        CHECK(printable(each) == mark);
}

TEST_CASE("What is no UTF-8 is replaced, and what follows it kept") {
    CHECK(printable("\xff") == mark);
    CHECK(printable("\xc3") == mark);
    CHECK(printable("\xff(\xc3(") == mark + "(" + mark + "(");
    CHECK(printable("\xc3\x1b[2J") == mark + mark + "[2J"); // a lead byte does not hide what comes after it
    for (const std::string wrong :
         {"\xc0\xaf", "\xe0\x80\xaf", "\xed\xa0\x80", "\xf4\x90\x80\x80", "\xf8\x88\x80\x80\x80"}) {
        const auto made = printable("a" + wrong + "b");
        CHECK(made.find(wrong) == std::string::npos);
        CHECK(made.starts_with("a" + mark));
        CHECK(made.ends_with(mark + "b"));
    }
}

TEST_CASE("Made safe twice is made safe once") {
    std::string all;
    for (int byte = 0; byte < 256; ++byte)
        for (int next = 0; next < 256; next += 5)
            all += {static_cast<char>(byte), static_cast<char>(next), static_cast<char>(0x80 + byte % 0x40)};
    const auto once = printable(all);
    CHECK(printable(once) == once);
    CHECK(once != all);
}
