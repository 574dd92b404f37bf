// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/LogPanel.h"

#include "Editor/FileSheet.h"
#include "Editor/Keys.h"
#include "Editor/Look.h"
#include "Editor/Words.h"

#include <utility>

namespace headland::editor {

namespace {

constexpr int logMargin = 8, logGap = 4, placeHeight = 54, logButtonHeight = 30, logNameHeight = 18,
              logFieldHeight = 28;
constexpr float logLetters = 14;
constexpr auto bookSuffix = ".headland";

} // namespace

LogPanel::LogPanel(Access& a, Sheets& s, const std::function<void(Typing&)>& prepare,
                   std::function<void(const std::string&)> say, std::function<void()> writeNote)
    : access(a),
      sheets(s),
      onSaid(std::move(say)),
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
    noteButton.onClick = std::move(writeNote);
    for (juce::Component* child :
         std::initializer_list<juce::Component*>{&book, &markButton, &noteButton, &job, &side})
        addAndMakeVisible(child);
}

void LogPanel::chooseBook() {
    FileQuestion question{"The book that cuts are logged into, or a new one", {bookSuffix}};
    question.mayBeNew = true;
    question.take = [this](const std::string& path) {
        const auto refusal = access.logInto(path);
        if (refusal.empty())
            onSaid({});
        return refusal;
    };
    sheets.open(std::make_unique<FileSheet>(std::move(question), access.folderOf("book")));
}

void LogPanel::mark() {
    const auto refusal = whyNoMark(access.look());
    if (refusal.empty())
        access.mark();
    onSaid(refusal);
}

void LogPanel::markAt(const Glimpse& then) {
    const auto refusal = whyNoMark(then);
    onSaid(refusal.empty() ? access.note(placeOfNote(then), {}) : refusal);
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

void LogPanel::paint(juce::Graphics& g) {
    g.setColour(colour(palette::panel));
    g.fillRoundedRectangle(getLocalBounds().toFloat(), 4);
    auto area = getLocalBounds().reduced(logMargin, logGap);
    drawWrapped(g, toJuce(placeLine), area.removeFromTop(placeHeight).toFloat(), logLetters,
                colour(palette::text));
    g.setColour(colour(palette::text));
    area.removeFromTop(logButtonHeight + logGap + logNameHeight + logFieldHeight);
    g.setColour(colour(palette::good));
    g.setFont(logLetters);
    g.drawText(toJuce(lastLine), area, juce::Justification::centredLeft); // of a long note, the beginning
}

void LogPanel::resized() {
    auto area = getLocalBounds().reduced(logMargin, logGap).withTrimmedTop(placeHeight);
    auto buttons = area.removeFromTop(logButtonHeight);
    const auto width = (buttons.getWidth() + logGap) / 3;
    for (auto* button : {&book, &markButton, &noteButton})
        button->setBounds(buttons.removeFromLeft(width).withTrimmedRight(logGap));
    area.removeFromTop(logGap);
    auto names = area.removeFromTop(logNameHeight + logFieldHeight);
    side.setBounds(names.removeFromRight(width - logGap));
    job.setBounds(names.withTrimmedRight(logGap));
}

} // namespace headland::editor
