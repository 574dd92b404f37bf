// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/LogPanel.h"

#include "Editor/Keys.h"
#include "Editor/Look.h"
#include "Editor/Words.h"

namespace headland::editor {

namespace {

constexpr int margin = 8, gap = 4, placeHeight = 54, buttonHeight = 30, nameHeight = 18, fieldHeight = 28;
constexpr float letters = 14;
constexpr auto bookSuffix = ".headland";

/// With the suffix of a book, unless it is there already.
juce::File asBook(const juce::File& file) {
    return file.exists() || file.getFileExtension().isNotEmpty()
               ? file
               : file.getSiblingFile(file.getFileName() + bookSuffix);
}

} // namespace

LogPanel::LogPanel(Access& a, const std::function<void(Typing&)>& prepare)
    : access(a),
      job(
          {"job", "Job", "What the record is called. For the next cut."}, [this] { return chosen.job; },
          [this](const std::string& text) {
              return access.nameSide({text, chosen.side});
          }),
      side(
          {"side", "Side", "Which side of the job: A, B. For the next cut."}, [this] { return chosen.side; },
          [this](const std::string& text) {
              return access.nameSide({chosen.job, text});
          }) {
    setComponentID("log");
    prepare(*this);
    prepare(job);
    prepare(side);
    book.setComponentID("book");
    book.setTooltip("Chooses the file that cuts are logged into, or begins one.");
    book.onClick = [this] { chooseBook(); };
    markButton.setComponentID("mark");
    markButton.setButtonText("Mark [" + keyName(markKey) + "]");
    markButton.setTooltip("Marks in the log where the stylus is.");
    markButton.onClick = [this] { mark(); };
    noteButton.setComponentID("note");
    noteButton.setButtonText("Note [" + keyName(noteKey) + "]");
    noteButton.setTooltip("Writes words into the log, at the time at which you press this.");
    noteButton.onClick = [this] { openNote(); };
    note.setComponentID("note text");
    note.setTitle("Note");
    note.setFont(juce::Font(16.0f));
    note.onReturnKey = [this] { takeNote(); };
    note.onEscapeKey = [this] {
        closeNote();
        if (onEscape)
            onEscape();
    };
    for (juce::Component* child :
         std::initializer_list<juce::Component*>{&book, &markButton, &noteButton, &job, &side})
        addAndMakeVisible(child);
    addChildComponent(note);
}

void LogPanel::chooseBook() {
    using Browser = juce::FileBrowserComponent;
    chooser = std::make_unique<juce::FileChooser>("The book that cuts are logged into, or a new one",
                                                  juce::File(), juce::String("*") + bookSuffix);
    chooser->launchAsync(
        Browser::saveMode | Browser::canSelectFiles, [this](const juce::FileChooser& wanted) {
            if (wanted.getResult() != juce::File())
                onEntered(access.logInto(asBook(wanted.getResult()).getFullPathName().toStdString()));
        });
}

void LogPanel::mark() {
    const auto refusal = whyNoMark(access.look());
    if (refusal.empty())
        access.mark();
    onEntered(refusal);
}

void LogPanel::openNote() {
    if (note.isVisible())
        return note.grabKeyboardFocus();
    const auto now = access.look();
    const auto refusal = whyNoNote(now);
    if (refusal.empty()) {
        notePlace = placeOfNote(now);
        noteLine = notePrompt(notePlace);
        note.clear();
        note.setVisible(true);
        job.setVisible(false);
        side.setVisible(false);
        note.grabKeyboardFocus();
        repaint();
    }
    onEntered(refusal);
}

/// What is refused stays in the field, so that nothing typed is lost.
void LogPanel::takeNote() {
    const auto text = note.getText().trim().toStdString();
    const auto refusal = text.empty() ? std::string() : access.note(notePlace, text);
    if (refusal.empty())
        closeNote();
    onEntered(refusal);
}

void LogPanel::closeNote() {
    note.setVisible(false);
    job.setVisible(true);
    side.setVisible(true);
    repaint();
    if (onDone)
        onDone();
}

void LogPanel::show(const Glimpse& glimpse) {
    chosen = glimpse.log.chosen.side;
    job.refresh();
    side.refresh();
    const auto wantedPlace = logText(glimpse), wantedLast = lastNoteText(glimpse.log);
    if (wantedPlace == placeLine && wantedLast == lastLine)
        return;
    placeLine = wantedPlace;
    lastLine = wantedLast;
    setTitle(toJuce(placeLine + (lastLine.empty() ? "" : " " + lastLine)));
    setTooltip(toJuce(glimpse.log.chosen.book));
    repaint();
}

bool LogPanel::press(const juce::KeyPress& key) {
    if (isKey(key, markKey))
        mark();
    else if (isKey(key, noteKey))
        openNote();
    else
        return false;
    return true;
}

void LogPanel::paint(juce::Graphics& g) {
    g.setColour(colour(palette::panel));
    g.fillRoundedRectangle(getLocalBounds().toFloat(), 4);
    auto area = getLocalBounds().reduced(margin, gap);
    drawWrapped(g, toJuce(placeLine), area.removeFromTop(placeHeight).toFloat(), letters,
                colour(palette::text));
    g.setColour(colour(palette::text));
    area.removeFromTop(buttonHeight + gap);
    if (note.isVisible())
        drawWhole(g, toJuce(noteLine), area.removeFromTop(nameHeight).toFloat(), letters,
                  juce::Justification::centredLeft);
    else
        area.removeFromTop(nameHeight);
    area.removeFromTop(fieldHeight);
    g.setColour(colour(palette::good));
    g.setFont(letters);
    g.drawText(toJuce(lastLine), area, juce::Justification::centredLeft); // of a long note, the beginning
}

void LogPanel::resized() {
    auto area = getLocalBounds().reduced(margin, gap).withTrimmedTop(placeHeight);
    auto buttons = area.removeFromTop(buttonHeight);
    const auto width = (buttons.getWidth() + gap) / 3;
    for (auto* button : {&book, &markButton, &noteButton})
        button->setBounds(buttons.removeFromLeft(width).withTrimmedRight(gap));
    area.removeFromTop(gap);
    auto names = area.removeFromTop(nameHeight + fieldHeight);
    note.setBounds(names.withTrimmedTop(nameHeight));
    side.setBounds(names.removeFromRight(width - gap));
    job.setBounds(names.withTrimmedRight(gap));
}

} // namespace headland::editor
