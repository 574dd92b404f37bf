// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/NoteCommand.h"

#include "Files/Errors.h"
#include "Files/Text.h"
#include "Files/TimeText.h"
#include "Log/BookPages.h"
#include "Log/BookReader.h"
#include "Log/BookSchema.h"
#include "Log/BookTrouble.h"

#include <cmath>
#include <ostream>

namespace headland::console {

namespace {

log::NoteRecord noteOf(const NoteRequest& request) {
    log::NoteRecord note{NAN, files::printable(request.text), log::utcNow()};
    if (note.text.empty())
        throw files::InputError("The note has no words; write it in quotes behind the number of the cut.");
    if (!request.time)
        return note;
    const auto time_s = files::timeFromText(*request.time);
    if (!time_s)
        throw files::InputError("--at: '" + files::printable(*request.time)
                                + "' is no time in the program; write minutes and seconds, such as 3:21.5.");
    note.time_s = *time_s;
    return note;
}

} // namespace

ExitCode noteCommand(const NoteRequest& request, std::ostream& out) {
    const auto note = noteOf(request);
    log::BookReader(request.book).cut(request.cut); // refuses what is no book, and a cut that is not there
    try {
        log::BookPages pages(request.book);
        log::Transaction transaction(pages.database());
        pages.note(request.cut, note);
        transaction.commit();
    } catch (const log::DatabaseError& error) {
        throw files::OutputError(log::writingTrouble(request.book, error));
    } catch (const log::BookRefused& refusal) {
        throw files::OutputError(log::bookPlace(request.book) + " cannot be written into: " + refusal.what());
    }
    out << "Noted on cut " << request.cut << ".\n";
    return ExitCode::done;
}

} // namespace headland::console
