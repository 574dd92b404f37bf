// SPDX-License-Identifier: GPL-3.0-or-later
// What a window says, from a glimpse alone: sentences and figures with their units, UTF-8. Main thread (text is allocated).
#pragma once

#include "Editor/Access.h"

#include <array>
#include <string>
#include <vector>

namespace headland::editor {

enum class Weight { fault, caution, notice };

/// "Fault", "Caution", "Notice": stands before the sentence.
std::string_view name(Weight weight) noexcept;

struct Sentence {
    Weight weight;
    std::string text;
};

/// Everything that is wrong or should be known, worst first.
std::vector<Sentence> whatIsWrong(const Glimpse& glimpse);

/// What a person does next, one line.
std::string nextStep(const Glimpse& glimpse, bool cutsFiles);

/// "Stylus up", "Cutting: program" …
std::string stateText(const Glimpse& glimpse);

/// A figure, its name, and what stands beside it in smaller type. "-": there is none.
struct Figure {
    std::string name, value, beside;
};

/// How much disc is left; where the side will end, with its uncertainty.
std::array<Figure, 2> discFigures(const Glimpse& glimpse);

/// Pitch, depth, land, radius, time, level.
std::array<Figure, 6> figures(const Glimpse& glimpse);

/// What a typed text means in the field's unit, or one sentence why not: no number, no such unit, out of range.
struct Typed {
    double value = 0;
    std::string refusal; ///< empty when the value is good
};
Typed readTyped(const Field& field, const std::string& text);

/// Where cuts are logged: "Every cut is logged into lantern.headland: Lantern Sessions, side A. This is cut 3."
std::string logText(const Glimpse& glimpse);

/// "Marked at 3:21.0", "Noted at 3:21.0: …"; empty: nothing of this cut.
std::string lastNoteText(const LogState& log);

/// Why a mark would not be kept now, one sentence; empty when it would be.
std::string whyNoMark(const Glimpse& glimpse);
/// The same of a note. Without a cut under way it is about the last one.
std::string whyNoNote(const Glimpse& glimpse);

/// What a note that is begun now is about.
NotePlace placeOfNote(const Glimpse& glimpse);

/// What stands above a note while it is typed.
std::string notePrompt(const NotePlace& place);

/// "0 to 200 µm"
std::string rangeText(const Field& field);

} // namespace headland::editor
