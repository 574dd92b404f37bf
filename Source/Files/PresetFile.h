// SPDX-License-Identifier: GPL-3.0-or-later
// Presets, read and written: named groups of settings in JSON,
// {"headland_preset": 1, "name": …, "about": …, "settings": {key: value}}. The ones in Presets/ travel inside the program
// and are asked for by the name of their file; others by their path. What is wrong with one is said in sentences that
// name preset and key. Not for the audio thread.
#pragma once

#include "Cut/CutSettings.h"
#include "Files/KeptFiles.h"

#include <string>
#include <string_view>
#include <vector>

namespace headland::files {

/// One preset as read; `settings` in the file's order, values as text for cut::setFromText().
struct Preset {
    struct Value {
        std::string key;
        std::string text;
    };
    std::string name;  ///< as shown to a person
    std::string about; ///< what it is for, and where its figures come from
    std::vector<Value> settings;
    std::vector<std::string> problems; ///< each one sentence; empty when the preset can be used
};

inline constexpr int presetVersion = 1; ///< of the files this tool writes and reads

/// Reads a preset from JSON; `where` names it in the problems ("preset file slow.json").
Preset parsePreset(std::string_view json, const std::string& where);

/// Names of the presets inside the program, in alphabetical order.
std::vector<std::string> builtInPresetNames();

/// The preset inside the program with this name if there is one, otherwise the file with this path.
Preset loadPreset(const std::string& nameOrFile);

/// Puts a preset's values into `settings`, its format first; returns the problems, each one sentence. Ranges are left
/// to cut::validate().
std::vector<std::string> applyPreset(cut::CutSettings& settings, const Preset& preset,
                                     const std::string& where);

/// A preset file's text, in the layout parsePreset() reads: every setting by its key, with as many figures as it takes,
/// so that it reads back to the same bits. Name and about become printable().
std::string presetText(const cut::CutSettings& settings, const std::string& name, const std::string& about);

/// Writes that text to a file, which is there whole or not at all; an older file of the name is replaced, but none that is
/// kept. Throws OutputError when it cannot be written, or could not be read again (a value that is no number).
void writePreset(const std::string& path, const cut::CutSettings& settings, const std::string& name,
                 const std::string& about, const KeptFiles& kept);

/// How a preset asked for as `nameOrFile` is called in a sentence.
std::string presetPlace(const std::string& nameOrFile);

} // namespace headland::files
