// SPDX-License-Identifier: GPL-3.0-or-later
// docs/processor.md against the code: every parameter with its range and default, every note, every OSC address.
#include "Cut/UnitText.h"
#include "Plugin/LiveSettings.h"
#include "Plugin/MidiCues.h"
#include "Plugin/OscOut.h"
#include "Plugin/Parameters.h"

#include <catch2/catch.hpp>

#include <fstream>
#include <sstream>

using namespace headland;

namespace {

std::string document() {
    std::ifstream file(HEADLAND_ROOT "/docs/processor.md");
    std::stringstream text;
    text << file.rdbuf();
    REQUIRE(text.str().size() > 1000);
    return text.str();
}

void checkHas(const std::string& row) {
    INFO(row);
    CHECK(document().find(row) != std::string::npos);
}

} // namespace

TEST_CASE("docs/processor.md has every parameter with its range, and its default where it is no ride",
          "[docs]") {
    const plugin::LiveSettings defaults;
    for (const auto& setting : plugin::liveTable()) {
        const auto range =
            cut::textWithUnit(setting.least, "") + " to " + cut::textWithUnit(setting.greatest, setting.unit);
        const auto row = "| `" + std::string(setting.key) + "` | " + range + " | ";
        const auto isTrim = setting.key.ends_with("_add_um") || setting.key.ends_with("_trim_db");
        checkHas(isTrim ? row : row + cut::textWithUnit(cut::getNumber(defaults, setting), "") + " |");
    }
}

TEST_CASE("docs/processor.md has every cue and the mark with name and note", "[docs]") {
    for (const auto& midi : plugin::midiCues)
        checkHas("\n| " + plugin::name(midi.cue).toStdString() + " | " + std::to_string(midi.note) + " |");
    checkHas("\n| Mark | " + std::to_string(plugin::markNote) + " |");
    CHECK_FALSE(plugin::cueOf(plugin::markNote));
    for (int i = 0; i < cut::cueCount; ++i)
        CHECK(std::any_of(plugin::midiCues.begin(), plugin::midiCues.end(),
                          [i](const auto& midi) { return midi.cue == static_cast<cut::Cue>(i); }));
}

TEST_CASE("docs/processor.md has every OSC address", "[docs]") {
    handoff::LiveStatus status;
    status.state = cut::State::program;
    const auto bundle = plugin::oscBundle(status);
    for (const auto& element : bundle)
        checkHas("| `" + element.getMessage().getAddressPattern().toString().toStdString() + "` |");
}
