// SPDX-License-Identifier: GPL-3.0-or-later
// What is thrown when a file of the user's will not do: the text is one whole sentence that says what is wrong, where,
// and what to do about it, ready to be shown as it is: whatever names of files it holds, it is printable() and one line.

#pragma once

#include "Text/Safe.h"

#include <stdexcept>
#include <string>
#include <vector>

namespace headland::files {

/// The program file (or another input) cannot be used.
class InputError : public std::runtime_error {
public:
    explicit InputError(const std::string& sentence) : runtime_error(text::printable(sentence)) {}
    /// Everything that is wrong: each sentence is a line of its own.
    explicit InputError(const std::vector<std::string>& sentences)
        : runtime_error(text::printableLines(sentences)) {}
};

/// An output file cannot be made, written or put in its place.
class OutputError : public std::runtime_error {
public:
    explicit OutputError(const std::string& sentence) : runtime_error(text::printable(sentence)) {}
};

} // namespace headland::files
