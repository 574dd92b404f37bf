// SPDX-License-Identifier: GPL-3.0-or-later
#include "Log/BookPages.h"

#include "Cut/SettingsTable.h"
#include "Files/Errors.h"
#include "Files/KeptFiles.h"
#include "Files/PartFile.h"
#include "Files/ProfileFile.h"
#include "Log/BookPlace.h"
#include "Log/BookProfile.h"
#include "Log/BookSchema.h"
#include "Log/BookTrouble.h"
#include "Log/FrameColumns.h"
#include "Text/Times.h"

#include <filesystem>
#include <system_error>
#include <unistd.h>

namespace headland::log {

namespace {

constexpr int wait_ms = 200; ///< for another program's lock; whoever calls tries again

std::string logOf(const std::string& path) {
    return path + "-wal"; // SQLite's own naming
}

/// Makes a book under a temporary name and links it into its place when it is whole: whoever comes meanwhile finds none, and
/// never a half one. Where another has been quicker, that one stays. Where files cannot be linked, nothing is done: the
/// book is made in its place, under SQLite's locks.
void makeWhole(const std::string& path, std::span<const BookStep> steps) {
    try {
        const auto place = files::wholePlace(path);
        const files::PartFile part(place);
        {
            Database db(part.path(), Database::Access::write, wait_ms);
            db.run("PRAGMA journal_mode = MEMORY"); // no file beside it that a killed run would leave
            bringUpToDate(db, steps);
        }
        if (::fsync(part.descriptor()) == 0)
            static_cast<void>(!::link(part.path().c_str(), place.c_str()));
    } catch (const std::system_error&) { // opening it in its place says why
    }
}

Database open(const std::string& path, std::span<const BookStep> steps) {
    checkBookPlace(path);
    if (isWriteProtected(path))
        throw DatabaseError::writeProtected();
    std::error_code ignored;
    if (!std::filesystem::exists(path, ignored))
        makeWhole(path, steps);
    const auto hasLog = std::filesystem::exists(logOf(path), ignored);
    Database db(path, Database::Access::write, wait_ms);
    db.leaveLog(hasLog); // what is refused is left to the byte, a log from before with it
    return db;
}

/// The identity of the file that was opened, taken before anything that takes time.
files::FileIdentity checked(Database& db, const std::string& path, std::span<const BookStep> steps) {
    files::FileIdentity identity(path);
    bringUpToDate(db, steps);
    db.leaveLog(false);
    // A reader never holds up the writer, and a commit is on the disk when it returns: a pulled plug loses what came after.
    db.run("PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON");
    db.number("SELECT count(*) FROM sqlite_schema"); // begins the log: its identity is next
    return identity;
}

/// By the columns' names: a later Headland may add some while this one writes.
std::string frameSql() {
    auto sql = "INSERT INTO frame(cut_id, number, state, flags, length_known"
               + storedNames(frameColumns.size()) + ") VALUES(?, ?, ?, ?, ?";
    for (std::size_t i = 0; i < frameColumns.size(); ++i)
        sql += ", ?";
    return sql + ")";
}

void bindFigure(Statement& statement, int place, const FrameColumn& column, double value) {
    if (!std::isfinite(value))
        statement.bindNull(place);
    else if (hasPlaces(value, column.decimals))
        statement.bind(place, places(value, column.decimals));
    else
        statement.bind(place, value);
}

/// An extreme's figure, or null.
std::optional<double> figureOf(const cut::Extreme& extreme) {
    return extreme.valid ? std::optional(extreme.value) : std::nullopt;
}

std::optional<std::int64_t> nanometres(float value_um) {
    constexpr double nm_per_um = 1000;
    return std::isfinite(value_um) ? std::optional<std::int64_t>(std::llround(value_um * nm_per_um))
                                   : std::nullopt;
}

} // namespace

BookPages::BookPages(const std::string& bookPath, std::span<const BookStep> steps)
    : path(bookPath),
      db(open(path, steps)),
      identity(checked(db, path, steps)),
      logIdentity(logOf(path)),
      insertFrame(db.prepare(frameSql())),
      insertEdge(db.prepare("INSERT INTO edge VALUES(?, ?, ?, ?, ?)")) {}

BookPages::~BookPages() {
    try {
        insertFrame.reset();
        insertEdge.reset();
        db.run("PRAGMA wal_checkpoint(TRUNCATE)");
        if (isInPlace())
            db.run("PRAGMA journal_mode = DELETE");
    } catch (
        const DatabaseError&) { // somebody else has it open, or the disk will not; the book is whole all the same
    }
    if (!isInPlace())
        leavePlace();
}

/// The book went. What SQLite keeps beside it may be there still, and the next book in this place must not meet that; or
/// it is the next one's already, which SQLite would take for this one's, as it goes by the name.
void BookPages::leavePlace() noexcept {
    db.leaveLog(true);
    if (!logIdentity.isAt(logOf(path)))
        return;
    std::error_code ignored;
    std::filesystem::remove(logOf(path), ignored);
    std::filesystem::remove(path + "-shm", ignored);
}

std::int64_t BookPages::side(const SideName& name) {
    db.prepare("INSERT INTO job(title, made_utc) VALUES(?, ?) ON CONFLICT DO NOTHING")
        .with(name.job, utcNow())
        .run();
    db.prepare("INSERT INTO side(job_id, name) SELECT id, ? FROM job WHERE title = ? ON CONFLICT DO NOTHING")
        .with(name.side, name.job)
        .run();
    auto found = db.prepare(
        "SELECT side.id FROM side JOIN job ON job.id = side.job_id WHERE job.title = ? AND side.name = ?");
    found.with(name.job, name.side).step();
    return found.integer(0);
}

std::int64_t BookPages::program(const ProgramRecord& program) {
    const auto& facts = program.facts;
    db.prepare(
          "INSERT INTO program(path, format, sample_rate_hz, channels, length_frames) VALUES(?, ?, ?, ?, ?) "
          "ON CONFLICT DO NOTHING")
        .with(program.path, facts.format, facts.sampleRate_hz, facts.channels, facts.length_frames)
        .run();
    auto found = db.prepare("SELECT id FROM program WHERE path = ? AND format = ? AND sample_rate_hz = ? "
                            "AND channels = ? AND length_frames = ?");
    found.with(program.path, facts.format, facts.sampleRate_hz, facts.channels, facts.length_frames).step();
    return found.integer(0);
}

std::int64_t BookPages::settings(const CutHead& head) {
    db.run("INSERT INTO setting_list DEFAULT VALUES");
    const auto list = db.lastRow();
    auto insert = db.prepare("INSERT INTO setting VALUES(?, ?, ?)");
    for (const auto& setting : cut::settingsTable())
        if (setting.key == "format")
            insert.with(list, setting.key, cut::getText(head.settings, setting)).run();
        else
            insert.with(list, setting.key, cut::getNumber(head.settings, setting)).run();
    for (const auto& [key, value] : head.otherSettings)
        insert.with(list, key, value).run();
    return list;
}

/// Several cuts with one rehearsal, one after the other, have it once.
std::optional<std::int64_t> BookPages::profile(const plan::Profile* wanted) {
    if (wanted == nullptr)
        return std::nullopt;
    const auto bytes = files::profileBytes(*wanted);
    const auto size_bytes = static_cast<std::int64_t>(bytes.size());
    auto newest = db.prepare("SELECT id, size_bytes FROM profile ORDER BY id DESC LIMIT 1");
    if (newest.step() && newest.integer(1) == size_bytes && profileBytesOf(db, newest.integer(0)) == bytes)
        return newest.integer(0);
    db.prepare("INSERT INTO profile(made_utc, size_bytes) VALUES(?, ?)").with(utcNow(), size_bytes).run();
    const auto id = db.lastRow();
    auto insert = db.prepare("INSERT INTO profile_piece VALUES(?, ?, ?)");
    for (std::size_t at = 0, number = 0; at < bytes.size(); at += profilePiece_bytes, ++number) {
        insert.with(id, static_cast<std::int64_t>(number));
        insert.bindBytes(3, std::string_view(bytes).substr(at, profilePiece_bytes));
        insert.run();
    }
    return id;
}

std::int64_t BookPages::beginCut(const CutHead& head, const std::string& begun_utc) {
    const auto ofProgram = head.program ? std::optional(program(*head.program)) : std::nullopt;
    const auto ofSide = side(head.side);
    const auto ofSettings = settings(head);
    const auto ofProfile = profile(head.profile.get());
    const auto answered = head.answers && hasCut(*head.answers) ? head.answers : std::nullopt;
    db.prepare(
          "INSERT INTO cut(side_id, answers_cut_id, made_by, headland_version, program_id, setting_list_id, "
          "sample_rate_hz, preview, begun_utc, written_utc, profile_id) "
          "VALUES(?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)")
        .with(ofSide, answered, head.madeBy, head.version, ofProgram, ofSettings, head.sampleRate_hz,
              head.preview, begun_utc, utcNow(), ofProfile)
        .run();
    return db.lastRow();
}

void BookPages::frame(std::int64_t cut, std::int64_t number, const cut::CutFrame& frame) {
    insertFrame.with(cut, number, static_cast<int>(frame.state), static_cast<int>(frame.flags),
                     static_cast<int>(frame.estimate.grade));
    int place = 5;
    for (const auto& column : frameColumns)
        bindFigure(insertFrame, ++place, column, column.get(frame));
    insertFrame.run();
}

void BookPages::event(std::int64_t cut, std::int64_t number, const CutEventRecord& event) {
    db.prepare("INSERT INTO event VALUES(?, ?, ?, ?, ?, ?, ?)")
        .with(cut, number, event.beforeFrame, text::inProgram(event.time_s), event.kind, event.what,
              event.value)
        .run();
}

void BookPages::note(std::int64_t cut, const NoteRecord& note) {
    db.prepare("INSERT INTO note(cut_id, time_s, written_utc, kind, text) VALUES(?, ?, ?, ?, ?)")
        .with(cut, text::inProgram(note.time_s), note.written_utc, note.isMark() ? "mark" : "note", note.text)
        .run();
}

void BookPages::gap(std::int64_t cut, const GapRecord& gap) {
    db.prepare("INSERT INTO gap VALUES(?, ?, ?, ?, ?, ?)")
        .with(cut, gap.firstFrame, gap.lastFrame, text::inProgram(gap.from_s), text::inProgram(gap.to_s),
              gap.why)
        .run();
}

std::int64_t BookPages::place(std::int64_t cut, const PlaceRecord& place) {
    const auto& patch = place.patch;
    db.prepare("INSERT INTO place(cut_id, flag, time_s, start_radius_mm, step_rad, points) VALUES(?, ?, ?, "
               "?, ?, ?)")
        .with(cut, static_cast<std::int64_t>(cut::indexOf(place.flag)), patch.time_s, patch.startRadius_mm,
              patch.step_rad, static_cast<std::int64_t>(patch.points))
        .run();
    const auto id = db.lastRow();
    for (const auto& turn : patch.turns)
        for (std::size_t i = 0; i < turn.edges.size(); ++i)
            insertEdge
                .with(id, turn.turn, static_cast<std::int64_t>(i), nanometres(turn.edges[i].outer_um),
                      nanometres(turn.edges[i].inner_um))
                .run();
    return id;
}

void BookPages::removePlace(std::int64_t place) {
    db.prepare("DELETE FROM edge WHERE place_id = ?").with(place).run();
    db.prepare("DELETE FROM place WHERE id = ?").with(place).run();
}

void BookPages::endCut(std::int64_t cut, const CutTail& tail) {
    db.prepare("UPDATE cut SET ended_utc = ?, ending = ?, fault = ?, bad_samples = ?, bad_sample_first_s = ? "
               "WHERE id = ?")
        .with(utcNow(), tail.ending, tail.isFault ? 1 : 0, tail.badSamples, tail.badSampleFirst_s, cut)
        .run();
    if (tail.isJudged)
        db.prepare("UPDATE cut SET scrap = ?, end_diameter_mm = ? WHERE id = ?")
            .with(tail.scrap, tail.endDiameter_mm, cut)
            .run();
}

/// What there is of a note that stands.
NoteRecord BookPages::standing(std::int64_t cut, std::int64_t note) {
    auto found =
        db.prepare("SELECT time_s, text, written_utc, deleted_utc FROM note WHERE id = ? AND cut_id = ?");
    if (!found.with(note, cut).step())
        throw files::InputError(bookPlace(path) + " has no note " + std::to_string(note) + " on its cut "
                                + std::to_string(cut) + "; 'headland review' with that cut lists its notes.");
    if (!found.isNull(3))
        throw files::InputError("Note " + std::to_string(note) + " of cut " + std::to_string(cut)
                                + " has been deleted; write a new one.");
    return {found.isNull(0) ? NAN : found.real(0), found.text(1), found.text(2)};
}

void BookPages::editNote(std::int64_t cut, std::int64_t note, const std::string& text) {
    const auto before = standing(cut, note);
    db.prepare("INSERT INTO note_revision(note_id, number, written_utc, text) "
               "SELECT ?1, count(*) + 1, ?2, ?3 FROM note_revision WHERE note_id = ?1")
        .with(note, before.written_utc, before.text)
        .run();
    db.prepare("UPDATE note SET text = ?, kind = 'note', written_utc = ? WHERE id = ?")
        .with(text, utcNow(), note)
        .run();
}

void BookPages::deleteNote(std::int64_t cut, std::int64_t note) {
    standing(cut, note);
    db.prepare("UPDATE note SET deleted_utc = ? WHERE id = ?").with(utcNow(), note).run();
}

void BookPages::written(std::int64_t cut, const std::string& when_utc) {
    db.prepare("UPDATE cut SET written_utc = ? WHERE id = ?").with(when_utc, cut).run();
}

bool BookPages::holds(std::int64_t cut, const std::string& begun_utc, const std::string& written_utc) {
    return db.prepare("SELECT 1 FROM cut WHERE id = ? AND begun_utc = ? AND written_utc = ?")
        .with(cut, begun_utc, written_utc)
        .step();
}

bool BookPages::holds(std::int64_t cut, const std::string& begun_utc) {
    return db.prepare("SELECT 1 FROM cut WHERE id = ? AND begun_utc = ?").with(cut, begun_utc).step();
}

void BookPages::rehearsal(const CutHead& head, const std::string& varied, const cut::CutSummary& summary) {
    const auto ofProgram = program(*head.program);
    const auto ofSide = side(head.side);
    const auto ofSettings = settings(head);
    db.prepare(
          "INSERT INTO rehearsal(side_id, made_by, headland_version, made_utc, program_id, setting_list_id, "
          "varied, can_be_cut, verdict, side_length_s, end_diameter_mm, used_mm, pitch_mean_um, "
          "land_least_um, "
          "width_least_um, slope_greatest, curvature_least_um, shortfall_greatest_um) "
          "VALUES(?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)")
        .with(ofSide, head.madeBy, head.version, utcNow(), ofProgram, ofSettings, varied,
              summary.verdict() == cut::Verdict::canBeCut ? 1 : 0, summary.verdictLine(),
              summary.sideLength_s, summary.endDiameter_mm, summary.used_mm, summary.pitchMean_um,
              figureOf(summary.landLeast), figureOf(summary.widthLeast), figureOf(summary.slopeGreatest),
              figureOf(summary.curvatureLeast), figureOf(summary.shortfallGreatest))
        .run();
}

bool BookPages::hasCut(std::int64_t cut) {
    return db.prepare("SELECT 1 FROM cut WHERE id = ?").with(cut).step();
}

} // namespace headland::log
