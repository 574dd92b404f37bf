// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/FileSheet.h"
#include "Text/Safe.h"

#include "Editor/Look.h"

#include <algorithm>
#include <utility>

namespace headland::editor {

namespace fs = std::filesystem;

namespace {

constexpr int fileSheetLineHeight = 34, fileSheetNameHeight = 24, refusalHeight = 44, fileSheetGap = 6;
constexpr float picksShare = 0.36f, fileSheetLetters = 16;

std::string smallSuffix(const fs::path& file) {
    return toJuce(file.extension().string()).toLowerCase().toStdString();
}

/// A path as somebody writes it: "~" is home, a file manager puts it into quotation marks, and what is not whole is looked
/// for in the folder that is shown.
fs::path pathOf(std::string text, const fs::path& folder) {
    const auto trimmed = toJuce(text).trim().unquoted();
    const auto home = juce::File::getSpecialLocation(juce::File::userHomeDirectory).getFullPathName();
    text = (trimmed == "~" || trimmed.startsWith("~/") ? home + trimmed.substring(1) : trimmed).toStdString();
    return (folder / fs::path(text)).lexically_normal();
}

fs::path beginning(const std::string& remembered) {
    std::error_code error;
    if (!remembered.empty() && fs::is_directory(remembered, error))
        return remembered;
    return juce::File::getSpecialLocation(juce::File::userHomeDirectory).getFullPathName().toStdString();
}

} // namespace

FileSheet::FileSheet(FileQuestion q, std::string& f)
    : Sheet(toJuce(q.name), nullptr), question(std::move(q)), remembered(f) {
    line.setComponentID("sheet path");
    line.setTitle("Path");
    line.setFont(juce::Font(fileSheetLetters));
    line.setJustification(juce::Justification::centredLeft);
    line.onReturnKey = [this] { enter(line.getText().toStdString()); };
    line.onEscapeKey = [this] {
        if (onEscape)
            onEscape();
    };
    line.addKeyListener(this);
    files.setComponentID("sheet files");
    files.setTitle("Files");
    files.onSelect = [this](int row) {
        if (row >= 0)
            line.setText(toJuce(entries[static_cast<std::size_t>(row)].string()), false);
    };
    files.onChoose = [this](int row) { enter(entries[static_cast<std::size_t>(row)].string()); };
    picks.setComponentID("sheet picks");
    picks.setTitle(toJuce(question.picksName));
    std::vector<std::string> labels;
    for (const auto& pick : question.picks)
        labels.push_back(text::printable(pick.label));
    picks.show(std::move(labels));
    picks.choosesByClick = true;
    picks.onChoose = [this](int row) { take(question.picks[static_cast<std::size_t>(row)].value, {}); };
    addAndMakeVisible(line);
    addAndMakeVisible(files);
    addChildComponent(picks);
    picks.setVisible(!question.picks.empty());
    goTo(beginning(remembered));
}

FileSheet::~FileSheet() {
    line.removeKeyListener(this);
}

void FileSheet::takeKeyboard() {
    line.grabKeyboardFocus();
    line.moveCaretToEnd();
}

void FileSheet::say(const std::string& sentence) {
    refused = sentence;
    setDescription(toJuce(sentence));
    repaint();
}

void FileSheet::goTo(const fs::path& wanted) {
    folder = wanted;
    if (!folder.has_filename() && folder.has_parent_path() && folder != folder.root_path())
        folder = folder.parent_path(); // a slash at the end
    say({});
    readFolder();
    line.setText(toJuce((folder / "").string()), false);
    line.moveCaretToEnd();
}

/// Folders first, then the files that can be taken; hidden ones are not shown.
void FileSheet::readFolder() {
    std::vector<fs::path> folders, taken;
    std::error_code error;
    for (fs::directory_iterator it(folder, fs::directory_options::skip_permission_denied, error), end;
         !error && it != end; it.increment(error)) {
        const auto& path = it->path();
        std::error_code unknown;
        if (path.filename().string().starts_with("."))
            continue;
        if (it->is_directory(unknown))
            folders.push_back(path);
        else if (const auto& all = question.suffixes;
                 std::find(all.begin(), all.end(), smallSuffix(path)) != all.end())
            taken.push_back(path);
    }
    if (error)
        say(text::printable(folder.string()) + " cannot be read: " + error.message() + ".");
    std::sort(folders.begin(), folders.end());
    std::sort(taken.begin(), taken.end());
    entries = {folder.parent_path()};
    std::vector<std::string> lines{"..  (the folder above)"};
    for (const auto& path : folders) {
        entries.push_back(path);
        lines.push_back(text::printable(path.filename().string()) + "/");
    }
    for (const auto& path : taken) {
        entries.push_back(path);
        lines.push_back(text::printable(path.filename().string()));
    }
    files.show(std::move(lines));
}

void FileSheet::enter(const std::string& text) {
    auto path = pathOf(text, folder);
    std::error_code error;
    if (fs::is_directory(path, error))
        return goTo(path);
    if (question.mayBeNew && !path.has_extension() && !fs::exists(path, error))
        path += question.suffixes.front();
    const auto isThere = fs::exists(path, error);
    if (!isThere && !question.mayBeNew)
        return say("There is no file " + text::printable(path.string()) + ".");
    if (isThere && question.writesOver && std::exchange(askedAbout, path.string()) != path.string())
        return say(text::printable(path.filename().string())
                   + " is there already: press Return once more to write over it.");
    take(path.string(), path.parent_path());
}

void FileSheet::take(const std::string& value, const fs::path& from) {
    if (const auto refusal = question.take(value); !refusal.empty())
        return say(refusal);
    if (!from.empty())
        remembered = from.string();
    if (onClose)
        onClose();
}

/// The arrow keys look at one file after the other while the path has the keyboard.
bool FileSheet::keyPressed(const juce::KeyPress& key, juce::Component*) {
    if (!key.isKeyCode(juce::KeyPress::downKey) && !key.isKeyCode(juce::KeyPress::upKey))
        return false;
    const auto row = files.getSelectedRow() + (key.isKeyCode(juce::KeyPress::downKey) ? 1 : -1);
    files.selectRow(std::clamp(row, 0, static_cast<int>(entries.size()) - 1));
    return true;
}

void FileSheet::paint(juce::Graphics& g) {
    Sheet::paint(g);
    auto area = contentArea();
    auto below = area.removeFromBottom(refusalHeight).toFloat();
    area.removeFromTop(fileSheetLineHeight + fileSheetGap);
    auto names = area.removeFromTop(fileSheetNameHeight);
    g.setColour(colour(palette::text));
    if (picks.isVisible())
        drawWhole(g, toJuce(question.picksName),
                  picks.getBounds().withY(names.getY()).withHeight(fileSheetNameHeight).toFloat(), 15,
                  juce::Justification::centredLeft, true);
    drawWhole(g, toJuce("In " + folder.string()),
              files.getBounds().withY(names.getY()).withHeight(fileSheetNameHeight).toFloat(), 15,
              juce::Justification::centredLeft, true);
    drawWrapped(g,
                refused.empty()
                    ? juce::String("Type or paste a path and press Return, or choose with the arrow keys; "
                                   "Escape closes this, and lifts.")
                    : toJuce(refused),
                below, fileSheetLetters, colour(refused.empty() ? palette::quiet : palette::caution));
}

void FileSheet::resized() {
    Sheet::resized();
    auto area = contentArea().withTrimmedBottom(refusalHeight + fileSheetGap);
    line.setBounds(area.removeFromTop(fileSheetLineHeight));
    area.removeFromTop(fileSheetGap + fileSheetNameHeight);
    if (picks.isVisible()) {
        picks.setBounds(
            area.removeFromLeft(juce::roundToInt(picksShare * static_cast<float>(area.getWidth()))));
        area.removeFromLeft(fileSheetGap);
    }
    files.setBounds(area);
}

} // namespace headland::editor
