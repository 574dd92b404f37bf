// SPDX-License-Identifier: GPL-3.0-or-later
#include "Log/BookReader.h"

#include "Cut/Scrap.h"
#include "Cut/SettingsTable.h"
#include "Cut/Spoils.h"
#include "Files/Errors.h"
#include "Log/BookPlace.h"
#include "Log/BookSchema.h"
#include "Log/BookTrouble.h"
#include "Log/FrameColumns.h"
#include "Text/Safe.h"
#include "Text/Times.h"

#include <algorithm>
#include <array>
#include <filesystem>
#include <span>

namespace headland::log {

namespace {

constexpr int wait_ms = 2000;               ///< for another program's lock
constexpr std::int64_t roomMax = 1'000'000; ///< frames for which room is made at once

[[noreturn]] void refuse(const std::string& path, const std::string& what) {
    throw files::InputError(bookPlace(path) + " " + what);
}

double figureOf(const Number& stored, const FrameColumn& column) {
    switch (stored.kind) {
    case Number::Kind::null:
        return column.absent;
    case Number::Kind::real:
        return stored.value;
    case Number::Kind::whole:
        break;
    }
    return stored.value / powerOfTen(column.decimals);
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
bool isWhole(const std::vector<std::int64_t>& numbers, const std::vector<GapRecord>& gaps) {
    std::int64_t next = 0;
    auto gap = gaps.begin();
    const auto pass = [&] {
        for (; gap != gaps.end() && gap->firstFrame == next && gap->lastFrame >= next; ++gap)
            next = gap->lastFrame + 1;
    };
    for (const auto number : numbers) {
        pass();
        if (number != next++)
            return false;
    }
    pass();
    return gap == gaps.end();
}

std::int64_t framesOf(const LoggedCut& logged) {
    auto count = static_cast<std::int64_t>(logged.frames.size());
    for (const auto& gap : logged.gaps)
        count += gap.lastFrame - gap.firstFrame + 1;
    return count;
}

/// Every figure absent: what a frame holds of columns that an older book does not have.
cut::CutFrame blankFrame() {
    cut::CutFrame frame{};
    for (const auto& column : frameColumns)
        column.of(frame) = column.absent;
    return frame;
}

float micrometres(const Statement& row, int at) {
    constexpr double nm_per_um = 1000;
    return row.isNull(at) ? cut::noEdge.outer_um
                          : static_cast<float>(static_cast<double>(row.integer(at)) / nm_per_um);
}

double realOrNan(const Statement& row, int at) {
    return row.isNull(at) ? NAN : row.real(at);
}

/// A place in the program, or none.
double timeOf(const Statement& row, int at) {
    return text::inProgram(realOrNan(row, at));
}

Database open(const std::string& path) {
    checkBookPlace(path);
    Database database(path, Database::Access::read, wait_ms);
    checkIsBook(database);
    return database;
}

} // namespace

/// Whatever SQLite says becomes a sentence.
template <typename Work>
auto BookReader::reading(Work work) {
    try {
        return work();
    } catch (const DatabaseError& error) {
        throw files::InputError(readingTrouble(path, error));
    } catch (const BookRefused& refusal) {
        refuse(path, "cannot be read: " + std::string(refusal.what()));
    }
}

BookReader::BookReader(const std::string& bookPath) : path(bookPath) {
    reading([this] {
        db.emplace(open(path));
        return 0;
    });
}

std::vector<CutEntry> BookReader::cuts() {
    return reading([this] {
        std::vector<CutEntry> entries;
        const Snapshot snapshot(*db);
        const std::string judged = hasColumnsOf(3) ? "scrap, end_diameter_mm" : "NULL, NULL";
        auto rows = db->prepare(
            "SELECT cut.id, job.title, side.name, begun_utc, written_utc, ending, fault, "
            "(SELECT time_s_e6 FROM frame WHERE cut_id = cut.id ORDER BY number DESC LIMIT 1), program.path, "
            "(SELECT value FROM setting WHERE list_id = setting_list_id AND key = 'disc_level_db'), "
            "(SELECT value FROM setting WHERE list_id = setting_list_id AND key = 'end_radius_mm'), "
            + judged
            + " FROM cut JOIN side ON side.id = side_id JOIN job ON job.id = job_id "
              "LEFT JOIN program ON program.id = program_id ORDER BY cut.id");
        std::array<Number, 1> last{};
        while (rows.step()) {
            rows.numbers(7, last);
            auto& entry = entries.emplace_back(CutEntry{rows.integer(0),
                                                        {rows.text(1), rows.text(2)},
                                                        rows.text(3),
                                                        rows.text(4),
                                                        rows.text(5),
                                                        rows.integer(6) != 0,
                                                        figureOf(last[0], frameColumns.front()),
                                                        rows.isNull(8) ? std::string() : rows.text(8),
                                                        realOrNan(rows, 9)});
            if (rows.isNull(11))
                judge(entry, realOrNan(rows, 10));
            else {
                entry.scrap = rows.text(11);
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
    auto end = db->prepare("SELECT radius_mm_e6 FROM frame WHERE cut_id = ? AND state = ? "
                           "ORDER BY number DESC LIMIT 1");
    if (!end.with(entry.cut, static_cast<int>(cut::State::program)).step())
        return;
    std::array<Number, 1> radius{};
    end.numbers(0, radius);
    constexpr std::size_t radiusColumn = 2;
    const auto radius_mm = figureOf(radius[0], frameColumns[radiusColumn]);
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
        logged.tail = {row.text(11), row.integer(12) != 0, 0, row.integer(13), timeOf(row, 14)};
    if (!row.isNull(15)) {
        files::ProgramFacts facts;
        facts.fileName = text::printable(std::filesystem::path(row.text(15)).filename().string());
        facts.format = row.text(16);
        facts.sampleRate_hz = row.real(17);
        facts.channels = static_cast<int>(row.integer(18));
        facts.length_frames = row.integer(19);
        facts.length_s = static_cast<double>(facts.length_frames) / facts.sampleRate_hz;
        head.program = {row.text(15), facts};
    }
    auto settings =
        db->prepare("SELECT key, value FROM setting WHERE list_id = ? ORDER BY key = 'format' DESC, key");
    settings.with(row.integer(5));
    while (settings.step()) {
        const auto key = settings.text(0);
        const auto* setting = cut::findSetting(key);
        if (setting == nullptr)
            head.otherSettings.emplace_back(key, settings.real(1));
        else if (key == "format") {
            if (const auto problem = cut::setFromText(head.settings, key, settings.text(1)))
                refuse(path, "holds a cut of a format that is not known: " + *problem);
        } else
            cut::setNumber(head.settings, *setting, settings.real(1));
    }
    return head;
}

/// How many rows to make room for: no more than a cut's memory has, whatever numbers a damaged book has.
std::size_t BookReader::roomFor(std::int64_t cut) {
    auto last = db->prepare("SELECT max(number) FROM frame WHERE cut_id = ?");
    last.with(cut).step();
    return static_cast<std::size_t>(std::clamp<std::int64_t>(last.integer(0), 0, roomMax - 1) + 1);
}

std::vector<cut::CutFrame> BookReader::frames(std::int64_t number, std::vector<std::int64_t>& numbers) {
    // Asked each time: another program may have brought the book up to date since it was opened.
    const auto columns = std::span(frameColumns).first(bookColumns(db->number("PRAGMA user_version")));
    auto rows = db->prepare("SELECT number, state, flags, length_known" + storedNames(columns.size())
                            + " FROM frame WHERE cut_id = ? ORDER BY number");
    std::vector<cut::CutFrame> frames;
    const auto room = roomFor(number);
    frames.reserve(room);
    numbers.reserve(room);
    const auto blank = blankFrame();
    std::array<Number, frameColumns.size()> stored{};
    for (rows.with(number); rows.step();) {
        numbers.push_back(rows.integer(0));
        auto& frame = frames.emplace_back(blank);
        frame.state = static_cast<cut::State>(rows.integer(1));
        frame.flags = static_cast<std::uint16_t>(rows.integer(2));
        frame.estimate.lengthKnown = rows.integer(3) != 0;
        rows.numbers(4, std::span(stored).first(columns.size()));
        for (std::size_t i = 0; i < columns.size(); ++i)
            columns[i].of(frame) = figureOf(stored[i], columns[i]);
        if (name(frame.state).empty())
            refuseCut(path, number, "a frame of a state there is not");
    }
    return frames;
}

LoggedCut BookReader::cut(std::int64_t number) {
    return reading([&] {
        const Snapshot snapshot(*db);
        LoggedCut logged;
        logged.head = head(number, logged);
        std::vector<std::int64_t> numbers;
        logged.frames = frames(number, numbers);
        auto events =
            db->prepare("SELECT before_frame, time_s, kind, what, value FROM event WHERE cut_id = ? "
                        "ORDER BY number");
        for (events.with(number); events.step();)
            logged.events.push_back(
                {events.integer(0), timeOf(events, 1), events.text(2), events.text(3), realOrNan(events, 4)});
        logged.notes = notesOf(number);
        auto gaps = db->prepare("SELECT first_frame, last_frame, from_s, to_s, why FROM gap WHERE cut_id = ? "
                                "ORDER BY first_frame");
        for (gaps.with(number); gaps.step();)
            logged.gaps.push_back(
                {gaps.integer(0), gaps.integer(1), timeOf(gaps, 2), timeOf(gaps, 3), gaps.text(4)});
        if (!isWhole(numbers, logged.gaps))
            refuseCut(path, number, "frames missing of which it says nothing");
        if (logged.tail)
            logged.tail->frames = framesOf(logged);
        return logged;
    });
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
    for (rows.with(number); rows.step();)
        notes.push_back({{timeOf(rows, 0), rows.text(1), rows.text(2)},
                         rows.integer(3),
                         rows.isNull(4) ? std::string() : rows.text(4),
                         {}});
    if (!isKept)
        return notes;
    auto revisions =
        db->prepare("SELECT text, written_utc FROM note_revision WHERE note_id = ? ORDER BY number");
    for (auto& note : notes)
        for (revisions.with(note.note); revisions.step();)
            note.earlier.push_back({revisions.text(0), revisions.text(1)});
    return notes;
}

std::vector<PlaceEntry> BookReader::places(std::int64_t cut) {
    return reading([&] {
        auto rows = db->prepare("SELECT id, flag, time_s FROM place WHERE cut_id = ? ORDER BY time_s, flag");
        std::vector<PlaceEntry> places;
        for (rows.with(cut); rows.step();) {
            if (rows.integer(1) < 0 || rows.integer(1) >= cut::flagCount)
                refuseCut(path, cut, "a place with a flag there is not");
            places.push_back({rows.integer(0), cut::flagAt(static_cast<int>(rows.integer(1))), rows.real(2)});
        }
        return places;
    });
}

cut::GroovePatch BookReader::patch(std::int64_t place) {
    return reading([&] {
        const Snapshot snapshot(*db);
        auto row = db->prepare("SELECT time_s, start_radius_mm, step_rad, points FROM place WHERE id = ?");
        if (!row.with(place).step())
            refuse(path, "has no kept place " + std::to_string(place) + ".");
        cut::GroovePatch patch{
            row.real(0), row.real(1), row.real(2), static_cast<std::size_t>(row.integer(3)), {}};
        auto edges =
            db->prepare("SELECT turn, outer_nm, inner_nm FROM edge WHERE place_id = ? ORDER BY turn, point");
        for (edges.with(place); edges.step();) {
            const auto turn = static_cast<int>(edges.integer(0));
            if (patch.turns.empty() || patch.turns.back().turn != turn)
                patch.turns.push_back({turn, {}});
            patch.turns.back().edges.push_back({micrometres(edges, 1), micrometres(edges, 2)});
        }
        for (const auto& turn : patch.turns)
            if (turn.edges.size() != patch.points)
                refuse(path, "is damaged: its kept place " + std::to_string(place)
                                 + " has not all its points; move it away and take a copy from before.");
        return patch;
    });
}

std::vector<std::string> BookReader::programs() {
    return reading([this] {
        std::vector<std::string> paths;
        for (auto rows = db->prepare("SELECT DISTINCT path FROM program"); rows.step();)
            paths.push_back(rows.text(0));
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
        std::vector<RehearsalEntry> entries;
        while (rows.step())
            entries.push_back({{rows.text(0), rows.text(1)},
                               rows.text(2),
                               rows.text(3),
                               rows.text(4),
                               realOrNan(rows, 5),
                               rows.integer(6) != 0,
                               rows.text(7),
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
