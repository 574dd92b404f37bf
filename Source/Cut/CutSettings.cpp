// SPDX-License-Identifier: GPL-3.0-or-later
#include "Cut/CutSettings.h"

#include "Cut/LeadOutTravel.h"
#include "Cut/SettingsTable.h"
#include "Text/Figures.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace headland::cut {

namespace {

/// Number as a person writes it: 12, 0.05, 146.3; one that nobody would write in full with an exponent.
std::string plain(double value) {
    constexpr double greatest = 1e9, least = 1e-6;
    if (const auto size = std::abs(value);
        std::isfinite(value) && value != 0 && (size >= greatest || size < least))
        return text::plain(value);
    auto text = std::to_string(value);
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.')
        text.pop_back();
    return text;
}

std::string withUnit(double value, std::string_view unit) {
    return plain(value) + (unit.empty() ? "" : " " + std::string(unit));
}

void checkRanges(const CutSettings& settings, std::vector<std::string>& problems) {
    for (const auto& setting : settingsTable()) {
        const auto value = getNumber(settings, setting);
        if (!(value >= setting.least && value <= setting.greatest))
            problems.push_back(std::string(setting.key) + " is " + withUnit(value, setting.unit)
                               + "; it must lie between " + plain(setting.least) + " and "
                               + withUnit(setting.greatest, setting.unit) + ".");
    }
}

void checkGroove(const CutSettings& s, std::vector<std::string>& problems) {
    if (s.depth_basic_um > s.depth_max_um)
        problems.push_back("depth_basic_um (" + plain(s.depth_basic_um) + " µm) is above depth_max_um ("
                           + plain(s.depth_max_um) + " µm); lower the one or raise the other.");
    if (s.width_min_um > 2 * s.depth_basic_um)
        problems.push_back("width_min_um (" + plain(s.width_min_um)
                           + " µm) is wider than the unmodulated groove, " + plain(2 * s.depth_basic_um)
                           + " µm at depth_basic_um; deepen the groove or allow less.");
    if (s.pitch_min_um > s.pitch_max_um)
        problems.push_back("pitch_min_um (" + plain(s.pitch_min_um) + " µm) is above pitch_max_um ("
                           + plain(s.pitch_max_um) + " µm); lower the one or raise the other.");
    if (s.depth_max_um > s.depth_peak_max_um)
        problems.push_back("depth_max_um (" + plain(s.depth_max_um) + " µm) is above depth_peak_max_um ("
                           + plain(s.depth_peak_max_um) + " µm); lower the one or raise the other.");
    const auto silent_um = 2 * s.depth_basic_um + s.land_min_um;
    if (s.pitch_max_um < silent_um)
        problems.push_back("pitch_max_um (" + plain(s.pitch_max_um)
                           + " µm) cannot even space silence, which needs " + plain(silent_um)
                           + " µm (two half-widths and the land); raise it.");
}

/// `inRange`: every setting by itself; the lead-out is reckoned only of such.
void checkDisc(const CutSettings& s, bool inRange, std::vector<std::string>& problems) {
    const auto& format = s.discFormat();
    const auto outermost_mm = format.modulatedDiameterMax_mm / 2;
    const auto innermost_mm = format.modulatedDiameterMin_mm / 2;
    const auto label = " of format " + std::string(format.key);
    if (s.start_radius_mm > outermost_mm + 1e-9)
        problems.push_back("start_radius_mm (" + plain(s.start_radius_mm)
                           + " mm) is outside the outermost modulated "
                             "radius"
                           + label + ", " + plain(outermost_mm)
                           + " mm; start further in or choose another format.");
    if (s.end_radius_mm < innermost_mm - 1e-9)
        problems.push_back("end_radius_mm (" + plain(s.end_radius_mm)
                           + " mm) is inside the innermost modulated radius" + label + ", "
                           + plain(innermost_mm) + " mm; end further out or choose another format.");
    if (s.end_radius_mm >= s.start_radius_mm)
        problems.push_back("end_radius_mm (" + plain(s.end_radius_mm) + " mm) is not inside start_radius_mm ("
                           + plain(s.start_radius_mm) + " mm); the groove runs inward.");
    if (s.finishing_radius_mm >= s.end_radius_mm)
        problems.push_back("finishing_radius_mm (" + plain(s.finishing_radius_mm)
                           + " mm) is not inside end_radius_mm (" + plain(s.end_radius_mm)
                           + " mm); the lead-out needs room between them.");
    else if (inRange && s.end_radius_mm < s.stopRadius_mm())
        problems.push_back(
            "end_radius_mm (" + plain(s.end_radius_mm)
            + " mm) leaves no room for a turn of lead-out outside finishing_radius_mm, which must begin at "
            + plain(std::ceil(s.stopRadius_mm() * 100) / 100)
            + " mm at the latest; end further out, or let the lead-out move faster.");
    if (s.start_radius_mm + s.lead_in_pitch_um * s.lead_in_turns / 1000 > format.discDiameter_mm / 2)
        problems.push_back("the lead-in of " + plain(s.lead_in_turns) + " turns at "
                           + plain(s.lead_in_pitch_um) + " µm begins off the disc of format "
                           + std::string(format.key)
                           + "; lower lead_in_turns, lead_in_pitch_um or start_radius_mm.");
}

/// Longest preview, in sectors: bounds the work of a sector (docs/theory/planner.md, "What it costs in time"). Half a
/// minute at 33 1/3 with the ordinary sectors, five turns of the finest.
constexpr int previewSectorsMost = 4300;

void checkTiming(const CutSettings& s, double sampleRate_hz, std::vector<std::string>& problems) {
    if (!(sampleRate_hz >= 44100 && sampleRate_hz <= 192000))
        problems.push_back("the sample rate is " + plain(sampleRate_hz)
                           + " Hz; it must lie between 44100 and 192000 Hz: convert the program.");
    const auto guard_s = s.guard_s() + 3 * s.sector_s();
    if (s.preview_s <= guard_s)
        problems.push_back("preview_s (" + plain(s.preview_s)
                           + " s) is used up by the tolerances, which take " + plain(guard_s)
                           + " s; lengthen it or lower speed_tolerance and preview_tolerance_s.");
    const auto sectors = s.preview_s / s.sector_s();
    if (sectors > previewSectorsMost && s.preview_s <= findSetting("preview_s")->greatest)
        problems.push_back("preview_s (" + plain(s.preview_s) + " s) is "
                           + std::to_string(std::llround(std::ceil(sectors)))
                           + " sectors long, more than the " + std::to_string(previewSectorsMost)
                           + " that are planned in time; shorten it or lower sectors_per_turn.");
    if (2 * s.guard_s() >= s.turn_s())
        problems.push_back(
            "speed_tolerance and preview_tolerance_s widen every demand to a whole turn; lower them.");
}

} // namespace

double CutSettings::stopRadius_mm() const noexcept {
    return finishing_radius_mm + leadOutTravel_mm(*this);
}

const disc::Format& CutSettings::discFormat() const noexcept {
    const auto all = disc::formats();
    return all[static_cast<std::size_t>(std::clamp(format, 0, static_cast<int>(all.size()) - 1))];
}

void CutSettings::applyFormat(int index) noexcept {
    format = index;
    const auto& chosen = discFormat();
    rpm = chosen.rpm;
    start_radius_mm = chosen.modulatedDiameterMax_mm / 2;
    end_radius_mm = chosen.modulatedDiameterEnd_mm / 2;
    finishing_radius_mm = chosen.finishingDiameter_mm / 2;
    preview_s = turn_s();
}

std::vector<std::string> validate(const CutSettings& settings, double sampleRate_hz) {
    std::vector<std::string> problems;
    checkRanges(settings, problems);
    const auto inRange = problems.empty();
    checkGroove(settings, problems);
    checkDisc(settings, inRange, problems);
    // Times per turn mean nothing while speed or sectors are out of range; the range message comes first then.
    if (settings.rpm > 0 && settings.sectors_per_turn > 0)
        checkTiming(settings, sampleRate_hz, problems);
    return problems;
}

void requireValid(const CutSettings& settings, double sampleRate_hz) {
    std::string all;
    for (const auto& problem : validate(settings, sampleRate_hz))
        all += (all.empty() ? "" : "\n") + problem;
    if (!all.empty())
        throw std::invalid_argument(all);
}

} // namespace headland::cut
