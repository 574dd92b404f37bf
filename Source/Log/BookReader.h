// SPDX-License-Identifier: GPL-3.0-or-later
// Reads a book of cuts, and changes nothing in it, also while somebody writes into it. Every failure is a files::InputError
// of one sentence. A book may come from anywhere: whatever is in it, nothing is read without bound, and what comes out is
// what a cut can be: times are places in a program or NaN, settings finite, counts not negative. One thread at a time, not the audio thread.
#pragma once

#include "Cut/CutSummary.h"
#include "Cut/EstimateCheck.h"
#include "Files/FileIdentity.h"
#include "Log/CutRecord.h"
#include "Log/Database.h"
#include "Log/FrameList.h"
#include "Log/FrameReading.h"

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

namespace headland::log {

/// A cut as it stands in the list of a book's cuts.
struct CutEntry {
    std::int64_t cut = 0; ///< its number
    SideName side;
    std::string begun_utc;
    std::string written_utc; ///< last
    std::string ending;      ///< empty: it has none, being under way or broken off
    bool isFault = false;
    double last_s =
        NAN; ///< where its program ended, or in a cut without any the last frame; NaN: there is none
    std::string program; ///< path of the file; empty: it came from elsewhere
    double discLevel_db = NAN;
    double endDiameter_mm = NAN; ///< where the program ended, or where it has got to
    std::string scrap{};         ///< why it is scrap, in words; empty: it is not, so far
};

/// A cut with everything the book has of it.
struct LoggedCut {
    CutHead head;
    std::string begun_utc, written_utc;
    std::optional<CutTail> tail; ///< nothing: it has no end, being under way or broken off
    FrameList frames;
    std::vector<CutEventRecord> events;
    std::vector<LoggedNote>
        notes; ///< in order of time, those of the whole cut last; also what has been deleted
    std::vector<GapRecord> gaps;
};

/// What the frames of a cut come to.
struct FrameSums {
    double program_s; ///< length of the program: the file's, else as far as it was cut
    cut::CutSummary summary;
    cut::EstimateCheck estimates;
};
/// Of frames that have been read.
FrameSums sumsOf(const LoggedCut& logged);

/// A cut of which the frames have been summed up and not kept.
struct SummedCut {
    LoggedCut cut; ///< without frames
    FrameSums sums;
};

/// A kept place, without its edges.
struct PlaceEntry {
    std::int64_t place = 0; ///< its number
    cut::Flag flag{};
    double time_s = 0;
};

/// One trial of a search.
struct RehearsalEntry {
    SideName side;
    std::string made_utc, madeBy;
    std::string varied; ///< key of the setting
    double value = 0;   ///< of that setting
    bool canBeCut = false;
    std::string verdict; ///< a sentence
    double endDiameter_mm = 0;
};

class BookReader {
public:
    explicit BookReader(const std::string& path);

    /// Every cut, oldest first.
    std::vector<CutEntry> cuts();
    /// Throws too when there is no such cut, or the book says more of it than it has.
    LoggedCut cut(std::int64_t number);
    /// The same without keeping the frames, in less than half the time: of them only what the sums are made of is read.
    SummedCut summedCut(std::int64_t number);
    /// As LoggedCut has them. Throws too when there is no such cut.
    std::vector<LoggedNote> notes(std::int64_t cut);
    /// What it was given of a rehearsal: the bytes of a profile file; empty: nothing. Throws too when there is no such cut, or they are no profile.
    std::string profile(std::int64_t cut);
    /// In order of time.
    std::vector<PlaceEntry> places(std::int64_t cut);
    cut::GroovePatch patch(std::int64_t place);
    std::vector<RehearsalEntry> rehearsals();
    /// Paths of the programs of all its cuts and trials.
    std::vector<std::string> programs();
    /// Looks at every page and every link of the whole book.
    void check();

private:
    template <typename Work>
    auto reading(Work work);
    CutHead head(std::int64_t cut, LoggedCut& logged);
    std::vector<LoggedNote> notesOf(std::int64_t cut);
    bool hasColumnsOf(std::int64_t version);
    void judge(CutEntry& entry, double endRadius_mm);
    void readLists(std::int64_t cut, LoggedCut& logged);
    void complete(std::int64_t cut, LoggedCut& logged, const FrameRuns& runs);
    FrameSums sumUp(std::int64_t cut, const CutHead& head, FrameRuns& runs);
    std::function<Database()> another() const;

    std::string path;
    files::FileIdentity identity; ///< of the file that is open
    std::optional<Database> db;
};

} // namespace headland::log
