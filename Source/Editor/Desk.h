// SPDX-License-Identifier: GPL-3.0-or-later
// The window's whole content. Always in view: what is wrong, what disc is left and where the side will end, the stylus' cues,
// what is ridden, the program file. In between one of four pages: the stylus, the set-up, the preview, the book. Looks
// while it can be seen, and not otherwise: 60 times a second where drawing leaves room for it, else 30. Laid out for
// 900 x 600; Window scales it. What asks something of a person is a sheet over the page, never modal, and gone with the
// stylus down; Escape lifts whatever is open. Main thread.
#pragma once

#include "Editor/BookPage.h"
#include "Editor/CuePanel.h"
#include "Editor/FigureTile.h"
#include "Editor/FilePanel.h"
#include "Editor/KeysNotice.h"
#include "Editor/Keystrokes.h"
#include "Editor/Look.h"
#include "Editor/NoteBar.h"
#include "Editor/PreviewPage.h"
#include "Editor/SentenceList.h"
#include "Editor/SetupPage.h"
#include "Editor/Sheet.h"
#include "Editor/StylusPage.h"
#include "Editor/Viewpoint.h"

namespace headland::editor {

enum class Page { stylus, setup, preview, book };
inline constexpr std::size_t pageCount = 4;

class Desk final : public juce::Component,
                   public juce::FileDragAndDropTarget,
                   public Sheets,
                   public ListGround,
                   private juce::Timer {
public:
    explicit Desk(Access& access);
    ~Desk() override;

    /// What the timer does: looks if it can be seen.
    void tick();
    /// Looks, and shows what there is.
    void refresh();

    /// Where something happened, and so where what came of it is said.
    enum class Spot { window, setup, book, file };
    /// Says what was refused or done, beside where it happened, until the next action; looks.
    void say(Spot spot, const std::string& notice);

    void turnTo(Page page);
    Page page() const noexcept { return shownPage; }
    void showIn(Units units);
    Viewpoint& viewpoint() noexcept { return view; }
    /// Shows a cut of a book on the stylus' page; says why not where that fails, and returns it.
    Access::Refusal review(const std::string& book, std::int64_t cut);
    /// Reckons what other delays would have cost.
    void studyDelays() { preview.study(); }
    /// Nothing that is shown is still being made.
    bool isSettled() const { return view.isSettled() && preview.isSettled(); }

    void open(std::unique_ptr<Sheet> wanted) override;
    void closeSheet() override;
    /// What is open over the page; null: nothing.
    Sheet* sheet() const noexcept { return shownSheet.get(); }

    bool keyPressed(const juce::KeyPress& key) override;
    bool keyStateChanged(bool isKeyDown) override;
    /// Where the time of key presses comes from, ms.
    void keepTimeBy(std::function<double()> now_ms) { clock = std::move(now_ms); }
    /// Says that keys go elsewhere, or no longer.
    void noteKeyboard(bool isHere);
    /// As it looks by itself, whoever has keyboard and mouse at the moment: for a picture.
    void settleForPicture();
    bool isInterestedInFileDrag(const juce::StringArray& files) override;
    void filesDropped(const juce::StringArray& files, int x, int y) override;

    void paint(juce::Graphics& g) override;
    void paintOverChildren(juce::Graphics& g) override;
    void resized() override;

private:
    void timerCallback() override;
    void parentHierarchyChanged() override;
    void listenTo(Typing& typing);
    void give(cut::Cue cue);
    void lift();
    bool pressLog(const juce::KeyPress& key, double now_ms);
    bool pressView(const juce::KeyPress& key);
    juce::Rectangle<int> pageArea() const;
    void sayUnheeded(const Glimpse& glimpse);
    void showNotice(std::vector<Sentence>& sentences);
    void showPage(const Glimpse& glimpse);
    void showBar();
    void goBack();
    void writeNote(const Glimpse& then);
    void editNote(const log::LoggedNote& note);
    void deleteNote(const log::LoggedNote& note);
    void openNoteBar(const std::string& prompt, const std::string& text, NoteBar::Keep keep);
    juce::Component& componentOf(Page page);
    void layOutBar(juce::Rectangle<int> area);
    void layOutBottom(juce::Rectangle<int> area);
    void keepPace(double drawn_ms);

    Access& access;
    Look look;
    Units units = Units::metric;
    Page shownPage = Page::stylus;
    Viewpoint view;
    SentenceList wrong;
    std::array<FigureTile, 2> disc{FigureTile(30), FigureTile(30)};
    std::array<juce::TextButton, pageCount> pageButtons;
    juce::TextButton unitButton, backButton;
    StylusPage stylus;
    SetupPage setup;
    PreviewPage preview;
    BookPage book;
    CuePanel cues;
    std::vector<std::unique_ptr<ValueField>> ridden;
    std::unique_ptr<FilePanel> file;
    NoteBar noteBar; ///< in the file's place while it is open
    KeysNotice keysNotice;
    std::unique_ptr<Sheet> shownSheet;
    std::vector<std::unique_ptr<Sheet>> closedSheets; ///< that may still be running
    Keystrokes strokes;
    std::function<double()> clock = [] { return juce::Time::getMillisecondCounterHiRes(); };
    juce::TooltipWindow tooltips{this};
    std::string said; ///< until something is done
    Spot saidAt = Spot::window;
    std::string banner; ///< what is shown, when it is not the stylus
    std::uint32_t knownCues = 0, knownMarks = 0,
                  knownNotKept = 0; ///< that meant nothing, of which somebody knows
    bool hasLooked = false;
    double painting_ms = 0; ///< when the paint under way began
    double cost_ms = 0;     ///< of a look and a paint, smoothed
    int looksPerSecond = 60;
};

} // namespace headland::editor
