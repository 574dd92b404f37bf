// SPDX-License-Identifier: GPL-3.0-or-later
// Presets: any bytes are refused in sentences that steer no terminal, or give settings that, written again, read back to the
// same bits.

#include "Cut/SettingsTable.h"
#include "Files/PresetFile.h"
#include "Text/Safe.h"

#include <cmath>
#include <cstdint>
#include <cstdlib>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size_bytes) {
    using namespace headland;
    const auto preset =
        files::parsePreset({reinterpret_cast<const char*>(data), size_bytes}, "preset file fuzzed.json");
    cut::CutSettings settings;
    const auto problems = files::applyPreset(settings, preset, "preset file fuzzed.json");
    for (const auto& problem : problems)
        if (problem.empty() || text::printable(problem) != problem)
            std::abort();
    if (!problems.empty())
        return 0;
    cut::CutSettings again;
    const auto text = files::presetText(settings, preset.name, preset.about);
    if (!files::applyPreset(again, files::parsePreset(text, "written"), "written").empty())
        std::abort();
    for (const auto& setting : cut::settingsTable())
        if (cut::getNumber(settings, setting) != cut::getNumber(again, setting))
            std::abort();
    return 0;
}
