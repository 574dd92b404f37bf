// SPDX-License-Identifier: GPL-3.0-or-later
// What a person writes on a cut afterwards: a note more, other words for one, one deleted. The book is opened for it, brought
// up to date if it is older, and closed. Everything throws a files::InputError or OutputError of one sentence, and then
// nothing has been changed. Not the audio thread; takes as long as looking at every page of the book.
#pragma once

#include "Log/CutRecord.h"

#include <cstdint>
#include <string>

namespace headland::log {

void addNote(const std::string& book, std::int64_t cut, const NoteRecord& note);
/// `note`: its number in the book. What it said before stays in the book as a revision.
void editNote(const std::string& book, std::int64_t cut, std::int64_t note, const std::string& text);
/// It stays in the book, marked as deleted.
void deleteNote(const std::string& book, std::int64_t cut, std::int64_t note);

} // namespace headland::log
