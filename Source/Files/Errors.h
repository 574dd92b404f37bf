// SPDX-License-Identifier: GPL-3.0-or-later
// What is thrown when a file of the user's will not do: the text is one whole sentence that says what is wrong, where,
// and what to do about it, ready to be shown as it is.

#pragma once

#include <stdexcept>

namespace headland::files {

/// The program file (or another input) cannot be used.
class InputError : public std::runtime_error {
public:
    using std::runtime_error::runtime_error;
};

/// An output file cannot be made, written or put in its place.
class OutputError : public std::runtime_error {
public:
    using std::runtime_error::runtime_error;
};

} // namespace headland::files
