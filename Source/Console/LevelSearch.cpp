// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/LevelSearch.h"

#include "Cut/SettingsTable.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace headland::console {

namespace {

constexpr double perTenth_db = 10.0; // tenths of a dB in a dB

/// Levels are counted in tenths of a dB; amplitudes are relative to the present level.
class LevelBracket {
public:
    LevelBracket(const cut::CutSettings& settings, const cut::CutSummary& present)
        : presentLevel_db(settings.disc_level_db),
          fits_mm(silentRoom_mm(settings, present.turns)),
          tooLong_mm(present.room_mm(settings)) {
        fitsTenth = static_cast<int>(std::ceil(cut::findSetting("disc_level_db")->least * perTenth_db)) - 1;
        tooLongTenth = static_cast<int>(std::ceil(presentLevel_db * perTenth_db - 1e-6));
    }

    bool isClosed() const { return tooLongTenth - fitsTenth <= 1; }

    /// The next level to try: where the straight line between the ends meets zero, on the side that fits.
    int next() const {
        const auto along = fits_mm / (fits_mm - tooLong_mm);
        const auto amplitude = fitsAmplitude + (tooLongAmplitude - fitsAmplitude) * along;
        const auto level_db = presentLevel_db + 20 * std::log10(std::max(amplitude, 1e-6));
        return std::clamp(static_cast<int>(std::floor(level_db * perTenth_db)), fitsTenth + 1,
                          tooLongTenth - 1);
    }

    void take(int tenth, double room_mm) {
        const auto amplitude = std::pow(10.0, (tenth / perTenth_db - presentLevel_db) / 20);
        const auto side = room_mm >= 0 ? Side::fits : Side::tooLong;
        if (side == Side::fits) {
            fitsTenth = tenth;
            fitsAmplitude = amplitude;
            fits_mm = room_mm;
        } else {
            tooLongTenth = tenth;
            tooLongAmplitude = amplitude;
            tooLong_mm = room_mm;
        }
        // Illinois rule: an end that stays twice counts half, or the other would creep towards the zero.
        if (side == last)
            (side == Side::fits ? tooLong_mm : fits_mm) /= 2;
        last = side;
    }

private:
    enum class Side { neither, fits, tooLong };

    double presentLevel_db;
    int fitsTenth, tooLongTenth;
    double fitsAmplitude = 0, tooLongAmplitude = 1; // silence to begin with
    double fits_mm, tooLong_mm;
    Side last = Side::neither;
};

} // namespace

double silentRoom_mm(const cut::CutSettings& settings, double turns) {
    const auto pitch_um = std::max(settings.pitch_min_um, 2 * settings.depth_basic_um + settings.land_min_um);
    return settings.start_radius_mm - turns * pitch_um / 1000 - settings.end_radius_mm;
}

LevelSearchResult searchLevel(const cut::CutSettings& settings, const cut::CutSummary& present,
                              const CutWith& cutWith) {
    LevelSearchResult result;
    if (silentRoom_mm(settings, present.turns) < 0) {
        result.outcome = LevelSearchResult::Outcome::noLevelHelps;
        return result;
    }
    LevelBracket bracket(settings, present);
    while (!bracket.isClosed() && result.runs < levelSearchRunsMax) {
        const auto tenth = bracket.next();
        auto trial = settings;
        trial.disc_level_db = tenth / perTenth_db;
        auto cut = cutWith(trial);
        ++result.runs;
        bracket.take(tenth, cut.fits ? std::max(0.0, cut.room_mm(settings))
                                     : std::min(-1e-9, cut.room_mm(settings)));
        if (!cut.fits)
            continue;
        result.outcome = LevelSearchResult::Outcome::found;
        result.level_db = trial.disc_level_db;
        result.cut = std::move(cut);
    }
    result.isHighest = result.outcome == LevelSearchResult::Outcome::found && bracket.isClosed();
    return result;
}

} // namespace headland::console
