// SPDX-License-Identifier: GPL-3.0-or-later
// What a book says of a cut beside its frames. Plain data, the same to whoever writes and whoever reads it. UTF-8.
#pragma once

#include "Cut/CutFrame.h"
#include "Cut/CutSettings.h"
#include "Cut/GroovePatch.h"
#include "Files/ProgramFacts.h"
#include "Plan/Profile.h"

#include <cmath>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace headland::log {

/// Of this program, "0.1.0".
std::string headlandVersion();

/// Which side of which job.
struct SideName {
    std::string job = "Unnamed";
    std::string side = "A";

    bool operator==(const SideName&) const = default;
};

/// Whether a name of either kind says nothing.
inline bool isBlank(const std::string& name) {
    return name.find_first_not_of(' ') == std::string::npos;
}

/// The program file, where there is one.
struct ProgramRecord {
    std::string path; ///< whole
    files::ProgramFacts facts;
};

/// A setting that is not one of the cut's own table: what the processor is set up with beside it.
using OtherSetting = std::pair<std::string, double>;

/// Known when a cut begins.
struct CutHead {
    SideName side;
    std::optional<std::int64_t> answers; ///< number of the cut that this one is to be better than
    std::string madeBy;                  ///< "headland cut", "processor"
    std::string version = headlandVersion();
    std::optional<ProgramRecord> program;
    cut::CutSettings settings;
    std::vector<OtherSetting> otherSettings;
    double sampleRate_hz = 0;
    std::string preview; ///< "own delay" or "second head"
    std::shared_ptr<const plan::Profile>
        profile{}; ///< what it was given of a rehearsal; null: nothing. Not read with a cut
};

/// Known when it has ended.
struct CutTail {
    std::string ending; ///< in words: "finished"
    bool isFault = false;
    std::int64_t frames = 0; ///< of the whole cut, those that were lost too
    std::int64_t badSamples = 0;
    double badSampleFirst_s = NAN;
    bool isJudged = false;       ///< what follows is known
    std::string scrap{};         ///< why it is scrap, in words; empty: it is not
    double endDiameter_mm = NAN; ///< where the program ended
};

/// Something that happened during the cut.
struct CutEventRecord {
    std::int64_t beforeFrame = 0; ///< number of the frame it came before
    double time_s = 0;            ///< program time at the stylus
    std::string kind;             ///< "cue", "ride", "rehearsal", "fault", "book"
    std::string what;   ///< the cue's name, the setting's key, what became of the rehearsal, a sentence
    double value = NAN; ///< of a ride, a place in the rehearsal
};

/// Written by a person: a mark, which has only a time, or words.
struct NoteRecord {
    double time_s = NAN; ///< NaN: of the cut as a whole
    std::string text;    ///< empty: a mark
    std::string written_utc;

    bool isMark() const noexcept { return text.empty(); }
};

/// What a note said before it was written anew.
struct NoteRevision {
    std::string text; ///< empty: it was a mark
    std::string written_utc;
};

/// A note as a book has it, with everything it was.
struct LoggedNote : NoteRecord {
    std::int64_t note = 0;             ///< its number in the book
    std::string deleted_utc;           ///< empty: it stands
    std::vector<NoteRevision> earlier; ///< oldest first

    bool isDeleted() const noexcept { return !deleted_utc.empty(); }
};

/// A stretch of frames that could not be kept.
struct GapRecord {
    std::int64_t firstFrame = 0, lastFrame = 0;
    double from_s = NAN, to_s = NAN;
    std::string why;
};

/// The groove around a flagged place.
struct PlaceRecord {
    cut::Flag flag{};
    cut::GroovePatch patch;
};

/// Now, as books write it: "2026-03-14T09:26:53.589Z".
std::string utcNow();

} // namespace headland::log
