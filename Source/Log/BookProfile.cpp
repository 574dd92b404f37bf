// SPDX-License-Identifier: GPL-3.0-or-later
#include "Log/BookProfile.h"

#include "Files/ProfileFile.h"

namespace headland::log {

std::string profileBytesOf(Database& book, std::int64_t profile) {
    auto pieces = book.prepare("SELECT bytes FROM profile_piece WHERE profile_id = ? ORDER BY number");
    std::string all;
    for (pieces.with(profile); all.size() <= files::profileSizeMax_bytes && pieces.step();)
        all += pieces.bytes(0);
    return all;
}

} // namespace headland::log
