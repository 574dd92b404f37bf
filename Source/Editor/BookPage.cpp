// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/BookPage.h"

#include "Editor/FileSheet.h"
#include "Editor/Look.h"

#include <utility>

namespace headland::editor {

namespace {

constexpr int bookGap = 6, logHeight = 176, bookButtonHeight = 34, bookNoticeHeight = 20;
constexpr float logShare = 0.42f;

} // namespace

BookPage::BookPage(Access& a, Sheets& s, const std::function<void(Typing&)>& prepare,
                   std::function<void(const std::string&)> say,
                   std::function<void(const std::string& book, std::int64_t cut)> toReview,
                   std::function<void()> writeNote)
    : access(a), sheets(s), onRefused(say), panel(a, s, prepare, std::move(say), std::move(writeNote)) {
    setComponentID("book page");
    list.onChoose = [this, toReview = std::move(toReview)](std::int64_t number) { toReview(path, number); };
    review.setComponentID("review");
    review.setTooltip("Shows the chosen cut in the views, as it was logged.");
    review.onClick = [this] { list.chooseSelected(); };
    other.setComponentID("other book");
    other.setTooltip(
        "Lists the cuts of another book, to review them; cuts go on being logged where they were.");
    other.onClick = [this] { chooseBook(); };
    for (juce::Component* part :
         std::initializer_list<juce::Component*>{&panel, &told, &list, &review, &other})
        addAndMakeVisible(part);
    list.show({}, "No book is chosen: choose one on the left, or another one to review.");
    review.setEnabled(false);
}

void BookPage::chooseBook() {
    FileQuestion question{"A book to review", {".headland"}};
    question.take = [this](const std::string& path) {
        open(path);
        return std::string();
    };
    sheets.open(std::make_unique<FileSheet>(std::move(question), access.folderOf("book")));
}

void BookPage::open(const std::string& book) {
    isOther = true;
    path = book;
    readCuts();
}

/// What cannot be read is said in the list's place and above.
void BookPage::readCuts() {
    std::vector<log::CutEntry> cuts;
    std::string why = "There is no cut in this book yet.";
    const juce::File file(juce::String::fromUTF8(path.c_str()));
    try {
        if (file.existsAsFile() && file.getSize() > 0)
            cuts = log::BookReader(path).cuts();
    } catch (const std::exception& problem) {
        why = problem.what();
        onRefused(why);
    }
    review.setEnabled(!cuts.empty());
    list.show(std::move(cuts), why);
}

/// The list is read again when the book, or a cut in it, has begun or ended.
void BookPage::show(const Glimpse& glimpse) {
    panel.show(glimpse);
    list.showIn(glimpse.units);
    const auto& log = glimpse.log;
    if (!isVisible())
        return;
    const auto wanted = isOther ? path : log.chosen.book;
    if (wanted.empty()
        || (wanted == path && log.cut == cut && glimpse.lastEnd == ending && log.chosen.side == ofSide))
        return;
    path = wanted;
    cut = log.cut;
    ending = glimpse.lastEnd;
    ofSide = log.chosen.side;
    readCuts();
}

void BookPage::resized() {
    auto area = getLocalBounds();
    told.setBounds(area.removeFromBottom(bookNoticeHeight));
    auto left = area.removeFromLeft(juce::roundToInt(logShare * static_cast<float>(area.getWidth())));
    panel.setBounds(left.removeFromTop(logHeight).withTrimmedRight(bookGap));
    auto buttons = area.removeFromBottom(bookButtonHeight);
    area.removeFromBottom(bookGap);
    review.setBounds(buttons.removeFromLeft(buttons.getWidth() / 2).withTrimmedRight(bookGap));
    other.setBounds(buttons);
    list.setBounds(area);
}

} // namespace headland::editor
