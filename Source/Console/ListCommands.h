// SPDX-License-Identifier: GPL-3.0-or-later
// `headland settings` and `headland presets`: what can be set, from the settings table, and the presets inside the
// tool. Not for the audio thread.
#pragma once

#include <iosfwd>

namespace headland::console {

/// Writes every setting: key, unit, range, default, what it does and why.
void settingsCommand(std::ostream& out);

/// Writes every built-in preset: name, what it is, what it sets.
void presetsCommand(std::ostream& out);

} // namespace headland::console
