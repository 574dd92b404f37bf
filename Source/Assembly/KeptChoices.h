// SPDX-License-Identifier: GPL-3.0-or-later
// What a person has chosen in the standalone and finds again the next time, as JSON in a file. A file that is damaged, or of
// a newer Headland, is never written over: it is kept beside under another name, and that is said.
// Main thread.
#pragma once

#include <filesystem>
#include <map>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace headland::assembly {

struct KeptChoices {
    std::string state;                 ///< of the processor, as a host would keep it; empty: none yet
    std::vector<std::string> programs; ///< opened of late, the last one first
    std::map<std::string, std::string>
        folders;                               ///< by editor::Access::fileKinds: where files were chosen last
    std::map<std::string, std::string> device; ///< as JUCE's device manager writes it: attribute and value
    std::map<std::string, std::string> midi;   ///< inputs that give cues: identifier and name

    bool operator==(const KeptChoices&) const = default;
};

/// The version that is written, and the newest that is read.
inline constexpr int keptVersion = 1;

std::string textOf(const KeptChoices& choices);

/// Why a text holds no choices, as the second half of a sentence: "is damaged: programs is no list".
class NoChoices : public std::runtime_error {
public:
    using std::runtime_error::runtime_error;
};

/// The text is whole, and something else's.
class NotOurs : public NoChoices {
public:
    using NoChoices::NoChoices;
};

/// Takes text that may be anything, in bounded memory and stack. Throws NoChoices.
KeptChoices choicesFromText(std::string_view text);

class ChoicesFile {
public:
    /// Reads the file, if there is one.
    explicit ChoicesFile(std::filesystem::path path);

    const KeptChoices& choices() const noexcept { return known; }
    const std::filesystem::path& place() const noexcept { return path; }
    /// Writes the file, whole or not at all, unless it is what it was.
    void write(const KeptChoices& choices);

    /// What was wrong with the file that was read, with what became of it, or with the last writing; one sentence each.
    std::vector<std::string> troubles() const;
    /// A person has chosen a book since: what was read needs no answer any more.
    void answer() { unread.clear(); }

private:
    void read();
    void setAside(const std::string& why);
    void leaveAlone(const std::string& why);

    std::filesystem::path path;
    KeptChoices known;
    bool mayWrite = true;
    std::string unread, unwritten;
};

} // namespace headland::assembly
