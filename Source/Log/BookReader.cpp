// SPDX-License-Identifier: GPL-3.0-or-later
#include "Log/BookReader.h"

#include "Cut/Scrap.h"
#include "Cut/SettingsTable.h"
#include "Cut/Spoils.h"
#include "Files/Errors.h"
#include "Files/ProfileFile.h"
#include "Log/BookPlace.h"
#include "Log/BookProfile.h"
#include "Log/BookSchema.h"
#include "Log/BookTrouble.h"
#include "Text/Safe.h"
#include "Text/Times.h"

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <thread>
#include <unistd.h>

namespace headland::log {

namespace {

/// The states in which there is program, as SQL has a list.
std::string programStates() {
    return std::to_string(static_cast<int>(cut::State::program)) + ", "
           + std::to_string(static_cast<int>(cut::State::band));
}

constexpr int patience_ms = 2000; ///< for another program's lock

[[noreturn]] void refuse(const std::string& path, const std::string& what) {
    throw files::InputError(bookPlace(path) + " " + what);
}

[[noreturn]] void refuseCut(const std::string& path, std::int64_t cut, const std::string& what) {
    refuse(path, "is damaged: its cut " + std::to_string(cut) + " has " + what
                     + "; move it away and take a copy from before.");
}

[[noreturn]] void refuseNumber(const std::string& path, std::int64_t cut) {
    refuse(path,
           "has no cut " + std::to_string(cut) + "; 'headland review' with the book alone lists its cuts.");
}

/// One state of the book for several statements, whoever writes into it meanwhile.
class Snapshot {
public:
    explicit Snapshot(Database& d) : database(d) { database.run("BEGIN"); }
    ~Snapshot() {
        try {
            database.run("ROLLBACK");    // nothing was changed
        } catch (const DatabaseError&) { // SQLite has left it by itself
        }
    }
    Snapshot(const Snapshot&) = delete;
    Snapshot& operator=(const Snapshot&) = delete;

private:
    Database& database;
};

/// Whether frames of these numbers and the gaps together are 0, 1, 2 … without a hole and without overlap.
bool isWhole(const FrameRuns& runs, const std::vector<GapRecord>& gaps) {
    std::int64_t next = 0;
    auto gap = gaps.begin();
    const auto pass = [&] {
        for (; gap != gaps.end() && gap->firstFrame == next; ++gap)
            next = gap->lastFrame + 1;
    };
    for (const auto& run : runs) {
        pass(); // a gap never lies within one
        if (run.first != next)
            return false;
        next = run.last + 1;
    }
    pass();
    return gap == gaps.end();
}

/// How many there are, those that are missing too.
std::int64_t framesOf(const FrameRuns& runs, const std::vector<GapRecord>& gaps) {
    std::int64_t count = 0;
    for (const auto& run : runs)
        count += run.last - run.first + 1;
    for (const auto& gap : gaps)
        count += gap.lastFrame - gap.firstFrame + 1;
    return count;
}

/// The last one of the program.
std::optional<std::int64_t> lastOfProgram(Database& book, std::int64_t cut) {
    auto last =
        book.prepare("SELECT number FROM frame WHERE cut_id = ? AND state = ? ORDER BY number DESC LIMIT 1");
    return last.with(cut, static_cast<int>(cut::State::program)).step() ? std::optional(last.integer(0))
                                                                        : std::nullopt;
}

/// How much of a book is kept in memory at once, beside frames. No book that was written by cutting comes near.
class Room {
public:
    explicit Room(const std::string& bookPath) : path(bookPath) {}

    /// Takes so much more.
    void take(std::size_t bytes) {
        constexpr std::size_t most_bytes = 64 << 20;
        used += bytes;
        if (used > most_bytes)
            refuse(path, "holds more than any cut or list of cuts; it is damaged, or not for reading here; "
                         "move it away "
                         "and take a copy from before.");
    }
    /// The text of a column.
    std::string text(const Statement& row, int column) {
        auto text = row.text(column);
        take(sizeof text + text.size());
        return text;
    }

private:
    const std::string& path;
    std::size_t used = 0;
};

float micrometres(const Statement& row, int at) {
    constexpr double nm_per_um = 1000;
    return row.isNull(at) ? cut::noEdge.outer_um : static_cast<float>(row.real(at) / nm_per_um);
}

double realOrNan(const Statement& row, int at) {
    return row.isNull(at) ? NAN : row.real(at);
}

/// A count; there is none below nothing.
std::int64_t countOf(const Statement& row, int at) {
    return std::max<std::int64_t>(0, row.integer(at));
}

/// A place in the program, or none.
double timeOf(const Statement& row, int at) {
    return text::inProgram(realOrNan(row, at));
}

Database open(const std::string& path) {
    checkBookPlace(path);
    Database database(path, Database::Access::read, patience_ms);
    database.boundWork();
    checkIsBook(database);
    return database;
}

/// Whether a moment later it may be another matter: a book that is being made, brought up to date or left by its writer.
bool mayPass(const std::string& path, const DatabaseError& error) {
    return isBetweenStates(error) && ::access(path.c_str(), R_OK) == 0;
}

bool isRate(double rate_hz) {
    return rate_hz >= 1 && rate_hz <= 1e7;
}

/// What settings a cut can have had, whatever version made it: numbers, and none that something is divided by or counted to
/// is out of all measure.
bool isUsable(const cut::CutSettings& settings) {
    constexpr double most = 1e9;
    const auto all = cut::settingsTable();
    return std::all_of(
               all.begin(), all.end(),
               [&](const auto& setting) { return std::abs(cut::getNumber(settings, setting)) <= most; })
           && settings.rpm >= 1 && settings.rpm <= 1000 && settings.sectors_per_turn >= 1
           && settings.sectors_per_turn <= 100'000;
}

} // namespace

/// Whatever SQLite says becomes a sentence; what may pass in a moment is waited for, as long as for a lock.
template <typename Work>
auto BookReader::reading(Work work) {
    const auto until = std::chrono::steady_clock::now() + std::chrono::milliseconds(patience_ms);
    for (;;)
        try {
            if (!db)
                db.emplace(open(path));
            return work();
        } catch (const DatabaseError& error) {
            if (!mayPass(path, error) || std::chrono::steady_clock::now() > until)
                throw files::InputError(readingTrouble(path, error));
            db.reset();
            std::this_thread::sleep_for(std::chrono::milliseconds(10));
        } catch (const DamagedRow& row) {
            refuse(path, "is damaged: it has " + std::string(row.what())
                             + "; move it away and take a copy from before.");
        } catch (const BookRefused& refusal) {
            refuse(path, "cannot be read: " + std::string(refusal.what()));
        }
}

BookReader::BookReader(const std::string& bookPath) : path(bookPath) {
    reading([this] {
        identity = files::FileIdentity(path);
        return 0;
    });
}

std::vector<CutEntry> BookReader::cuts() {
    return reading([this] {
        Room room(path);
        std::vector<CutEntry> entries;
        const Snapshot snapshot(*db);
        const std::string judged = hasColumnsOf(3) ? "scrap, end_diameter_mm" : "NULL, NULL";
        auto rows = db->prepare(
            "SELECT cut.id, job.title, side.name, begun_utc, written_utc, ending, fault, "
            "coalesce((SELECT time_s_e6 / 1e6 FROM frame WHERE cut_id = cut.id AND state IN ("
            + programStates()
            + ") ORDER BY number DESC LIMIT 1), "
              "(SELECT time_s_e6 / 1e6 FROM frame WHERE cut_id = cut.id ORDER BY number DESC LIMIT 1)), "
              "program.path, "
              "(SELECT value FROM setting WHERE list_id = setting_list_id AND key = 'disc_level_db'), "
              "(SELECT value FROM setting WHERE list_id = setting_list_id AND key = 'end_radius_mm'), "
            + judged
            + " FROM cut JOIN side ON side.id = side_id JOIN job ON job.id = job_id "
              "LEFT JOIN program ON program.id = program_id ORDER BY cut.id");
        while (rows.step()) {
            room.take(sizeof(CutEntry));
            auto& entry = entries.emplace_back(CutEntry{rows.integer(0),
                                                        {room.text(rows, 1), room.text(rows, 2)},
                                                        room.text(rows, 3),
                                                        room.text(rows, 4),
                                                        room.text(rows, 5),
                                                        rows.integer(6) != 0,
                                                        timeOf(rows, 7),
                                                        rows.isNull(8) ? std::string() : room.text(rows, 8),
                                                        realOrNan(rows, 9)});
            if (rows.isNull(11))
                judge(entry, realOrNan(rows, 10));
            else {
                entry.scrap = room.text(rows, 11);
                entry.endDiameter_mm = realOrNan(rows, 12);
            }
        }
        return entries;
    });
}

bool BookReader::hasColumnsOf(std::int64_t version) {
    return db->number("PRAGMA user_version") >= version;
}

/// Of a cut without an end, and of one that an older Headland logged: what its frames tell.
void BookReader::judge(CutEntry& entry, double endRadius_mm) {
    const auto add = [&entry](std::string_view reason) {
        if (entry.scrap.find(reason) == std::string::npos) // of the disc's end there may be more than one
            entry.scrap += (entry.scrap.empty() ? "" : "; ") + std::string(reason);
    };
    auto flags = db->prepare("SELECT DISTINCT flags FROM frame WHERE cut_id = ?");
    unsigned all = 0;
    for (flags.with(entry.cut); flags.step();)
        all |= static_cast<unsigned>(flags.integer(0));
    for (int bit = 0; bit < cut::flagCount; ++bit)
        if (const auto flag = cut::flagAt(bit); (all & static_cast<unsigned>(flag)) != 0 && cut::spoils(flag))
            add(cut::spoilingText(flag));
    auto end = db->prepare("SELECT radius_mm_e6 / 1e6 FROM frame WHERE cut_id = ? AND state = ? "
                           "ORDER BY number DESC LIMIT 1");
    if (!end.with(entry.cut, static_cast<int>(cut::State::program)).step())
        return;
    const auto radius_mm = realOrNan(end, 0);
    entry.endDiameter_mm = 2 * radius_mm;
    if (radius_mm < endRadius_mm)
        add("it does not fit");
}

CutHead BookReader::head(std::int64_t number, LoggedCut& logged) {
    auto row = db->prepare(
        "SELECT job.title, side.name, answers_cut_id, made_by, headland_version, setting_list_id, "
        "cut.sample_rate_hz, preview, begun_utc, written_utc, ended_utc, ending, fault, bad_samples, "
        "bad_sample_first_s, program.path, program.format, program.sample_rate_hz, program.channels, "
        "program.length_frames "
        "FROM cut JOIN side ON side.id = side_id JOIN job ON job.id = job_id "
        "LEFT JOIN program ON program.id = program_id WHERE cut.id = ?");
    if (!row.with(number).step())
        refuseNumber(path, number);
    CutHead head;
    head.side = {row.text(0), row.text(1)};
    if (!row.isNull(2))
        head.answers = row.integer(2);
    head.madeBy = row.text(3);
    head.version = row.text(4);
    head.sampleRate_hz = row.real(6);
    head.preview = row.text(7);
    logged.begun_utc = row.text(8);
    logged.written_utc = row.text(9);
    if (!row.isNull(10))
        logged.tail = {row.text(11), row.integer(12) != 0, 0, countOf(row, 13), timeOf(row, 14)};
    if (!row.isNull(15)) {
        files::ProgramFacts facts;
        facts.fileName = text::printable(std::filesystem::path(row.text(15)).filename().string());
        facts.format = row.text(16);
        facts.sampleRate_hz = row.real(17);
        facts.channels = static_cast<int>(std::min<std::int64_t>(countOf(row, 18), 1000));
        facts.length_frames = countOf(row, 19);
        facts.length_s = static_cast<double>(facts.length_frames) / facts.sampleRate_hz;
        if (!isRate(facts.sampleRate_hz) || std::isnan(text::inProgram(facts.length_s)))
            refuseCut(path, number, "a program of a rate or length there is not");
        head.program = {row.text(15), facts};
    }
    if (!isRate(head.sampleRate_hz))
        refuseCut(path, number, "a sampling rate there is not");
    auto settings =
        db->prepare("SELECT key, value FROM setting WHERE list_id = ? ORDER BY key = 'format' DESC, key");
    settings.with(row.integer(5));
    constexpr std::size_t formatMost = 40; ///< of its name, that is shown
    Room room(path);
    while (settings.step()) {
        const auto key = room.text(settings, 0);
        const auto* setting = cut::findSetting(key);
        if (setting == nullptr)
            head.otherSettings.emplace_back(key, settings.real(1));
        else if (key == "format") {
            if (const auto problem = cut::setFromText(
                    head.settings, key, text::printable(settings.text(1).substr(0, formatMost))))
                refuse(path, "holds a cut of a format that is not known: " + *problem);
        } else
            cut::setNumber(head.settings, *setting, settings.real(1));
    }
    if (!isUsable(head.settings))
        refuseCut(path, number, "settings that no cut can have had");
    return head;
}

/// What happened, what was noted and what is missing.
void BookReader::readLists(std::int64_t number, LoggedCut& logged) {
    Room room(path);
    auto events = db->prepare("SELECT before_frame, time_s, kind, what, value FROM event WHERE cut_id = ? "
                              "ORDER BY number");
    for (events.with(number); events.step();) {
        room.take(sizeof(CutEventRecord));
        logged.events.push_back({events.integer(0), timeOf(events, 1), room.text(events, 2),
                                 room.text(events, 3), realOrNan(events, 4)});
    }
    logged.notes = notesOf(number);
    auto gaps = db->prepare("SELECT first_frame, last_frame, from_s, to_s, why FROM gap WHERE cut_id = ? "
                            "ORDER BY first_frame");
    for (gaps.with(number); gaps.step();) {
        room.take(sizeof(GapRecord));
        logged.gaps.push_back(
            {gaps.integer(0), gaps.integer(1), timeOf(gaps, 2), timeOf(gaps, 3), room.text(gaps, 4)});
        const auto& gap = logged.gaps.back();
        if (gap.firstFrame < 0 || gap.lastFrame < gap.firstFrame || gap.lastFrame > numberMost)
            refuseCut(path, number, "a gap that cannot be");
    }
}

/// The same book once more, for another thread; nothing where another book lies in its place.
std::function<Database()> BookReader::another() const {
    if (!identity.isAt(path))
        return {};
    return [this] { return open(path); };
}

/// What there is beside frames of these numbers.
void BookReader::complete(std::int64_t number, LoggedCut& logged, const FrameRuns& runs) {
    readLists(number, logged);
    if (!isWhole(runs, logged.gaps))
        refuseCut(path, number, "frames missing of which it says nothing");
    if (logged.tail)
        logged.tail->frames = framesOf(runs, logged.gaps);
}

LoggedCut BookReader::cut(std::int64_t number) {
    return reading([&] {
        const Snapshot snapshot(*db);
        LoggedCut logged;
        logged.head = head(number, logged);
        auto read = readFrames(*db, another(), number);
        logged.frames = std::move(read.frames);
        complete(number, logged, read.runs);
        return logged;
    });
}

/// A frame of which more is needed than of all the others is read once more, whole.
FrameSums BookReader::sumUp(std::int64_t number, const CutHead& head, FrameRuns& runs) {
    const auto last = lastOfProgram(*db, number);
    const auto length_s = head.program ? head.program->facts.length_s
                          : last       ? readFrame(*db, number, *last).time_s
                                       : 0;
    cut::SummaryBuilder builder(head.settings);
    cut::EstimateCheck estimates(length_s);
    const auto sum = [&](const cut::CutFrame& frame) {
        builder.frame(frame);
        estimates.frame(frame);
    };
    runs = passFrames(*db, another(), number, [&](std::int64_t at, const cut::CutFrame& frame) {
        if (at == last || estimates.picks(frame))
            sum(readFrame(*db, number, at));
        else
            sum(frame);
    });
    return {length_s, builder.summary(), estimates};
}

SummedCut BookReader::summedCut(std::int64_t number) {
    return reading([&] {
        const Snapshot snapshot(*db);
        LoggedCut logged;
        logged.head = head(number, logged);
        FrameRuns runs;
        auto sums = sumUp(number, logged.head, runs);
        complete(number, logged, runs);
        return SummedCut{std::move(logged), std::move(sums)};
    });
}

FrameSums sumsOf(const LoggedCut& logged) {
    const auto length_s =
        logged.head.program ? logged.head.program->facts.length_s : logged.frames.programEnd_s();
    cut::SummaryBuilder builder(logged.head.settings);
    cut::EstimateCheck estimates(length_s);
    for (const auto& frame : logged.frames) {
        builder.frame(frame);
        estimates.frame(frame);
    }
    return {length_s, builder.summary(), estimates};
}

std::vector<LoggedNote> BookReader::notes(std::int64_t number) {
    return reading([&] {
        const Snapshot snapshot(*db);
        if (!db->prepare("SELECT 1 FROM cut WHERE id = ?").with(number).step())
            refuseNumber(path, number);
        return notesOf(number);
    });
}

std::vector<LoggedNote> BookReader::notesOf(std::int64_t number) {
    const auto isKept = hasColumnsOf(3);
    auto rows =
        db->prepare("SELECT time_s, text, written_utc, id, " + std::string(isKept ? "deleted_utc" : "NULL")
                    + " FROM note WHERE cut_id = ? ORDER BY time_s IS NULL, time_s, id");
    std::vector<LoggedNote> notes;
    Room room(path);
    for (rows.with(number); rows.step();) {
        room.take(sizeof(LoggedNote));
        notes.push_back({{timeOf(rows, 0), room.text(rows, 1), room.text(rows, 2)},
                         rows.integer(3),
                         rows.isNull(4) ? std::string() : room.text(rows, 4),
                         {}});
    }
    if (!isKept)
        return notes;
    auto revisions =
        db->prepare("SELECT text, written_utc FROM note_revision WHERE note_id = ? ORDER BY number");
    for (auto& note : notes)
        for (revisions.with(note.note); revisions.step();)
            note.earlier.push_back({room.text(revisions, 0), room.text(revisions, 1)});
    return notes;
}

std::string BookReader::profile(std::int64_t number) {
    return reading([&] {
        const Snapshot snapshot(*db);
        const std::string column = hasColumnsOf(4) ? "profile_id" : "NULL";
        auto row = db->prepare("SELECT " + column + " FROM cut WHERE id = ?");
        if (!row.with(number).step())
            refuseNumber(path, number);
        if (row.isNull(0))
            return std::string();
        auto bytes = profileBytesOf(*db, row.integer(0));
        try {
            files::profileFromBytes(bytes, path);
        } catch (const files::InputError&) { // says it of a file that is nothing but a profile
            refuseCut(path, number, "a profile that is none");
        }
        return bytes;
    });
}

std::vector<PlaceEntry> BookReader::places(std::int64_t cut) {
    return reading([&] {
        auto rows = db->prepare("SELECT id, flag, time_s FROM place WHERE cut_id = ? ORDER BY time_s, flag");
        std::vector<PlaceEntry> places;
        Room room(path);
        for (rows.with(cut); rows.step();) {
            room.take(sizeof(PlaceEntry));
            if (rows.integer(1) < 0 || rows.integer(1) >= cut::flagCount)
                refuseCut(path, cut, "a place with a flag there is not");
            if (std::isnan(timeOf(rows, 2)))
                refuseCut(path, cut, "a place at a time there is not");
            places.push_back({rows.integer(0), cut::flagAt(static_cast<int>(rows.integer(1))), rows.real(2)});
        }
        return places;
    });
}

cut::GroovePatch BookReader::patch(std::int64_t place) {
    return reading([&] {
        constexpr std::int64_t pointsMost = 100'000, turnMost = 1000;
        constexpr double radiusMost_mm = 1000, edgeMost_um = 1e6, stepMost_rad = 1;
        const auto damaged = [&](const std::string& what) {
            refuse(path, "is damaged: its kept place " + std::to_string(place) + " has " + what
                             + "; move it away and take a copy from before.");
        };
        const Snapshot snapshot(*db);
        auto row = db->prepare("SELECT time_s, start_radius_mm, step_rad, points FROM place WHERE id = ?");
        if (!row.with(place).step())
            refuse(path, "has no kept place " + std::to_string(place) + ".");
        if (row.integer(3) < 1 || row.integer(3) > pointsMost)
            damaged("not all its points");
        if (std::isnan(timeOf(row, 0)) || !(row.real(1) > 0 && row.real(1) <= radiusMost_mm)
            || !(row.real(2) > 0 && row.real(2) <= stepMost_rad))
            damaged("a place on the disc that cannot be");
        cut::GroovePatch patch{
            row.real(0), row.real(1), row.real(2), static_cast<std::size_t>(row.integer(3)), {}};
        Room room(path);
        auto edges =
            db->prepare("SELECT turn, outer_nm, inner_nm FROM edge WHERE place_id = ? ORDER BY turn, point");
        for (edges.with(place); edges.step();) {
            if (std::abs(edges.real(0)) > turnMost || std::abs(edges.real(1)) > edgeMost_um * 1000
                || std::abs(edges.real(2)) > edgeMost_um * 1000)
                damaged("edges that no groove has");
            const auto turn = static_cast<int>(edges.integer(0));
            if (patch.turns.empty() || patch.turns.back().turn != turn)
                patch.turns.push_back({turn, {}});
            room.take(sizeof(cut::EdgePoint));
            patch.turns.back().edges.push_back({micrometres(edges, 1), micrometres(edges, 2)});
        }
        for (const auto& turn : patch.turns)
            if (turn.edges.size() != patch.points)
                damaged("not all its points");
        return patch;
    });
}

std::vector<std::string> BookReader::programs() {
    return reading([this] {
        Room room(path);
        std::vector<std::string> paths;
        for (auto rows = db->prepare("SELECT path FROM program"); rows.step();)
            paths.push_back(room.text(rows, 0));
        return paths;
    });
}

std::vector<RehearsalEntry> BookReader::rehearsals() {
    return reading([this] {
        auto rows = db->prepare(
            "SELECT job.title, side.name, rehearsal.made_utc, made_by, varied, setting.value, can_be_cut, "
            "verdict, end_diameter_mm FROM rehearsal JOIN side ON side.id = side_id JOIN job ON job.id = "
            "job_id "
            "LEFT JOIN setting ON list_id = setting_list_id AND key = varied ORDER BY rehearsal.id");
        Room room(path);
        std::vector<RehearsalEntry> entries;
        while (rows.step())
            entries.push_back({{room.text(rows, 0), room.text(rows, 1)},
                               room.text(rows, 2),
                               room.text(rows, 3),
                               room.text(rows, 4),
                               realOrNan(rows, 5),
                               rows.integer(6) != 0,
                               room.text(rows, 7),
                               rows.real(8)});
        return entries;
    });
}

void BookReader::check() {
    reading([this] {
        checkPages(*db);
        if (db->number("SELECT count(*) FROM pragma_foreign_key_check") > 0)
            refuse(path, "is damaged: some of its rows belong to nothing. It has been left as it is; take a "
                         "copy from before.");
        return 0;
    });
}

} // namespace headland::log
