// SPDX-License-Identifier: GPL-3.0-or-later
#include "Assembly/KeptChoices.h"

#include "Files/Errors.h"
#include "Files/Json.h"
#include "Files/OutputFile.h"

#include <algorithm>
#include <fstream>
#include <system_error>
#include <utility>

namespace headland::assembly {

namespace fs = std::filesystem;
using files::Json;

namespace {

constexpr std::size_t bytesMost = 1 << 20; ///< a thousand times what one is long
constexpr auto versionKey = "headland_settings";

Json parse(std::string_view text) {
    try {
        return files::readJson(text);
    } catch (const files::JsonError& error) {
        throw NoChoices(std::string("is damaged: ") + error.what());
    }
}

std::string textAt(const Json& value, const char* what) {
    if (!value.is_string())
        throw NoChoices(std::string("is damaged: ") + what + " is no text");
    return value.get<std::string>();
}

std::map<std::string, std::string> textsAt(const Json& root, const char* key) {
    std::map<std::string, std::string> all;
    if (!root.contains(key))
        return all;
    if (!root[key].is_object())
        throw NoChoices(std::string("is damaged: ") + key + " is no object");
    for (const auto& [name, value] : root[key].items())
        all[name] = textAt(value, key);
    return all;
}

void checkVersion(const Json& root) {
    if (!root.is_object() || !root.contains(versionKey) || !root[versionKey].is_number_integer())
        throw NotOurs("holds no settings of Headland's");
    const auto version = root[versionKey].get<std::int64_t>();
    if (version > keptVersion)
        throw NoChoices("is of a newer Headland (version " + std::to_string(version)
                        + "; this one reads up to " + std::to_string(keptVersion) + ")");
    if (version < 1)
        throw NoChoices("is damaged: there never was a version " + std::to_string(version));
}

/// Ours, begun: JSON, or what JUCE wrote as XML before.
bool couldBeOurs(const std::string& text) {
    const auto begins = text.find_first_not_of(" \t\r\n");
    if (begins == std::string::npos || text[begins] == '<')
        return text.find("<PROPERTIES") != std::string::npos;
    return text[begins] == '{' || text[begins] == '[';
}

std::string shown(const fs::path& path) {
    return path.string();
}

} // namespace

std::string textOf(const KeptChoices& choices) {
    Json root{{versionKey, keptVersion},   {"state", choices.state},   {"programs", choices.programs},
              {"folders", Json::object()}, {"device", Json::object()}, {"midi", Json::object()}};
    for (const auto& [key, texts] : {std::pair{"folders", &choices.folders},
                                     std::pair{"device", &choices.device}, std::pair{"midi", &choices.midi}})
        for (const auto& [name, value] : *texts)
            root[key][name] = value;
    return files::jsonText(root); // a name may be no UTF-8
}

KeptChoices choicesFromText(std::string_view text) {
    if (text.size() > bytesMost)
        throw NoChoices("is damaged: it is longer than settings are");
    const auto root = parse(text);
    checkVersion(root);
    KeptChoices choices;
    if (root.contains("state"))
        choices.state = textAt(root["state"], "state");
    if (root.contains("programs")) {
        if (!root["programs"].is_array())
            throw NoChoices("is damaged: programs is no list");
        for (const auto& path : root["programs"])
            choices.programs.push_back(textAt(path, "programs"));
    }
    choices.folders = textsAt(root, "folders");
    choices.device = textsAt(root, "device");
    choices.midi = textsAt(root, "midi");
    return choices;
}

ChoicesFile::ChoicesFile(fs::path p) : path(std::move(p)) {
    try {
        read();
    } catch (const NoChoices& problem) {
        setAside(problem.what());
    }
}

void ChoicesFile::read() {
    std::error_code error;
    if (!fs::exists(path, error) && !error)
        return;                            // the first time
    if (!fs::is_regular_file(path, error)) // a pipe would be waited for, a folder is somebody's
        return leaveAlone("are no file");
    if (fs::file_size(path, error) == 0)
        throw NoChoices("is damaged: it is empty");
    std::ifstream stream(path, std::ios::binary);
    std::string text(bytesMost + 1, '\0'); // no more, whatever it is
    stream.read(text.data(), static_cast<std::streamsize>(text.size()));
    text.resize(static_cast<std::size_t>(std::max<std::streamsize>(0, stream.gcount())));
    if (text.empty())
        throw NoChoices("cannot be read");
    if (!couldBeOurs(text)) // a program, a book: not ours to rename
        return leaveAlone("hold something else");
    try {
        known = choicesFromText(text);
    } catch (const NotOurs&) {
        leaveAlone("hold something else");
    }
}

void ChoicesFile::leaveAlone(const std::string& why) {
    mayWrite = false;
    unread = "The settings " + shown(path) + " " + why
             + ", so nothing that is chosen now is kept; name another file with --settings.";
}

/// Beside it, under the first name that is free: an older one is kept as well.
void ChoicesFile::setAside(const std::string& why) {
    auto aside = path;
    aside += ".bak";
    std::error_code error;
    for (int i = 2; fs::exists(aside, error); ++i) {
        aside = path;
        aside += ".bak" + std::to_string(i);
    }
    fs::rename(path, aside, error);
    mayWrite = !error;
    unread =
        "The settings file " + shown(path) + " " + why + "; "
        + (error ? "it cannot be renamed, so it stays as it is and nothing chosen now is kept"
                 : "it is kept as " + shown(aside.filename()) + ", and everything is as at the first start")
        + ": check the set-up, and choose on the page Book the book that cuts are to be logged into.";
}

void ChoicesFile::write(const KeptChoices& choices) {
    std::error_code error;
    if (!mayWrite || (choices == known && fs::exists(path, error)))
        return;
    try {
        if (path.has_parent_path())
            fs::create_directories(path.parent_path(), error); // what fails is said by the next line
        files::OutputFile file(path.string(), {});
        file.write(textOf(choices));
        file.commit();
        known = choices;
        unwritten.clear();
    } catch (const files::OutputError& problem) {
        unwritten = std::string("What you choose is not kept: ") + problem.what();
    }
}

std::vector<std::string> ChoicesFile::troubles() const {
    std::vector<std::string> all;
    for (const auto& sentence : {unread, unwritten})
        if (!sentence.empty())
            all.push_back(sentence);
    return all;
}

} // namespace headland::assembly
