// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/NoteCommand.h"

#include "Files/Errors.h"
#include "Log/BookNotes.h"
#include "Text/Safe.h"
#include "Text/Times.h"

#include <cmath>
#include <ostream>

namespace headland::console {

namespace {

std::string wordsOf(const NoteRequest& request) {
    auto words = text::printable(request.text);
    if (words.empty())
        throw files::InputError("The note has no words; write it in quotes behind the number of the cut.");
    return words;
}

double timeOf(const NoteRequest& request) {
    if (!request.time)
        return NAN;
    const auto time_s = text::timeFromText(*request.time);
    if (!time_s)
        throw files::InputError("--at: '" + text::printable(*request.time)
                                + "' is no time in the program; write minutes and seconds, such as 3:21.5.");
    return *time_s;
}

void refuseMixed(const NoteRequest& request) {
    if (request.deleted && (request.edited || request.time || !request.text.empty()))
        throw files::InputError(
            "--delete: a note that is deleted has neither words nor a time; name its number only.");
    if (request.edited && request.time)
        throw files::InputError("--edit: a note stays where it is; leave --at out, or write a new one.");
}

} // namespace

ExitCode noteCommand(const NoteRequest& request, std::ostream& out) {
    refuseMixed(request);
    const auto ofCut = " of cut " + std::to_string(request.cut) + ".\n";
    if (request.deleted) {
        log::deleteNote(request.book, request.cut, *request.deleted);
        out << "Deleted note " << *request.deleted << ofCut;
    } else if (request.edited) {
        log::editNote(request.book, request.cut, *request.edited, wordsOf(request));
        out << "Written anew: note " << *request.edited << ofCut;
    } else {
        log::addNote(request.book, request.cut, {timeOf(request), wordsOf(request), log::utcNow()});
        out << "Noted on cut " << request.cut << ".\n";
    }
    return ExitCode::done;
}

} // namespace headland::console
