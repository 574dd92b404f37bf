// SPDX-License-Identifier: GPL-3.0-or-later
// What a file is refused with, and whether it is a sentence a person can use.
#pragma once

#include <catch2/catch.hpp>

#include <string>

namespace headland::test {

/// The words of the `Error` that `work` throws; empty if it throws none.
template <typename Error, typename Work>
std::string sentenceOf(Work work) {
    try {
        work();
    } catch (const Error& error) {
        return error.what();
    }
    return {};
}

/// One whole sentence that names the file and the trouble.
inline void requireSentence(const std::string& text, const std::string& path, const std::string& trouble) {
    INFO(text);
    CHECK_THAT(text, Catch::Contains('"' + path + '"'));
    CHECK_THAT(text, Catch::Contains(trouble));
    CHECK_THAT(text, Catch::Contains(": "));
    CHECK_THAT(text, Catch::EndsWith("."));
}

} // namespace headland::test
