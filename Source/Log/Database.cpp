// SPDX-License-Identifier: GPL-3.0-or-later
#include "Log/Database.h"

#include <exception>
#include <filesystem>
#include <sqlite3.h>
#include <vector>

namespace headland::log {

namespace {

[[noreturn]] void fail(sqlite3* database, int code) {
    throw DatabaseError(database != nullptr ? sqlite3_extended_errcode(database) : code,
                        database != nullptr ? sqlite3_errmsg(database) : sqlite3_errstr(code),
                        database != nullptr ? sqlite3_system_errno(database) : 0);
}

/// The same file by a name that begins with '/': SQLite takes "file:..." and ":memory:" for something else than a file.
std::string plainName(const std::string& path) {
    std::error_code error; // the folder one is in may be gone: then the name as it is
    const auto absolute = std::filesystem::absolute(path, error);
    return error ? path : absolute.string();
}

/// Prepares the first statement in `sql` and takes it off; null when there is none left.
sqlite3_stmt* prepareFirst(sqlite3* database, std::string_view& sql) {
    sqlite3_stmt* statement = nullptr;
    const char* rest = nullptr;
    const auto code =
        sqlite3_prepare_v2(database, sql.data(), static_cast<int>(sql.size()), &statement, &rest);
    if (code != SQLITE_OK)
        fail(database, code);
    sql.remove_prefix(static_cast<std::size_t>(rest - sql.data()));
    return statement;
}

Number numberOf(sqlite3_value* value) noexcept {
    switch (sqlite3_value_type(value)) {
    case SQLITE_INTEGER:
        return Number(std::int64_t{sqlite3_value_int64(value)});
    case SQLITE_FLOAT:
        return Number(sqlite3_value_double(value));
    case SQLITE_NULL:
        return Number(Number::Kind::null);
    default:
        return Number(Number::Kind::other);
    }
}

constexpr int textMost_bytes = 1 << 20; ///< of one value: no name, note or reason is that long
constexpr int workStep = 10'000;        ///< of SQLite's own steps, between looks

/// What a file says that somebody else may have made is not to be trusted: no triggers, no views, no functions that reach
/// beyond it, no value that fills the memory.
void distrust(sqlite3* database) {
    sqlite3_limit(database, SQLITE_LIMIT_LENGTH, textMost_bytes);
    for (const auto option :
         {SQLITE_DBCONFIG_ENABLE_TRIGGER, SQLITE_DBCONFIG_ENABLE_VIEW, SQLITE_DBCONFIG_TRUSTED_SCHEMA})
        sqlite3_db_config(database, option, 0, nullptr);
    sqlite3_db_config(database, SQLITE_DBCONFIG_DEFENSIVE, 1, nullptr);
}

/// A function of SQL that gets a row's columns as its values: there they are as they are, and need not be asked for one by
/// one. What it is called with, and what was thrown by whoever takes the rows.
struct Handing {
    RowTaker& taker;
    std::vector<Number> numbers{}; ///< of the present row
    std::exception_ptr thrown{};

    static void step(sqlite3_context* context, int count, sqlite3_value** values) {
        auto& handing = *static_cast<Handing*>(sqlite3_user_data(context));
        try {
            handing.numbers.resize(static_cast<std::size_t>(count));
            for (auto& number : handing.numbers)
                number = numberOf(*values++);
            handing.taker.row(HandedRow(handing.numbers));
        } catch (...) {
            handing.thrown = std::current_exception();
            sqlite3_result_error_code(context, SQLITE_ABORT);
        }
    }
    static void finish(sqlite3_context* context) { sqlite3_result_null(context); }
};

constexpr auto handingName = "headland_row";

} // namespace

DatabaseError DatabaseError::writeProtected() {
    return {SQLITE_READONLY, "write-protected"};
}

void Statement::Finalise::operator()(sqlite3_stmt* statement) const noexcept {
    sqlite3_finalize(statement);
}

void Statement::check(int code) const {
    if (code != SQLITE_OK)
        fail(owner, code);
}

void Statement::reset() {
    sqlite3_reset(handle.get()); // repeats the failure of the run before, which has been thrown then
    sqlite3_clear_bindings(handle.get());
}

void Statement::bind(int place, std::int64_t value) {
    check(sqlite3_bind_int64(handle.get(), place, value));
}

void Statement::bind(int place, double value) {
    check(sqlite3_bind_double(handle.get(), place, value));
}

void Statement::bind(int place, std::string_view text) {
    check(
        sqlite3_bind_text(handle.get(), place, text.data(), static_cast<int>(text.size()), SQLITE_TRANSIENT));
}

void Statement::bindBytes(int place, std::string_view bytes) {
    check(sqlite3_bind_blob(handle.get(), place, bytes.data(), static_cast<int>(bytes.size()),
                            SQLITE_TRANSIENT));
}

void Statement::bindNull(int place) {
    check(sqlite3_bind_null(handle.get(), place));
}

void Statement::bind(int place, const std::optional<std::int64_t>& value) {
    value ? bind(place, *value) : bindNull(place);
}

void Statement::bind(int place, const std::optional<double>& value) {
    value ? bind(place, *value) : bindNull(place);
}

bool Statement::step() {
    const auto code = sqlite3_step(handle.get());
    if (code == SQLITE_ROW)
        return true;
    if (code == SQLITE_DONE)
        return false;
    fail(owner, code);
}

void Statement::run() {
    while (step()) {
    }
    sqlite3_reset(handle.get());
}

bool Statement::isNull(int column) const noexcept {
    return sqlite3_column_type(handle.get(), column) == SQLITE_NULL;
}

std::int64_t Statement::integer(int column) const noexcept {
    return sqlite3_column_int64(handle.get(), column);
}

double Statement::real(int column) const noexcept {
    return sqlite3_column_double(handle.get(), column);
}

std::string Statement::text(int column) const {
    const auto* characters = reinterpret_cast<const char*>(sqlite3_column_text(handle.get(), column));
    const auto size = static_cast<std::size_t>(sqlite3_column_bytes(handle.get(), column));
    return characters == nullptr ? std::string() : std::string(characters, size);
}

std::string Statement::bytes(int column) const {
    const auto* first = static_cast<const char*>(sqlite3_column_blob(handle.get(), column));
    const auto size = static_cast<std::size_t>(sqlite3_column_bytes(handle.get(), column));
    return first == nullptr ? std::string() : std::string(first, size);
}

Number Statement::number(int column) const noexcept {
    return numberOf(sqlite3_column_value(handle.get(), column));
}

void Database::Close::operator()(sqlite3* database) const noexcept {
    sqlite3_close_v2(database);
}

Database::Database(const std::string& path, Access access, int wait_ms) {
    const auto flags =
        (access == Access::read ? SQLITE_OPEN_READONLY : SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE)
        | SQLITE_OPEN_NOMUTEX | SQLITE_OPEN_EXRESCODE;
    sqlite3* opened = nullptr;
    const auto code = sqlite3_open_v2(plainName(path).c_str(), &opened, flags, nullptr);
    handle.reset(opened);
    if (code != SQLITE_OK)
        fail(opened, code);
    sqlite3_busy_timeout(opened, wait_ms);
    distrust(opened);
}

int Database::countWork(void* work) noexcept {
    auto& counted = *static_cast<Work*>(work);
    return ++counted.done > counted.most ? 1 : 0;
}

void Database::boundWork() {
    // A row takes at least ten bytes of its page, and a hundred steps or so at the most.
    constexpr std::int64_t steps_per_byte = 10, always = 20'000'000;
    const auto bytes = number("PRAGMA page_count") * number("PRAGMA page_size");
    work->most = (always + steps_per_byte * bytes) / workStep;
    work->done = 0;
    sqlite3_progress_handler(handle.get(), workStep, &countWork, work.get());
}

void Database::eachRow(const std::string& columns, const std::string& from,
                       std::span<const std::int64_t> values, RowTaker& taker) {
    Handing handing{taker};
    if (sqlite3_create_function_v2(handle.get(), handingName, -1, SQLITE_UTF8 | SQLITE_DIRECTONLY, &handing,
                                   nullptr, Handing::step, Handing::finish, nullptr)
        != SQLITE_OK)
        fail(handle.get(), 0);
    auto statement = prepare("SELECT " + std::string(handingName) + "(" + columns + ") " + from);
    int place = 0;
    for (const auto value : values)
        statement.bind(++place, value);
    try {
        statement.run();
    } catch (const DatabaseError&) {
        if (!handing.thrown)
            throw;
    }
    if (handing.thrown)
        std::rethrow_exception(handing.thrown);
}

Statement Database::prepare(std::string_view sql) {
    work->done = 0;
    return {handle.get(), prepareFirst(handle.get(), sql)};
}

void Database::run(std::string_view sql) {
    while (auto* first = prepareFirst(handle.get(), sql))
        Statement(handle.get(), first).run();
}

std::int64_t Database::number(std::string_view sql) {
    auto statement = prepare(sql);
    return statement.step() ? statement.integer(0) : 0;
}

std::string Database::text(std::string_view sql) {
    auto statement = prepare(sql);
    return statement.step() ? statement.text(0) : std::string();
}

std::int64_t Database::lastRow() const noexcept {
    return sqlite3_last_insert_rowid(handle.get());
}

void Database::leaveLog(bool leaves) noexcept {
    sqlite3_db_config(handle.get(), SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, leaves ? 1 : 0, nullptr);
}

bool Database::inTransaction() const noexcept {
    return sqlite3_get_autocommit(handle.get()) == 0;
}

Transaction::Transaction(Database& d) : database(d) {
    database.run("BEGIN IMMEDIATE");
}

Transaction::~Transaction() {
    if (!open || !database.inTransaction()) // SQLite undoes some failures by itself
        return;
    try {
        database.run("ROLLBACK");
    } catch (const DatabaseError&) { // the connection is closed or tries again; nothing is kept half
    }
}

void Transaction::commit() {
    database.run("COMMIT");
    open = false;
}

} // namespace headland::log
