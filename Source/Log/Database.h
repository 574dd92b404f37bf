// SPDX-License-Identifier: GPL-3.0-or-later
// SQLite as this project uses it: a connection, prepared statements and nothing else, every failure an exception with
// SQLite's own code. One thread at a time, never the audio thread.
#pragma once

#include <bit>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <stdexcept>
#include <string>
#include <string_view>

struct sqlite3;
struct sqlite3_stmt;

namespace headland::log {

/// SQLite said no; `code` is its extended result code, `systemError` the errno behind it where a file was the trouble.
class DatabaseError : public std::runtime_error {
public:
    DatabaseError(int resultCode, const std::string& text, int errorNumber = 0)
        : std::runtime_error(text), code(resultCode), systemError(errorNumber) {}
    /// As SQLite would say it of a file that may not be written into, had it been asked.
    static DatabaseError writeProtected();
    int code;
    int systemError;
    /// The code's low byte, SQLITE_FULL and so on.
    int kind() const noexcept { return code & 0xff; }
};

/// A column of a row, as a number.
class Number {
public:
    enum class Kind : std::uint8_t { null, whole, real, other };
    explicit Number(Kind k = Kind::null) noexcept : kind(k) {}
    explicit Number(std::int64_t number) noexcept : kind(Kind::whole), bits(number) {}
    explicit Number(double number) noexcept : kind(Kind::real), bits(std::bit_cast<std::int64_t>(number)) {}

    Kind kind;
    /// Of a number of that kind only.
    std::int64_t whole() const noexcept { return bits; }
    double real() const noexcept { return std::bit_cast<double>(bits); }

private:
    std::int64_t bits = 0;
};

/// A row that Database::eachRow() hands over; good until it takes the next one.
class HandedRow {
public:
    explicit HandedRow(std::span<const Number> all) noexcept : numbers(all) {}
    /// Text and bytes are of the kind `other`.
    const Number& number(std::size_t column) const noexcept { return numbers[column]; }

private:
    std::span<const Number> numbers;
};

/// Takes rows.
class RowTaker {
public:
    virtual ~RowTaker() = default;
    /// What is thrown ends it, and is thrown on.
    virtual void row(const HandedRow& row) = 0;
};

/// A prepared statement. It must not outlive its database.
class Statement {
public:
    /// Begins anew with these values in place of the `?`. Throws DatabaseError.
    template <typename... Values>
    Statement& with(const Values&... values) {
        reset();
        int place = 0;
        (bind(++place, values), ...);
        return *this;
    }
    /// The same, one value at a time, places from 1.
    void reset();
    void bind(int place, std::int64_t value);
    void bind(int place, int value) { bind(place, std::int64_t{value}); }
    void bind(int place, double value); ///< NaN is null, as SQLite has it
    void bind(int place, std::string_view text);
    void bind(int place, const char* text) { bind(place, std::string_view(text)); }
    void bindBytes(int place, std::string_view bytes);
    void bindNull(int place);
    void bind(int place, const std::optional<std::int64_t>& value);
    void bind(int place, const std::optional<double>& value);

    /// The next row; false when there is none. Throws DatabaseError.
    bool step();
    /// Runs it to its end, whatever rows there are. Throws DatabaseError.
    void run();

    /// Columns of the present row, from 0.
    bool isNull(int column) const noexcept;
    std::int64_t integer(int column) const noexcept;
    double real(int column) const noexcept;
    std::string text(int column) const;
    std::string bytes(int column) const; ///< of bytes, or of text
    Number number(int column) const noexcept;

private:
    friend class Database;
    Statement(sqlite3* database, sqlite3_stmt* statement) : owner(database), handle(statement) {}
    void check(int code) const;

    struct Finalise {
        void operator()(sqlite3_stmt* statement) const noexcept;
    };
    sqlite3* owner;
    std::unique_ptr<sqlite3_stmt, Finalise> handle;
};

class Database {
public:
    enum class Access { read, write };

    /// Opens the file; for writing it is made if it is not there. `path` is a file's name whatever it looks like: nothing in
    /// it is an option. `wait_ms`: how long a call waits for a lock of another program's. Throws DatabaseError.
    Database(const std::string& path, Access access, int wait_ms);

    /// Prepares one statement. Throws DatabaseError.
    Statement prepare(std::string_view sql);
    /// Runs one or more statements that have no values. Throws DatabaseError.
    void run(std::string_view sql);
    /// The first column of the first row of a statement without values; 0 when there is no row. Throws DatabaseError.
    std::int64_t number(std::string_view sql);
    std::string text(std::string_view sql);

    /// Hands every row of "SELECT `columns` `from`" to `taker`, in the order in which they are found: for rows by the hundred
    /// thousand, in half the time of step(). `values` stand for the `?`. Throws DatabaseError, and what `taker` throws.
    void eachRow(const std::string& columns, const std::string& from, std::span<const std::int64_t> values,
                 RowTaker& taker);

    /// From here on a statement that does more work than the book's pages can give is ended as if they were damaged: damaged
    /// ones may lead in circles.
    void boundWork();

    /// Key of the row inserted last.
    std::int64_t lastRow() const noexcept;
    /// Whether closing leaves what is in SQLite's log beside the file where it is; else the last one to close brings it over
    /// into the file.
    void leaveLog(bool leaves) noexcept;
    /// A transaction is open.
    bool inTransaction() const noexcept;

private:
    struct Close {
        void operator()(sqlite3* database) const noexcept;
    };
    static int countWork(void* work) noexcept;

    /// How often the statement under way has worked for a while, and how often it may.
    struct Work {
        std::int64_t done = 0, most = 0;
    };
    std::unique_ptr<Work> work = std::make_unique<Work>(); ///< stays where it is, for SQLite's sake
    std::unique_ptr<sqlite3, Close> handle;
};

/// All or nothing: what is done until commit() is undone when it is never reached.
class Transaction {
public:
    /// Takes the right to write at once. Throws DatabaseError.
    explicit Transaction(Database& database);
    ~Transaction();
    Transaction(const Transaction&) = delete;
    Transaction& operator=(const Transaction&) = delete;
    void commit();

private:
    Database& database;
    bool open = true;
};

} // namespace headland::log
