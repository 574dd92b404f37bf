// SPDX-License-Identifier: GPL-3.0-or-later
// The output files of a command, made before the work starts, so that a folder that cannot be written is said then, and
// put in their places together at the end. One thread.
#pragma once

#include "Console/Outputs.h"
#include "Console/SvgDrawing.h"
#include "Files/OutputFile.h"

#include <optional>

namespace headland::console {

/// Those asked for are open; those never committed leave no trace.
struct OpenOutputs {
    /// Opens them; they take the place of nothing that is kept. Throws OutputError.
    OpenOutputs(const OutputPaths& paths, const files::KeptFiles& kept);
    /// Puts them in their places. Throws OutputError.
    void commit();

    std::optional<files::OutputFile> csv, json, picture, profile;
};

/// Writes a drawing in the format that the file's name asks for.
void writeDrawing(files::OutputFile& file, const SvgDrawing& drawing);

} // namespace headland::console
