// SPDX-License-Identifier: GPL-3.0-or-later
#include "Files/KeptFiles.h"

#include <algorithm>
#include <filesystem>

namespace headland::files {

namespace {

namespace fs = std::filesystem;

constexpr int linksMost = 40; // as the system has it

/// Follows the links of the last name, also one that leads to a file which is not there.
fs::path linksFollowed(fs::path place, std::error_code& error) {
    for (auto i = 0; i < linksMost && fs::is_symlink(place, error); ++i) {
        const auto target = fs::read_symlink(place, error);
        if (error)
            return place;
        place = target.is_absolute() ? target : place.parent_path() / target;
    }
    return place;
}

} // namespace

std::string wholePlace(const std::string& path) {
    std::error_code error;
    const auto place = linksFollowed(fs::absolute(path, error), error);
    const auto folder = fs::weakly_canonical(place.parent_path(), error);
    return error ? path : (folder / place.filename()).string();
}

std::vector<std::string> besideBook(const std::string& book) {
    return {book + "-wal", book + "-shm", book + "-journal"};
}

void KeptFiles::add(const std::string& path, const std::string& role) {
    all.push_back({path, wholePlace(path), role, FileIdentity(path)});
}

void KeptFiles::addBook(const std::string& path, const std::string& role) {
    add(path, role);
    for (const auto& name : {path, wholePlace(path)}) // SQLite names them after the file that a link leads to
        for (const auto& beside : besideBook(name))
            add(beside, "what belongs to " + role);
}

std::string KeptFiles::roleAt(const std::string& path) const {
    const auto place = wholePlace(path);
    const FileIdentity there(path);
    const auto found = std::find_if(all.begin(), all.end(), [&](const Kept& kept) {
        return kept.place == place || kept.identity.isAt(path) || there.isAt(kept.path);
    });
    return found == all.end() ? std::string() : found->role;
}

} // namespace headland::files
