// SPDX-License-Identifier: GPL-3.0-or-later
// All that is done with a book when it is reviewed, in the tool and in the window, as far as it needs no window: for the
// fuzz targets, which give it whatever they like.
#pragma once

#include "Console/ReviewCommand.h"
#include "Files/Errors.h"
#include "Log/BookReader.h"

#include <cstdlib>
#include <filesystem>
#include <optional>
#include <sstream>
#include <string>
#include <unistd.h>

namespace headland::fuzz {

/// A folder in memory for one process.
inline const std::string& folder() {
    static const auto place = [] {
        auto pattern = (std::filesystem::exists("/dev/shm") ? std::string("/dev/shm") : std::string("/tmp"))
                       + "/headland-fuzz-XXXXXX";
        if (::mkdtemp(pattern.data()) == nullptr)
            std::abort();
        return pattern;
    }();
    return place;
}

/// Lists it, and reviews its first cuts with everything that can be asked for. Every end must be a sentence or a result.
inline void reviewAll(const std::string& book) {
    using console::ReviewRequest;
    const auto review = [](const ReviewRequest& request) {
        std::ostringstream out;
        try {
            console::reviewCommand(request, out);
        } catch (const files::InputError&) {
        } catch (const files::OutputError&) {
        }
    };
    ReviewRequest list;
    list.book = book;
    list.check = true;
    review(list);
    for (const std::int64_t cut : {1, 2}) {
        ReviewRequest all;
        all.book = book;
        all.cut = cut;
        all.csv = folder() + "/a.csv";
        all.json = folder() + "/a.json";
        all.picture = folder() + "/a.svg";
        all.quiet = true;
        review(all);
        all.csv.reset();
        all.json.reset();
        all.picture.reset();
        all.quiet = false;
        review(all);
        try {
            log::BookReader reader(book);
            for (const auto& place : reader.places(cut)) {
                auto groove = all;
                groove.grooves = {{std::to_string(place.time_s), folder() + "/g.svg"}};
                review(groove);
            }
        } catch (const files::InputError&) {
        }
    }
}

} // namespace headland::fuzz
