// SPDX-License-Identifier: GPL-3.0-or-later
#include "Cut/SettingsTable.h"

#include "Cut/UnitText.h"
#include "Text/Figures.h"
#include "Text/Safe.h"

#include <algorithm>
#include <array>
#include <charconv>

namespace headland::cut {

namespace {

using S = CutSettings;

constexpr std::string_view discEnds[] = {"lead-out", "lift"};

constexpr Setting table[] = {
    {"format", "Format", "", &S::format, 0, 4, "Disc size and speed; sets speed, radii and preview with it.",
     "The ordinary long-playing side."},
    {"rpm", "Speed", "rpm", &S::rpm, 15, 90, "Speed of the platter while cutting.",
     "33 1/3, the format's. From half-speed cutting up to 78 rpm and a little more."},
    {"start_radius_mm", "Start radius", "mm", &S::start_radius_mm, 60, 205,
     "Radius at which the program begins; the lead-in lies outside it.",
     "Half of 292.6 mm, outermost modulated diameter (IEC 60098:1987, 8.5, second-hand)."},
    {"end_radius_mm", "End radius", "mm", &S::end_radius_mm, 40, 200,
     "Innermost radius the program may reach; beyond it the side does not fit.",
     "Half of 4 3/4 in (RIAA 1963, second-hand): kinder to the treble than the 57.5 mm that DIN 45547:1981 "
     "allows."},
    {"finishing_radius_mm", "Finishing radius", "mm", &S::finishing_radius_mm, 35, 195,
     "Radius of the closed finishing groove.", "Half of 106.4 mm (IEC 60098:1987, 8.9, second-hand)."},
    {"side_length_s", "Side length", "s", &S::side_length_s, 0, 36000,
     "Length of the program if it is known; 0 when it is not. Only the estimate uses it.",
     "Not known; a program file tells its own length."},

    {"reference_velocity_cm_s", "Reference velocity", "cm/s", &S::reference_velocity_cm_s, 0.5, 20,
     "Peak velocity of one wall for a 1 kHz sine whose peak is at the alignment level.",
     "5 cm/s, a usual reference level; common practice, no source."},
    {"alignment_dbfs", "Alignment level", "dBFS", &S::alignment_dbfs, -40, 0,
     "Peak level of the sine that cuts the reference velocity.", "-18 dBFS; common practice, no source."},
    {"disc_level_db", "Disc level", "dB", &S::disc_level_db, -40, 20, "Trim of the level the side is cut at.",
     "0: as aligned."},
    {"highpass_hz", "High-pass", "Hz", &S::highpass_hz, 2, 80,
     "Corner of the second-order high-pass every cutting chain has in some form.",
     "12 Hz, an assumption: no cutting chain records DC."},

    {"land_min_um", "Land", "µm", &S::land_min_um, 0, 200, "Least land to keep between neighbouring turns.",
     "12 µm, within the usual 8 to 20; common practice, no source."},
    {"width_min_um", "Least width", "µm", &S::width_min_um, 5, 100,
     "Narrowest groove allowed at the surface; a playback stylus may leave a narrower one.",
     "30 µm, within the usual 25 to 35; common practice, no source."},
    {"depth_basic_um", "Basic depth", "µm", &S::depth_basic_um, 5, 100,
     "Depth of the unmodulated groove; its width is twice that.",
     "25 µm, a groove 50 µm wide, within the usual 45 to 60; common practice, no source."},
    {"depth_max_um", "Greatest depth", "µm", &S::depth_max_um, 5, 150, "Deepest unmodulated groove allowed.",
     "60 µm, well inside the lacquer coat of an ordinary blank; common practice, no source."},
    {"depth_peak_max_um", "Deepest groove", "µm", &S::depth_peak_max_um, 10, 300,
     "Greatest depth of the groove with its program; deeper, the stylus may reach the blank's metal, and the "
     "side is "
     "scrap.",
     "120 µm, a little less than the lacquer coat of an ordinary blank; common practice, no source."},
    {"back_angle_deg", "Back angle", "deg", &S::back_angle_deg, 20, 60,
     "Back angle of the cutting stylus; a steeper groove is flagged.",
     "45 degrees; common practice, no source."},
    {"tip_radius_um", "Playback tip", "µm", &S::tip_radius_um, 2, 40,
     "Radius of the spherical playback tip; a tighter curve is flagged.",
     "18 µm, an ordinary spherical stylus; common practice, no source."},

    {"pitch_min_um", "Least pitch", "µm", &S::pitch_min_um, 20, 1000,
     "Closest pitch the lathe may be sent to.",
     "50 µm, a little below two half-widths of the basic groove and the least land; common practice, no "
     "source."},
    {"pitch_max_um", "Greatest pitch", "µm", &S::pitch_max_um, 20, 3000,
     "Widest pitch the carriage drive reaches.",
     "400 µm, the upper end of the usual 60 to 400; common practice, no source."},
    {"pitch_slew_um_per_rev_s", "Pitch slew", "µm/rev/s", &S::pitch_slew_um_per_rev_s, 10, 20000,
     "How fast the commanded pitch may change.",
     "400 µm per revolution per second, an ordinary carriage; an "
     "assumption, no source. Set what your lathe does."},
    {"carriage_lag_s", "Carriage lag", "s", &S::carriage_lag_s, 0, 1,
     "First-order lag of pitch behind its command.",
     "0.05 s, an ordinary carriage; an assumption, no source. Set what your lathe does."},
    {"depth_slew_um_s", "Depth slew", "µm/s", &S::depth_slew_um_s, 10, 20000,
     "How fast the commanded depth may change.",
     "300 µm/s, an ordinary depth drive; an assumption, no source."},
    {"depth_lag_s", "Depth lag", "s", &S::depth_lag_s, 0, 0.5, "First-order lag of depth behind its command.",
     "0.01 s, an ordinary depth coil; an assumption, no source."},
    {"spiral_slew_um_per_rev_s", "Spiral slew", "µm/rev/s", &S::spiral_slew_um_per_rev_s, 500, 200000,
     "How fast the pitch changes into and out of lead-in and lead-out, which have a drive of their own.",
     "10 mm per revolution per second: the lead-out is open within two thirds of a second; an assumption, no "
     "source."},

    {"preview_s", "Preview", "s", &S::preview_s, 0.05, 30, "How long before the stylus the program is heard.",
     "One revolution: what comes back at the same angle can still be given room."},
    {"preview_tolerance_s", "Preview tolerance", "s", &S::preview_tolerance_s, 0, 0.5,
     "How far the preview may be off that a second head makes; widens every demand by as much.",
     "0: the processor's own delay, and a file's, is exact. For a second head 5 ms is a millimetre or two of "
     "tape path at 38 cm/s."},
    {"speed_tolerance", "Platter tolerance", "", &S::speed_tolerance, 0, 0.02,
     "How far the platter's speed may be off, as a fraction; widens one edge of each pair of turns by as "
     "much of a turn.",
     "0.001: a locked platter; IEC 60098:2020, 5.6 allows 0.005 (second-hand)."},
    {"sectors_per_turn", "Sectors per turn", "", &S::sectors_per_turn, 64, 800,
     "Into how many equal angles a turn is divided for planning and for the log.",
     "256: 7 ms at 33 1/3; the disc used hardly depends on it."},
    {"steady_pitch_percent", "Disc for a steady pitch", "%", &S::steady_pitch_percent, 0, 10,
     "How much more of the disc may be used so that the pitch changes less; about as much is, on ordinary "
     "music.",
     "1: the pitch travels half as far as at 0; each per cent more buys less (docs/theory/planner.md)."},
    {"pitch_optimiser", "Pitch optimiser", "", &S::pitch_optimiser, 0, 1,
     "1: the pitch is optimised over what the preview shows; 0: it opens as late as is safe, for comparison.",
     "1: the optimiser saves a tenth of the disc (docs/theory/planner.md)."},

    {"lead_in_pitch_um", "Lead-in pitch", "µm", &S::lead_in_pitch_um, 200, 5000, "Pitch of the lead-in.",
     "1.2 mm (IEC 60098:1987, 8.4, second-hand)."},
    {"lead_in_turns", "Lead-in turns", "turns", &S::lead_in_turns, 0.25, 10,
     "Turns of lead-in before the program.",
     "A little over one turn of silence before the music; common practice, no source."},
    {"band_pitch_um", "Band pitch", "µm", &S::band_pitch_um, 200, 5000,
     "Pitch of the band between two pieces of a side.",
     "0.8 mm: a space one can see and set a pickup down in; common practice, no source."},
    {"band_turns", "Band turns", "turns", &S::band_turns, 0.25, 10,
     "Turns of band before the pitch closes to the program's.", "1; common practice, no source."},
    {"lead_out_pitch_um", "Lead-out pitch", "µm", &S::lead_out_pitch_um, 500, 20000,
     "Pitch of the lead-out; less is cut where less room is left.",
     "6.4 mm (IEC 60098:1987, 8.8, second-hand)."},
    {"lead_out_turns", "Lead-out turns", "turns", &S::lead_out_turns, 1, 10, "Least turns of lead-out.",
     "At least one turn (IEC 60098:1987, 8.8, second-hand)."},
    {"disc_end", "Where the disc ends", "", &S::disc_end, 0, 1,
     "What is done where a turn of lead-out just still fits outside the finishing radius, program or not: "
     "lead-out (0) or lift (1).",
     "lead-out: the disc gets its finishing groove, and can be played.", discEnds},
};

std::string formatKeys() {
    std::string keys;
    for (const auto& format : disc::formats())
        keys += (keys.empty() ? "" : ", ") + std::string(format.key);
    return keys;
}

std::optional<std::string> setFormat(CutSettings& settings, std::string_view text) {
    const auto* format = disc::findFormat(text);
    if (format == nullptr)
        return "format: '" + text::printable(text) + "' is not a format; use one of " + formatKeys() + ".";
    settings.applyFormat(static_cast<int>(format - disc::formats().data()));
    return std::nullopt;
}

} // namespace

std::span<const Setting> settingsTable() noexcept {
    return table;
}

const Setting* findSetting(std::string_view key) noexcept {
    const auto* found =
        std::find_if(std::begin(table), std::end(table), [key](const Setting& s) { return s.key == key; });
    return found == std::end(table) ? nullptr : found;
}

std::string getText(const CutSettings& settings, const Setting& setting) {
    if (setting.key == "format")
        return std::string(settings.discFormat().key);
    std::array<char, 40> text{};
    const auto [end, error] =
        std::to_chars(text.data(), text.data() + text.size(), getNumber(settings, setting));
    return {text.data(), end};
}

std::optional<std::string> setFromText(CutSettings& settings, std::string_view key, std::string_view text) {
    const auto* setting = findSetting(key);
    if (setting == nullptr)
        return "'" + text::printable(key) + "' is not a setting; 'headland settings' lists them all.";
    if (key == "format")
        return setFormat(settings, text);
    if (const auto named = std::ranges::find(setting->choices, text); named != setting->choices.end()) {
        setNumber(settings, *setting, static_cast<double>(named - setting->choices.begin()));
        return std::nullopt;
    }
    const auto value = valueFromText(text, setting->unit, setting->isPitch());
    if (!value)
        return std::string(key) + ": '" + text::printable(text) + "' is not a number; write it like "
               + text::plain(getNumber(settings, *setting))
               + (setting->unit.empty() ? "" : ", in " + readableUnits(setting->unit, setting->isPitch()))
               + ".";
    if (setting->isWhole() && (*value != std::floor(*value) || std::abs(*value) > 1e6))
        return std::string(key) + ": '" + text::printable(text) + "' is not a whole number within reason.";
    setNumber(settings, *setting, *value);
    return std::nullopt;
}

} // namespace headland::cut
