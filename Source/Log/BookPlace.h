// SPDX-License-Identifier: GPL-3.0-or-later
// What can be seen of a book's place before it is opened: opening a pipe would wait for ever, a file without a name would be
// one that SQLite throws away. Any thread.
#pragma once

#include <string>

namespace headland::log {

/// Throws BookRefused when a book can be neither there nor made there: no name, a folder, a pipe or a device, or one of those
/// where SQLite keeps its files beside the book. Whether it is there at all is left to whoever opens it.
void checkBookPlace(const std::string& path);

/// The book is there and its permissions allow nobody to write into it. The system would let an administrator all the same.
bool isWriteProtected(const std::string& path);

} // namespace headland::log
