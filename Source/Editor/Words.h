// SPDX-License-Identifier: GPL-3.0-or-later
// What a window says, from a glimpse alone: sentences and figures with their units, UTF-8. All of it is in the glimpse's
// units. Main thread (text is allocated).
#pragma once

#include "Editor/Access.h"

#include <array>
#include <string>
#include <vector>

namespace headland::editor {

/// The cut is scrap; something costs the side or the log; something is to be heeded; something is to be known.
enum class Weight { scrap, fault, caution, notice };

/// "Scrap", "Fault", "Caution", "Notice": stands before the sentence.
std::string_view name(Weight weight) noexcept;

struct Sentence {
    Weight weight;
    std::string text;
};

/// Everything that is wrong or should be known, worst first.
std::vector<Sentence> whatIsWrong(const Glimpse& glimpse);

/// What a person does next, one line.
std::string nextStep(const Glimpse& glimpse, bool cutsFiles);

/// "Stylus up", "Cutting: program", "Scrap: it overcuts at 1:36.0. Stylus up" …
std::string stateText(const Glimpse& glimpse);
/// The stylus is up, and the cut with the set-up on screen is scrap.
bool isScrapOver(const Glimpse& glimpse);

/// "Scrap: it overcuts at 1:36.0", the worst of what spoils a side; empty: it can be cut.
std::string scrapHeading(const cut::CutSummary& summary);

/// That what is cut now, or with the next press, is in no book; empty: it is in one.
std::string notKeptText(const Glimpse& glimpse);

/// A figure, its name, and what stands beside it in smaller type. "-": there is none.
struct Figure {
    std::string name, value, beside;
};

/// How much disc is left; where the side will end, with its uncertainty; of what, where that is not the cut.
std::array<Figure, 2> discFigures(const Glimpse& glimpse);

/// The whole ledger, from what is under the stylus to where it leads: Radius, Diameter, Turn, Time, Pitch, Depth, Width, Land,
/// Level, Slope, Curvature.
std::vector<Figure> figures(const Glimpse& glimpse);

/// What a typed text means, or one sentence why not: no number, no such unit, out of range. A bare number is in the unit
/// shown; any other unit that fits can be spelled out.
struct Typed {
    double value = 0;    ///< in the field's own unit, within its range
    std::string refusal; ///< empty when the value is good
};
Typed readTyped(const Field& field, const std::string& text, Units units);

/// What there is to choose from: formats, or Off and On; nothing where a value is typed.
std::vector<std::string> choicesOf(const Field& field, Units units);

/// The value as it stands, in the field's own unit; for what is chosen its place among the choices.
double valueOf(const Field& field);
/// The same in words: "12 µm", "0.47244 mil", "On".
std::string valueText(const Field& field, Units units);

/// "Land, mil"; what has no unit is named without.
std::string labelText(const Field& field, Units units);

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

/// "at 3:21.0"; of a cut as a whole "on the cut".
std::string notePlaceText(double time_s);
/// What stands before a note while it is typed.
std::string notePrompt(const NotePlace& place);

/// "0 to 200 µm", "0 to 7.874 mil"
std::string rangeText(const Field& field, Units units);

} // namespace headland::editor
