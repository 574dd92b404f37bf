// SPDX-License-Identifier: GPL-3.0-or-later
#include "Log/BookNotes.h"

#include "Files/Errors.h"
#include "Log/BookPages.h"
#include "Log/BookReader.h"
#include "Log/BookTrouble.h"

namespace headland::log {

namespace {

/// One change, whole or not at all. A book that is not there is not begun.
template <typename Change>
void change(const std::string& book, std::int64_t cut, Change make) {
    BookReader(book).notes(cut); // refuses what is no book, and a cut that is not there
    try {
        BookPages pages(book);
        Transaction transaction(pages.database());
        make(pages);
        transaction.commit();
    } catch (const DatabaseError& error) {
        throw files::OutputError(writingTrouble(book, error));
    } catch (const BookRefused& refusal) {
        throw files::OutputError(bookPlace(book) + " cannot be written into: " + refusal.what());
    }
}

} // namespace

void addNote(const std::string& book, std::int64_t cut, const NoteRecord& note) {
    change(book, cut, [&](BookPages& pages) { pages.note(cut, note); });
}

void editNote(const std::string& book, std::int64_t cut, std::int64_t note, const std::string& text) {
    change(book, cut, [&](BookPages& pages) { pages.editNote(cut, note, text); });
}

void deleteNote(const std::string& book, std::int64_t cut, std::int64_t note) {
    change(book, cut, [&](BookPages& pages) { pages.deleteNote(cut, note); });
}

} // namespace headland::log
