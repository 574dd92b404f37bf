// SPDX-License-Identifier: GPL-3.0-or-later
// A folder of its own for one test, gone with everything in it when the test ends.

#pragma once

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <stdexcept>
#include <string>

namespace headland::test {

class TestFolder {
public:
    TestFolder() {
        auto pattern = (std::filesystem::temp_directory_path() / "headland-test-XXXXXX").string();
        if (::mkdtemp(pattern.data()) == nullptr)
            throw std::runtime_error("no folder for the test: " + pattern);
        folder = pattern;
    }
    ~TestFolder() {
        std::error_code ignored; // a test may have taken its own folder's permissions away
        std::filesystem::permissions(folder, std::filesystem::perms::owner_all, ignored);
        std::filesystem::remove_all(folder, ignored);
    }
    TestFolder(const TestFolder&) = delete;
    TestFolder& operator=(const TestFolder&) = delete;

    const std::filesystem::path& path() const { return folder; }
    std::string operator/(const std::string& name) const { return (folder / name).string(); }

    /// How many entries the folder holds.
    long count() const {
        return std::distance(std::filesystem::directory_iterator(folder),
                             std::filesystem::directory_iterator());
    }

private:
    std::filesystem::path folder;
};

/// The whole content of a file.
inline std::string contentOf(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

/// Makes or replaces a file with this content.
inline void put(const std::string& path, const std::string& content) {
    std::ofstream file(path, std::ios::binary);
    file << content;
    if (!file.flush())
        throw std::runtime_error("cannot write " + path);
}

} // namespace headland::test
