// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/Desk.h"

#include "Editor/Keys.h"
#include "Files/Caution.h"

#include <algorithm>
#include <utility>

namespace headland::editor {

namespace {

constexpr int deskGap = 4, deskMargin = 6;
constexpr int topHeight = 78, barHeight = 28, fileHeight = 30, bottomHeight = 64, cautionHeight = 28,
              keysHeight = 26;
constexpr int discWidth = 184, pageWidth = 88, unitWidth = 150, backWidth = 150;
constexpr float ridesShare = 0.43f;

constexpr std::array<const char*, pageCount> pageNames{"Stylus [1]", "Set-up [2]", "Preview [3]", "Book [4]"};

std::string_view labelOf(cut::Cue cue) {
    for (const auto& key : cueKeys)
        if (key.cue == cue)
            return key.label;
    return {};
}

/// Puts components side by side, all of one width.
template <typename Components>
void layInRow(juce::Rectangle<int> area, Components&& components) {
    const auto count = static_cast<int>(std::size(components));
    if (count == 0)
        return;
    const auto width = (area.getWidth() + deskGap) / count;
    for (auto& component : components) {
        component->setBounds(area.removeFromLeft(width - deskGap));
        area.removeFromLeft(deskGap);
    }
}

bool isStylusDown(const Glimpse& glimpse) {
    return glimpse.status.state != cut::State::up || glimpse.status.lowering;
}

const char* unitText(Units units) {
    return units == Units::metric ? "\xc2\xb5m, mm, lines/cm [U]" : "mil, in, lines/in [U]";
}

} // namespace

Desk::Desk(Access& a)
    : access(a),
      view(a),
      stylus(view),
      setup(
          a, *this, [this](Typing& typing) { listenTo(typing); },
          [this](const std::string& text) { say(Spot::setup, text); }),
      preview(
          a, view, [this](Typing& typing) { listenTo(typing); },
          [this](const std::string& refusal) { say(Spot::window, refusal); }),
      book(
          a, *this, [this](Typing& typing) { listenTo(typing); },
          [this](const std::string& text) { say(Spot::book, text); },
          [this](const std::string& path, std::int64_t cut) { say(Spot::book, review(path, cut)); },
          [this] { writeNote(access.look()); }),
      cues([this](cut::Cue cue) { give(cue); }),
      keysNotice(a.cutsFiles() ? "another window" : "the host") {
    setLookAndFeel(&look);
    setWantsKeyboardFocus(true);
    setOpaque(true);
    for (const auto& field : access.fields())
        if (field.isRidden) {
            auto& value = ridden.emplace_back(std::make_unique<ValueField>(field));
            listenTo(*value);
        }
    if (access.cutsFiles())
        file = std::make_unique<FilePanel>(access, *this,
                                           [this](const std::string& refusal) { say(Spot::file, refusal); });
    addAndMakeVisible(wrong);
    for (auto& tile : disc)
        addAndMakeVisible(tile);
    for (std::size_t i = 0; i < pageCount; ++i) {
        pageButtons[i].setComponentID("page " + juce::String(i + 1));
        pageButtons[i].setButtonText(pageNames[i]);
        pageButtons[i].onClick = [this, i] { turnTo(static_cast<Page>(i)); };
        addAndMakeVisible(pageButtons[i]);
    }
    unitButton.setComponentID("units");
    unitButton.setTooltip("Shows everything in the other units.");
    unitButton.onClick = [this] { showIn(units == Units::metric ? Units::inch : Units::metric); };
    backButton.setComponentID("back");
    backButton.onClick = [this] { goBack(); };
    addAndMakeVisible(unitButton);
    addAndMakeVisible(backButton);
    for (juce::Component* part : std::initializer_list<juce::Component*>{&stylus, &setup, &preview, &book})
        addChildComponent(part);
    addAndMakeVisible(cues);
    for (auto& value : ridden)
        addAndMakeVisible(*value);
    if (file)
        addAndMakeVisible(*file);
    stylus.onEditNote = [this](const log::LoggedNote& note) { editNote(note); };
    stylus.onDeleteNote = [this](const log::LoggedNote& note) { deleteNote(note); };
    noteBar.onEscape = [this] { lift(); };
    noteBar.onDone = [this] {
        if (file)
            file->setVisible(true);
        grabKeyboardFocus();
    };
    addChildComponent(noteBar);
    keysNotice.onClick = [this] { grabKeyboardFocus(); };
    addChildComponent(keysNotice);
    turnTo(Page::stylus);
    startTimerHz(looksPerSecond);
}

Desk::~Desk() {
    setLookAndFeel(nullptr);
}

void Desk::listenTo(Typing& typing) {
    typing.onEntered = [this](const std::string&) { // a refusal stands beside the field
        setup.note();
        say(Spot::window, {});
    };
    typing.onEscape = [this] { lift(); };
    typing.onDone = [this] { grabKeyboardFocus(); };
}

/// Shown: the cues' keys work at once.
void Desk::parentHierarchyChanged() {
    if (isShowing())
        grabKeyboardFocus();
}

void Desk::timerCallback() {
    closedSheets.clear();
    tick();
}

void Desk::tick() {
    if (!isShowing())
        return;
    noteKeyboard(hasKeyboardFocus(true));
    const auto begun_ms = juce::Time::getMillisecondCounterHiRes();
    refresh();
    keepPace(juce::Time::getMillisecondCounterHiRes() - begun_ms);
}

/// As often as the screen changes where that costs little of a core, half as often otherwise. What a look costs is added to
/// what the paint before it cost.
void Desk::keepPace(double looked_ms) {
    constexpr double share = 0.2, smoothing = 0.05; ///< of a core, at 60 looks a second
    constexpr int fast = 60, slow = 30;
    cost_ms += smoothing * (looked_ms + painting_ms - cost_ms);
    const auto isCheap = cost_ms * fast < share * 1000;
    if (const auto wanted = isCheap ? fast : slow; wanted != looksPerSecond) {
        looksPerSecond = wanted;
        startTimerHz(looksPerSecond);
    }
}

void Desk::turnTo(Page page) {
    shownPage = page;
    for (std::size_t i = 0; i < pageCount; ++i) {
        const auto isShown = static_cast<Page>(i) == page;
        componentOf(static_cast<Page>(i)).setVisible(isShown);
        pageButtons[i].setToggleState(isShown, juce::dontSendNotification);
    }
    refresh();
}

juce::Component& Desk::componentOf(Page page) {
    switch (page) {
    case Page::setup:
        return setup;
    case Page::preview:
        return preview;
    case Page::book:
        return book;
    case Page::stylus:
        break;
    }
    return stylus;
}

void Desk::showIn(Units wanted) {
    units = wanted;
    refresh();
}

Access::Refusal Desk::review(const std::string& path, std::int64_t cut) {
    const auto refusal = view.review(path, cut);
    turnTo(refusal.empty() ? Page::stylus : shownPage);
    return refusal;
}

void Desk::goBack() {
    if (view.isReview())
        view.leaveReview();
    else
        view.backToStylus();
    refresh();
}

/// Wherever the window is: of the place that is reviewed, or of where the stylus was at that moment.
void Desk::writeNote(const Glimpse& then) {
    if (noteBar.isOpen())
        return noteBar.grabKeyboardFocus();
    if (view.isReview())
        return openNoteBar("Note " + notePlaceText(view.place_s().value_or(NAN)) + " of cut "
                               + std::to_string(view.reviewShown()->number()) + ": Return keeps it",
                           {}, [this](const std::string& text) { return view.addNote(text); });
    if (const auto refusal = whyNoNote(then); !refusal.empty())
        return say(Spot::book, refusal);
    const auto place = placeOfNote(then);
    openNoteBar(notePrompt(place), {},
                [this, place](const std::string& text) { return access.note(place, text); });
}

void Desk::editNote(const log::LoggedNote& note) {
    openNoteBar("Note " + std::to_string(note.note) + " " + notePlaceText(note.time_s)
                    + " anew: Return keeps it; the book keeps what it said",
                note.text,
                [this, number = note.note](const std::string& text) { return view.editNote(number, text); });
}

void Desk::deleteNote(const log::LoggedNote& note) {
    const auto refusal = view.deleteNote(note.note);
    say(Spot::window, refusal.empty() ? "Note " + std::to_string(note.note) + " " + notePlaceText(note.time_s)
                                            + " is deleted; the book keeps it, marked as deleted."
                                      : refusal);
}

void Desk::openNoteBar(const std::string& prompt, const std::string& text, NoteBar::Keep keep) {
    say(Spot::window, {});
    if (file)
        file->setVisible(false);
    noteBar.open(prompt, text, [this, keep = std::move(keep)](const std::string& words) {
        const auto refusal = keep(words);
        refresh();
        return refusal;
    });
}

void Desk::refresh() {
    const auto now_ms = clock();
    strokes.settle(now_ms);
    auto glimpse = access.look();
    glimpse.units = units;
    view.update(glimpse);
    setup.settle();
    sayUnheeded(glimpse);
    const auto judged = view.judged();
    auto sentences = whatIsWrong(judged);
    showNotice(sentences);
    if (const auto noted = lastNoteText(glimpse.log); !noted.empty() && !view.isReview())
        sentences.push_back({Weight::notice, noted + "."});
    if (strokes.hasStrayed(now_ms))
        sentences.push_back({Weight::notice, "What was typed went nowhere: no field has the keyboard, and a "
                                             "command is one key by itself."});
    if (view.isReview())
        wrong.show(sentences, "Reviewing: " + inUnits(view.reviewShown()->heading(), units) + ".",
                   view.reviewShown()->isScrap());
    else
        wrong.show(sentences, nextStep(glimpse, access.cutsFiles()));
    const auto ofDisc = discFigures(judged);
    for (std::size_t i = 0; i < disc.size(); ++i)
        disc[i].show(ofDisc[i]);
    if (shownSheet && isStylusDown(glimpse))
        closeSheet();
    cues.show(view.isReview() ? glimpse : judged, strokes);
    for (auto& value : ridden)
        value->refresh(units);
    if (file)
        file->show(glimpse, strokes);
    showPage(glimpse);
    showBar();
}

/// Beside where it happened; where that is not to be seen, among the notices.
void Desk::showNotice(std::vector<Sentence>& sentences) {
    const auto at = [this](Spot spot) { return spot == saidAt ? said : std::string(); };
    setup.tell(at(Spot::setup));
    book.tell(at(Spot::book));
    if (file)
        file->tell(at(Spot::file));
    const auto isSeen = saidAt == Spot::setup  ? shownPage == Page::setup
                        : saidAt == Spot::book ? shownPage == Page::book
                                               : saidAt == Spot::file && file != nullptr;
    if (said.empty() || isSeen)
        return;
    const auto isNotice = [](const Sentence& sentence) { return sentence.weight == Weight::notice; };
    sentences.insert(std::find_if(sentences.begin(), sentences.end(), isNotice), {Weight::notice, said});
}

void Desk::showPage(const Glimpse& glimpse) {
    switch (shownPage) {
    case Page::stylus:
        stylus.show(glimpse);
        break;
    case Page::setup:
        setup.show(glimpse);
        break;
    case Page::preview:
        preview.show(glimpse);
        break;
    case Page::book:
        book.show(glimpse);
        break;
    }
}

void Desk::showBar() {
    unitButton.setButtonText(juce::String::fromUTF8(unitText(units)));
    backButton.setButtonText(view.isReview() ? "Leave review [Backspace]" : "To the stylus [Backspace]");
    backButton.setEnabled(!view.isAtStylus());
    const auto wanted = view.isReview()
                            ? "Review of cut " + std::to_string(view.reviewShown()->number())
                                  + (view.reviewShown()->isScrap() ? ", scrap. " : ". ") + view.heading()
                        : view.place_s() ? "Looking back: " + view.heading()
                                         : cues.state();
    if (wanted == banner)
        return;
    banner = wanted;
    repaint();
}

/// A cue or a mark that meant nothing is said until the next deed.
void Desk::sayUnheeded(const Glimpse& glimpse) {
    const auto& status = glimpse.status;
    const auto tell = [this](const std::string& text) {
        said = text;
        saidAt = Spot::window;
    };
    const auto isMore = [this](std::uint32_t count, std::uint32_t& known) {
        return std::exchange(known, count) != count && hasLooked;
    };
    if (isMore(status.unheededCues, knownCues))
        tell(std::string(labelOf(status.lastUnheeded)) + " meant nothing when it was given.");
    if (isMore(status.unheededMarks, knownMarks))
        tell("A mark meant nothing when it was given: no cut was under way.");
    if (isMore(glimpse.log.marksNotKept, knownNotKept))
        tell("A mark is not kept: the cut under way is logged into no book.");
    hasLooked = true;
}

void Desk::give(cut::Cue cue) {
    said.clear();
    access.cue(cue);
}

void Desk::say(Spot spot, const std::string& notice) {
    said = notice;
    saidAt = spot;
    refresh();
}

/// Whatever is open, typed or pressed: it is all given up.
void Desk::lift() {
    give(cut::Cue::lift);
    strokes.forget();
    closeSheet();
}

void Desk::open(std::unique_ptr<Sheet> wanted) {
    if (isStylusDown(access.look()))
        return say(Spot::window, "The stylus is down: '" + wanted->getTitle().toStdString()
                                     + "' would lie over what is being cut; lift it first.");
    closeSheet();
    shownSheet = std::move(wanted);
    shownSheet->onClose = [this] { closeSheet(); };
    shownSheet->onEscape = [this] { lift(); };
    shownSheet->setBounds(pageArea());
    addAndMakeVisible(*shownSheet);
    shownSheet->takeKeyboard();
    say(Spot::window, {});
}

void Desk::closeSheet() {
    if (!shownSheet)
        return;
    shownSheet->setVisible(false);
    closedSheets.push_back(std::move(shownSheet));
    if (isShowing())
        grabKeyboardFocus();
}

void Desk::noteKeyboard(bool isHere) {
    if (keysNotice.isVisible() == isHere) {
        keysNotice.setVisible(!isHere);
        resized();
    }
    if (!isHere)
        strokes.forget();
}

bool Desk::keyPressed(const juce::KeyPress& key) {
    const auto now_ms = clock();
    if (isKey(key, escapeKey)) {
        lift();
        return true;
    }
    if (shownSheet) // what is pressed beside its fields means none of the keys below
        return false;
    if (!strokes.press(key, now_ms))
        return true;
    return cues.press(key, strokes, now_ms) || setup.press(key) || (file && file->press(key, strokes, now_ms))
           || pressLog(key, now_ms) || pressView(key);
}

bool Desk::keyStateChanged(bool isKeyDown) {
    if (!isKeyDown)
        strokes.released(
            [this](int code) { return getPeer() != nullptr && juce::KeyPress::isKeyCurrentlyDown(code); },
            clock());
    return false;
}

/// A mark or a note is about the moment in which its key was pressed. The units are here too, because a slip with them
/// turns every figure.
bool Desk::pressLog(const juce::KeyPress& key, double now_ms) {
    const auto later = [&](std::function<void()> deed) {
        strokes.command(key, Keystrokes::Kind::deed, std::move(deed), now_ms);
        return true;
    };
    if (isKey(key, markKey))
        return later([this, then = access.look()] { book.log().markAt(then); });
    if (isKey(key, noteKey))
        return later([this, then = access.look()] { writeNote(then); });
    return isKey(key, unitKey) && later([this] { unitButton.onClick(); });
}

/// At once: it only changes what is seen.
bool Desk::pressView(const juce::KeyPress& key) {
    for (std::size_t i = 0; i < pageCount; ++i)
        if (isKey(key, static_cast<char>('1' + i))) {
            turnTo(static_cast<Page>(i));
            return true;
        }
    if (key.isKeyCode(juce::KeyPress::backspaceKey))
        goBack();
    else if (isKey(key, nextKey) || isKey(key, previousKey)) {
        turnTo(Page::stylus);
        if (stylus.step(isKey(key, nextKey)))
            refresh();
    } else
        return false;
    return true;
}

bool Desk::isInterestedInFileDrag(const juce::StringArray& files) {
    return file != nullptr && files.size() == 1;
}

void Desk::filesDropped(const juce::StringArray& files, int, int) {
    say(Spot::file, access.openFile(files[0].toStdString()));
}

void Desk::paint(juce::Graphics& g) {
    painting_ms = -juce::Time::getMillisecondCounterHiRes();
    g.fillAll(colour(palette::ground));
    g.setColour(colour(palette::quiet));
    drawWrapped(g, toJuce(files::caution),
                getLocalBounds().removeFromBottom(cautionHeight).reduced(deskMargin, 0).toFloat(), 11,
                colour(palette::quiet));
    const auto bar = getLocalBounds()
                         .withTrimmedTop(deskMargin + topHeight + deskGap)
                         .removeFromTop(barHeight)
                         .reduced(deskMargin, 0);
    const auto words = bar.withTrimmedLeft(static_cast<int>(pageCount) * (pageWidth + deskGap) + deskGap)
                           .withTrimmedRight(unitWidth + backWidth + 3 * deskGap);
    const auto isScrap =
        view.isReview() ? view.reviewShown()->isScrap() : view.isAtStylus() && cues.isScrap();
    g.setColour(colour(isScrap ? palette::fault : view.isAtStylus() ? palette::text : palette::caution));
    drawWhole(g, toJuce(banner), words.toFloat(), 20, juce::Justification::centredLeft, true);
}

void Desk::paintOverChildren(juce::Graphics&) {
    if (painting_ms < 0)
        painting_ms += juce::Time::getMillisecondCounterHiRes();
}

void Desk::settleForPicture() {
    tooltips.hideTip();
    noteKeyboard(true);
    refresh();
}

juce::Rectangle<int> Desk::pageArea() const {
    return stylus.getBounds();
}

void Desk::resized() {
    auto area = getLocalBounds().withTrimmedBottom(cautionHeight).withTrimmedTop(deskMargin);
    if (keysNotice.isVisible())
        keysNotice.setBounds(area.removeFromBottom(keysHeight)); // above the caution, which is never covered
    area.reduce(deskMargin, 0);
    auto top = area.removeFromTop(topHeight);
    for (auto tile = disc.rbegin(); tile != disc.rend(); ++tile) {
        tile->setBounds(top.removeFromRight(discWidth));
        top.removeFromRight(deskGap);
    }
    wrong.setBounds(top);
    area.removeFromTop(deskGap);
    layOutBar(area.removeFromTop(barHeight));
    area.removeFromTop(deskGap);
    layOutBottom(area.removeFromBottom(bottomHeight));
    area.removeFromBottom(deskGap);
    noteBar.setBounds(area.withTop(area.getBottom() - fileHeight));
    if (file) {
        file->setBounds(area.removeFromBottom(fileHeight));
        area.removeFromBottom(deskGap);
    }
    for (std::size_t i = 0; i < pageCount; ++i)
        componentOf(static_cast<Page>(i)).setBounds(area);
    if (shownSheet)
        shownSheet->setBounds(area);
}

void Desk::layOutBar(juce::Rectangle<int> area) {
    for (auto& button : pageButtons) {
        button.setBounds(area.removeFromLeft(pageWidth));
        area.removeFromLeft(deskGap);
    }
    unitButton.setBounds(area.removeFromRight(unitWidth));
    area.removeFromRight(deskGap);
    backButton.setBounds(area.removeFromRight(backWidth));
}

void Desk::layOutBottom(juce::Rectangle<int> area) {
    auto rides = area.removeFromRight(juce::roundToInt(ridesShare * static_cast<float>(area.getWidth())));
    area.removeFromRight(deskGap);
    layInRow(rides, ridden);
    cues.setBounds(area);
}

} // namespace headland::editor
