// SPDX-License-Identifier: GPL-3.0-or-later
#include "Log/BookSchema.h"

#include "Log/FrameColumns.h"

#include <algorithm>
#include <vector>

namespace headland::log {

namespace {

constexpr auto tables = R"(
CREATE TABLE job(
    id INTEGER PRIMARY KEY,
    title TEXT NOT NULL UNIQUE,
    made_utc TEXT NOT NULL);

CREATE TABLE side(
    id INTEGER PRIMARY KEY,
    job_id INTEGER NOT NULL REFERENCES job(id),
    name TEXT NOT NULL,
    UNIQUE(job_id, name));

CREATE TABLE program(
    id INTEGER PRIMARY KEY,
    path TEXT NOT NULL,
    format TEXT NOT NULL,
    sample_rate_hz REAL NOT NULL,
    channels INTEGER NOT NULL,
    length_frames INTEGER NOT NULL,
    UNIQUE(path, format, sample_rate_hz, channels, length_frames));

CREATE TABLE setting_list(id INTEGER PRIMARY KEY);

CREATE TABLE setting(
    list_id INTEGER NOT NULL REFERENCES setting_list(id),
    key TEXT NOT NULL,
    value NOT NULL,
    PRIMARY KEY(list_id, key)) WITHOUT ROWID;

CREATE TABLE cut(
    id INTEGER PRIMARY KEY,
    side_id INTEGER NOT NULL REFERENCES side(id),
    answers_cut_id INTEGER REFERENCES cut(id),
    made_by TEXT NOT NULL,
    headland_version TEXT NOT NULL,
    program_id INTEGER REFERENCES program(id),
    setting_list_id INTEGER NOT NULL REFERENCES setting_list(id),
    sample_rate_hz REAL NOT NULL,
    preview TEXT NOT NULL,
    begun_utc TEXT NOT NULL,
    written_utc TEXT NOT NULL,
    ended_utc TEXT,
    ending TEXT,
    fault INTEGER,
    bad_samples INTEGER,
    bad_sample_first_s REAL);
CREATE INDEX cut_of_side ON cut(side_id);

CREATE TABLE event(
    cut_id INTEGER NOT NULL REFERENCES cut(id),
    number INTEGER NOT NULL,
    before_frame INTEGER NOT NULL,
    time_s REAL,
    kind TEXT NOT NULL,
    what TEXT NOT NULL,
    value REAL,
    PRIMARY KEY(cut_id, number)) WITHOUT ROWID;

CREATE TABLE note(
    id INTEGER PRIMARY KEY,
    cut_id INTEGER NOT NULL REFERENCES cut(id),
    time_s REAL,
    written_utc TEXT NOT NULL,
    kind TEXT NOT NULL CHECK(kind IN ('mark', 'note')),
    text TEXT NOT NULL);
CREATE INDEX note_of_cut ON note(cut_id);

CREATE TABLE gap(
    cut_id INTEGER NOT NULL REFERENCES cut(id),
    first_frame INTEGER NOT NULL,
    last_frame INTEGER NOT NULL,
    from_s REAL,
    to_s REAL,
    why TEXT NOT NULL,
    PRIMARY KEY(cut_id, first_frame)) WITHOUT ROWID;

CREATE TABLE place(
    id INTEGER PRIMARY KEY,
    cut_id INTEGER NOT NULL REFERENCES cut(id),
    flag INTEGER NOT NULL REFERENCES flag(bit),
    time_s REAL NOT NULL,
    start_radius_mm REAL NOT NULL,
    step_rad REAL NOT NULL,
    points INTEGER NOT NULL);
CREATE INDEX place_of_cut ON place(cut_id);

CREATE TABLE edge(
    place_id INTEGER NOT NULL REFERENCES place(id),
    turn INTEGER NOT NULL,
    point INTEGER NOT NULL,
    outer_nm INTEGER,
    inner_nm INTEGER,
    PRIMARY KEY(place_id, turn, point)) WITHOUT ROWID;

CREATE TABLE rehearsal(
    id INTEGER PRIMARY KEY,
    side_id INTEGER NOT NULL REFERENCES side(id),
    made_by TEXT NOT NULL,
    headland_version TEXT NOT NULL,
    made_utc TEXT NOT NULL,
    program_id INTEGER NOT NULL REFERENCES program(id),
    setting_list_id INTEGER NOT NULL REFERENCES setting_list(id),
    varied TEXT NOT NULL,
    can_be_cut INTEGER NOT NULL,
    verdict TEXT NOT NULL,
    side_length_s REAL NOT NULL,
    end_diameter_mm REAL NOT NULL,
    used_mm REAL NOT NULL,
    pitch_mean_um REAL NOT NULL,
    land_least_um REAL,
    width_least_um REAL,
    slope_greatest REAL,
    curvature_least_um REAL,
    shortfall_greatest_um REAL);
CREATE INDEX rehearsal_of_side ON rehearsal(side_id);

CREATE TABLE stylus_state(code INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE);
CREATE TABLE flag(bit INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE);
)";

constexpr auto cutList = R"(
CREATE VIEW cut_list AS
    SELECT cut.id, job.title AS job, side.name AS side, cut.begun_utc, cut.ended_utc, cut.ending, cut.made_by,
        (SELECT count(*) FROM frame WHERE frame.cut_id = cut.id) AS frames,
        (SELECT count(*) FROM note WHERE note.cut_id = cut.id) AS notes,
        cut.answers_cut_id
    FROM cut JOIN side ON side.id = cut.side_id JOIN job ON job.id = side.job_id;
)";

/// The column of the table, in units of the figure's last decimal.
std::string stored(const FrameColumn& column) {
    return std::string(column.name) + "_e" + std::to_string(column.decimals);
}

/// A row a sector. The figures have no type: nearly all are whole numbers; one that is too great for that is the figure
/// itself, as a real number.
std::string frameTable() {
    std::string sql =
        "CREATE TABLE frame(cut_id INTEGER NOT NULL REFERENCES cut(id), number INTEGER NOT NULL, "
        "state INTEGER NOT NULL, flags INTEGER NOT NULL, length_known INTEGER NOT NULL";
    for (const auto& column : frameColumns)
        sql += ", " + stored(column);
    return sql + ", PRIMARY KEY(cut_id, number)) WITHOUT ROWID;\n";
}

/// The figure in its unit.
std::string figure(const FrameColumn& column) {
    return "CASE typeof(" + stored(column) + ") WHEN 'real' THEN " + stored(column) + " ELSE "
           + stored(column) + " / 1e" + std::to_string(column.decimals) + " END AS "
           + std::string(column.name);
}

/// The cut log with its columns as CSV has them.
std::string logView() {
    std::string sql = "CREATE VIEW cut_log AS SELECT cut_id, number";
    for (std::size_t i = 0; i < csvColumns; ++i) {
        if (i == csvColumnsBefore)
            sql +=
                ", (SELECT name FROM stylus_state WHERE code = frame.state) AS state, "
                "(SELECT group_concat(name, ';') FROM (SELECT name FROM flag WHERE frame.flags & (1 << bit) "
                "ORDER BY bit)) AS flags";
        sql += ", " + figure(frameColumns[i]);
    }
    return sql + " FROM frame;\n";
}

/// What the numbers for states and flags mean, for whoever reads the book with another program.
std::string names() {
    std::string sql;
    for (auto code = static_cast<int>(cut::State::leadIn); code <= static_cast<int>(cut::State::finishing);
         ++code)
        sql += "INSERT INTO stylus_state VALUES(" + std::to_string(code) + ", '"
               + std::string(name(static_cast<cut::State>(code))) + "');\n";
    for (int bit = 0; bit < cut::flagCount; ++bit)
        sql += "INSERT INTO flag VALUES(" + std::to_string(bit) + ", '" + std::string(name(cut::flagAt(bit)))
               + "');\n";
    return sql;
}

const std::vector<BookStep>& allSteps() {
    static const std::vector<BookStep> steps{{1, tables + frameTable() + logView() + cutList + names()}};
    return steps;
}

bool isEmpty(Database& database) {
    return database.number("SELECT count(*) FROM sqlite_schema") == 0
           && database.number("PRAGMA application_id") == 0 && database.number("PRAGMA user_version") == 0;
}

} // namespace

std::span<const BookStep> bookSteps() {
    return allSteps();
}

int bookVersion() {
    return allSteps().back().version;
}

void checkIsBook(Database& database, std::span<const BookStep> steps) {
    if (isEmpty(database))
        throw BookRefused("it is empty, nothing has been written into it yet; write a cut into it first.");
    if (database.number("PRAGMA application_id") != bookId)
        throw BookRefused("it is a database of another program; name another file.");
    const auto version = database.number("PRAGMA user_version");
    const auto newest = steps.back().version;
    if (version > newest)
        throw BookRefused("it was written by a newer Headland (version " + std::to_string(version)
                          + " of the book, and this one knows versions up to " + std::to_string(newest)
                          + ", nothing in it has been changed); use that one, or name another file.");
    if (version < 1)
        throw BookRefused(
            "it is a book of version " + std::to_string(version)
            + ", which there never was, so it is damaged; move it away and take a copy from before.");
}

void bringUpToDate(Database& database, std::span<const BookStep> steps) {
    if (!isEmpty(database)) {
        checkIsBook(database, steps);
        if (database.number("PRAGMA user_version") == steps.back().version)
            return;
    }
    Transaction transaction(database); // another program may have been quicker: looks again
    if (!isEmpty(database))
        checkIsBook(database, steps);
    const auto version = database.number("PRAGMA user_version");
    for (const auto& step : steps)
        if (step.version > version)
            database.run(step.sql);
    database.run("PRAGMA application_id = " + std::to_string(bookId));
    database.run("PRAGMA user_version = " + std::to_string(steps.back().version));
    transaction.commit();
}

void checkPages(Database& database) {
    auto found = database.text("PRAGMA quick_check(1)");
    if (found == "ok")
        return;
    std::replace(found.begin(), found.end(), '\n', ' ');
    throw BookRefused("it is damaged (" + found
                      + ") and has been left as it is; move it away and take a copy from before, or go on "
                        "with a new book.");
}

} // namespace headland::log
