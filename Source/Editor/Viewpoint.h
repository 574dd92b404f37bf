// SPDX-License-Identifier: GPL-3.0-or-later
// What the views look at: the stylus, an earlier place of the same cut, or a place of a logged one. Everything they draw is
// made here from frames, settings and edges, so that live and review are the same views. Main thread.
#pragma once

#include "Editor/Access.h"
#include "Editor/GrooveWindow.h"
#include "Editor/Overview.h"
#include "Editor/PatchFinder.h"
#include "Editor/Review.h"
#include "Editor/StripModel.h"

#include <memory>
#include <optional>
#include <string>

namespace headland::editor {

class Viewpoint {
public:
    explicit Viewpoint(Access& a) : access(a) {}

    /// Takes what is new. Looks back at the stylus when a new cut has begun.
    void update(const Glimpse& glimpse);

    /// Looks at a place of what is shown; held to its length.
    void lookAt(double time_s);
    /// Follows the stylus again; in a review: of no effect.
    void backToStylus();
    /// Shows a cut of a book, and why not where that fails.
    Access::Refusal review(const std::string& book, std::int64_t cut);
    void leaveReview();

    bool isReview() const noexcept { return reviewed != nullptr; }
    const Review* reviewShown() const noexcept { return reviewed.get(); }
    bool isAtStylus() const noexcept { return !isReview() && !place; }
    /// The stylus is up.
    bool isOver() const noexcept { return glimpse.status.state == cut::State::up; }
    /// What is shown: live or logged; null: nothing has been cut.
    const SideHistory* side() const noexcept;
    /// Where one looks; nothing: at the stylus.
    std::optional<double> place_s() const noexcept { return place; }
    /// The frame there; nothing: there is none.
    std::optional<cut::CutFrame> frame() const;

    /// Marks and notes of what is shown.
    const std::vector<log::LoggedNote>& notes() const noexcept;
    /// In a review: writes a note at the place that is looked at; gives one other words; deletes one. Says why not where that
    /// fails.
    Access::Refusal addNote(const std::string& text);
    Access::Refusal editNote(std::int64_t note, const std::string& text);
    Access::Refusal deleteNote(std::int64_t note);

    /// How things stood at that place, for figures.
    Glimpse shown() const;
    /// What is wrong with what is shown; of the stylus always, whatever is looked at.
    Glimpse judged() const;
    StripSight strip() const;
    OverviewSight overview() const;
    GrooveSight groove();
    /// Of what is shown.
    double sampleRate_hz() const;
    /// Nothing more is being made for the place that is looked at.
    bool isSettled() const noexcept;
    /// "At the stylus", "At 3:21.0"
    std::string heading() const;

private:
    template <typename Change>
    Access::Refusal change(Change make);
    std::shared_ptr<const SideHistory> sideShared() const;
    std::string changedSince() const;
    void judgeNext(Glimpse& there) const;
    std::optional<cut::GroovePatch> kept(double time_s);
    std::optional<cut::GroovePatch> made(double time_s, std::string& none);
    std::string program() const;

    Access& access;
    Glimpse glimpse;
    std::uint32_t cut = 0;
    double liveRate_hz = 0;
    std::string liveProgram;
    std::shared_ptr<SideHistory> live;
    plan::Foresight coming{};
    std::shared_ptr<const SideHistory> rehearsed;
    std::unique_ptr<Review> reviewed;
    std::optional<double> place;

    PatchFinder finder;
    std::optional<double> asked_s; ///< of the finder
    int stillSince = 0;            ///< looks since the place was changed
    std::optional<PatchFinder::Found> found;
    std::optional<double> patchAt_s;       ///< place of `patch`
    std::optional<cut::GroovePatch> patch; ///< that was kept, looked up once a place
};

} // namespace headland::editor
