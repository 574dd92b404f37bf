// SPDX-License-Identifier: GPL-3.0-or-later
// The steps by which a book came from its first version to today's, in SQL. Constant data; any thread.
#pragma once

#include <span>
#include <string>

namespace headland::log {

/// What turns a book of the version before into one of `version`; the first makes an empty file one of version 1.
struct BookStep {
    int version;
    std::string sql;
};

/// Every step so far, in order.
std::span<const BookStep> bookSteps();

} // namespace headland::log
