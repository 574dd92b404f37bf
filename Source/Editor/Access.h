// SPDX-License-Identifier: GPL-3.0-or-later
// All that a window sees of the processor, and all that it can do to it. The windows know this and nothing behind it.
// Threads: everything here is for the main thread. look() copies, and never waits for the audio thread.
#pragma once

#include "Cut/CutSettings.h"
#include "Cut/CutSummary.h"
#include "Cut/GroovePatch.h"
#include "Editor/SideHistory.h"
#include "Editor/Units.h"
#include "HandOff/LiveEvents.h"
#include "Log/CutRecord.h"
#include "Plan/Foresight.h"

#include <juce_audio_processors/juce_audio_processors.h>

#include <array>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace headland::editor {

/// The program file of a processor that cuts files by itself.
struct FileState {
    std::string path;      ///< as it was given; empty: none is open
    std::string about;     ///< "side.wav: WAV, 24 bit, 44.1 kHz, stereo, 4:00"
    double fraction = 0;   ///< how much of it has been cut, 0 to 1
    bool running = false;  ///< it is being cut
    bool paused = false;   ///< and held where it is
    double speed = 1;      ///< times real time; 0: as fast as the machine allows
    double rehearsing = 1; ///< how far the side has been rehearsed, 0 to 1; 1: it is not being rehearsed
    std::string
        rehearsed; ///< the verdict of the rehearsal, or why there was none, one sentence; empty: not known
    bool rehearsedIsScrap = false; ///< the side cannot be cut so, or could not be rehearsed
    bool rehearsedIsOld = false;   ///< it was rehearsed with another set-up than the one there is now
    std::string failure;           ///< why it could not be cut to its end, one sentence
};

/// A live program that is listened to with the stylus up, so that a cut of it knows what comes.
struct ListeningState {
    bool isOn = false;
    double heard_s = 0;  ///< so far
    double length_s = 0; ///< of what is known from before; 0: nothing
    std::string
        why; ///< why it ended by itself, or what is known cannot be used, one sentence; empty: neither
};

/// A book of cuts, and the side in it.
struct LogPlace {
    std::string book; ///< whole path; empty: no log is kept
    log::SideName side;

    bool operator==(const LogPlace&) const = default;
};

/// Where cuts are logged.
struct LogState {
    LogPlace chosen;      ///< from the next cut on
    LogPlace current;     ///< of the cut under way or of the last one; no book: it takes no notes
    std::int64_t cut = 0; ///< number of that cut in its book; 0: it is not there yet
    std::vector<log::LoggedNote> notes; ///< marked or noted in that cut, in the order in which they were
    std::uint32_t marksNotKept = 0;     ///< given by MIDI while a cut was in no book
};

/// What a note is about.
struct NotePlace {
    std::uint32_t cut = 0; ///< LiveStatus::cuts when it was begun
    double time_s = NAN;   ///< program time at the stylus then; NaN: the cut as a whole
};

/// How things stand, at one moment.
struct Glimpse {
    handoff::LiveStatus status;
    cut::CutSettings setup;   ///< in use: the newest that can be cut with
    cut::CutSummary summary;  ///< of the cut under way, or of the last one
    bool isFed = false;       ///< a program comes to the processor, as far as is known: cues are heard
    bool changesWait = false; ///< for the stylus to be up
    std::vector<std::string> problems; ///< of the set-up, one sentence each; the stylus stays up
    std::vector<std::string> troubles; ///< that cost the side or the log something, one sentence each
    std::vector<std::string>
        cautions; ///< of state, OSC, devices and previews, which cost neither, one sentence each
    std::vector<std::string> notices; ///< that nothing is wrong with but a person should know
    std::string lastEnd;              ///< how the last cut ended, "finished"; empty: none has
    bool lastEndIsFault = false;
    std::string
        changedSince; ///< "the set-up" when that is not what the last cut was cut with, "the program"; empty: nothing
    std::string figuresOf; ///< what the disc's figures are of: "rehearsed"; empty: of the cut
    LogState log;
    FileState file;
    ListeningState listening;
    Units units = Units::metric; ///< in which all of it is said; the window's choice, not the processor's
};

/// Frames of the cut under way, or of the last one.
struct CutNews {
    std::uint32_t cut = 0;     ///< counted from 1 since the processor was made; 0: none has begun
    cut::CutSettings settings; ///< it is cut with
    double sampleRate_hz = 0;
    std::string program;               ///< path of the file that is cut; empty: it comes from elsewhere
    std::vector<cut::CutFrame> frames; ///< those that were not seen yet
};

/// What is behind a field: a number in the setting's own unit, to the last bit. A host sees every change.
class FieldValue {
public:
    virtual ~FieldValue() = default;
    virtual double get() const = 0;
    virtual void set(double wanted) = 0;
    /// Around what a person does in one go, a drag or a typed value.
    virtual void beginGesture() = 0;
    virtual void endGesture() = 0;
};

/// One value as it is shown and typed. The value belongs to whoever gave the field, the texts to a table that stays.
struct Field {
    FieldValue* value;
    std::string_view key, label, unit;
    std::string_view does, reason; ///< what it does; why the default is what it is
    double least, greatest;        ///< in `unit`
    bool isWhole;                  ///< a count, a switch from 0 to 1 or the format's index
    bool isPitch;                  ///< lines per inch are read
    bool isRidden;                 ///< may change with the stylus down
};

class Access {
public:
    virtual ~Access() = default;

    virtual Glimpse look() = 0;
    /// The frames after the first `seen` of that cut; of another cut, if another has begun, all.
    virtual CutNews news(std::uint32_t cut, std::size_t seen) = 0;
    /// Asks what is coming and takes the last answer; false, and `coming` left alone, when there is none since the last call.
    virtual bool foresee(plan::Foresight& coming) = 0;
    /// The groove around the stylus, over `halfLength_mm` on either side; nothing where nothing is cut.
    virtual std::optional<cut::GroovePatch> grooveAtStylus(double halfLength_mm) = 0;
    /// The groove that was kept of the cut of news() nearest to a program time, if it is at most `within_s` away.
    virtual std::optional<cut::GroovePatch> grooveKept(double time_s, double within_s) = 0;

    /// Every field, in the order they are shown.
    virtual std::vector<Field> fields() = 0;
    /// As if a host had sent it; heeded with the next block.
    virtual void cue(cut::Cue cue) = 0;

    /// What comes back is why it was refused, one sentence; empty when it was done. So in all that follow.
    using Refusal = std::string;

    virtual std::vector<std::string> presetNames() = 0;
    virtual Refusal loadPreset(const std::string& nameOrFile) = 0;
    virtual Refusal savePreset(const std::string& file) = 0;
    /// The book that cuts are logged into from the next one on; begun if it is not there. A whole path.
    virtual Refusal logInto(const std::string& book) = 0;
    /// The job and side that cuts are logged as from the next one on.
    virtual Refusal nameSide(const log::SideName& side) = 0;
    /// A mark in the log, where the stylus is with the next block.
    virtual void mark() = 0;
    /// Without a text it is a mark.
    virtual Refusal note(const NotePlace& place, const std::string& text) = 0;

    /// Listens to a live program from now on, or stops that: what was heard is then known.
    virtual Refusal listen(bool) { return "Nothing is listened to here."; }

    /// Where OSC goes when it is on: a name or an address.
    virtual std::string oscHost() = 0;
    virtual Refusal sendOscTo(const std::string& host) = 0;

    /// Whether it cuts files by itself; where it does not, the four below refuse.
    virtual bool cutsFiles() const { return false; }
    virtual Refusal openFile(const std::string&) { return "Program files are opened in the host."; }
    /// `speed`: so many times real time; 0: as fast as the machine allows.
    virtual Refusal cutFile(double) { return "Program files are played by the host."; }
    /// Lifts the stylus.
    virtual void stopFile() {}
    /// From now on, of a cut under way and of those to come: so many times real time; 0: as fast as the machine allows.
    virtual void setFileSpeed(double) {}
    /// Holds a cut of a file where it is, as no lathe can, or lets it go on.
    virtual void pauseFile(bool) {}
    /// Files opened of late, the last one first.
    virtual std::vector<std::string> recentFiles() { return {}; }
    /// The whole side of the open file as it would be cut with the set-up as it is; null: not known, or not yet.
    virtual std::shared_ptr<const SideHistory> rehearsal() { return nullptr; }
    /// A component with which sound devices are chosen; null where the host does that.
    virtual std::unique_ptr<juce::Component> makeDeviceChooser() { return nullptr; }

    /// Where files of a kind were chosen last, of which there are these three; empty: nowhere yet. Outlives the window.
    static constexpr std::array fileKinds{"program", "preset", "book"};
    std::string& folderOf(const std::string& kind) { return folders[kind]; }

private:
    std::map<std::string, std::string> folders;
};

} // namespace headland::editor
