// SPDX-License-Identifier: GPL-3.0-or-later
// Rows of a book, written: what an open book takes, table by table. Knows no threads and waits for nothing; every call
// throws DatabaseError. For BookWriter, and for what writes a row or two by hand.
#pragma once

#include "Cut/CutSummary.h"
#include "Files/FileIdentity.h"
#include "Log/BookSchema.h"
#include "Log/CutRecord.h"
#include "Log/Database.h"

#include <string>

namespace headland::log {

class BookPages {
public:
    /// Opens the book for writing; makes it where there is none, brings an older one up to date, and looks at every page of
    /// one that is there. Throws DatabaseError or BookRefused.
    explicit BookPages(const std::string& path, std::span<const BookStep> steps = bookSteps());
    /// Leaves one file that any program can read, also from where nothing can be written, if nobody else has it open. Never
    /// touches what lies in its place when that is another book.
    ~BookPages();
    BookPages(const BookPages&) = delete;
    BookPages& operator=(const BookPages&) = delete;

    /// The path still leads to the book that was opened.
    bool isInPlace() const noexcept { return identity.isAt(path); }

    Database& database() noexcept { return db; }

    /// Number of the new cut. One that is to answer a cut which is not in this book answers none.
    std::int64_t beginCut(const CutHead& head, const std::string& begun_utc);
    void frame(std::int64_t cut, std::int64_t number, const cut::CutFrame& frame);
    void event(std::int64_t cut, std::int64_t number, const CutEventRecord& event);
    void note(std::int64_t cut, const NoteRecord& note);
    /// Other words for a note; what it said stays as a revision. Throws files::InputError when there is no such note, or it has
    /// been deleted.
    void editNote(std::int64_t cut, std::int64_t note, const std::string& text);
    /// It stays in the book, marked as deleted. Throws as editNote().
    void deleteNote(std::int64_t cut, std::int64_t note);
    void gap(std::int64_t cut, const GapRecord& gap);
    /// Number of the new place.
    std::int64_t place(std::int64_t cut, const PlaceRecord& place);
    void removePlace(std::int64_t place);
    void endCut(std::int64_t cut, const CutTail& tail);
    /// The cut has been written up to here now, or at this time.
    void written(std::int64_t cut) { written(cut, utcNow()); }
    void written(std::int64_t cut, const std::string& when_utc);
    /// Whether what was written at this time is in the book.
    bool holds(std::int64_t cut, const std::string& begun_utc, const std::string& written_utc);
    bool holds(std::int64_t cut, const std::string& begun_utc);
    /// A trial: a cut of this program with these settings that was only reckoned. `varied`: what was looked for.
    void rehearsal(const CutHead& head, const std::string& varied, const cut::CutSummary& summary);

    /// Whether there is a cut of this number.
    bool hasCut(std::int64_t cut);

private:
    NoteRecord standing(std::int64_t cut, std::int64_t note);
    std::int64_t side(const SideName& name);
    std::int64_t program(const ProgramRecord& program);
    std::int64_t settings(const CutHead& head);
    std::optional<std::int64_t> profile(const plan::Profile* profile);

    void leavePlace() noexcept;

    std::string path;
    Database db;
    files::FileIdentity identity, logIdentity;
    Statement insertFrame, insertEdge;
};

} // namespace headland::log
