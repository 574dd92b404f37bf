// SPDX-License-Identifier: GPL-3.0-or-later
#include "Log/PatchFromProgram.h"

#include "Cut/StylusStage.h"
#include "Cut/WallDesign.h"
#include "Disc/SectorClock.h"
#include "Feed/InputGuard.h"
#include "Files/Errors.h"
#include "Groove/Geometry.h"
#include "Groove/WallFilter.h"
#include "Text/Figures.h"
#include "Text/Times.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
#include <numbers>
#include <stdexcept>

namespace headland::log {

namespace {

constexpr int blockSize_samples = 4096;
constexpr double um_per_mm = 1000;
constexpr double rounding = 1e-6; ///< of a sample: a boundary that falls on a sample stays on it

/// Both edges at a sample, µm along the radius from the start radius.
struct Edges {
    double outer_um, inner_um;

    bool exist() const noexcept { return std::isfinite(outer_um); }
};

constexpr auto nan = std::numeric_limits<double>::quiet_NaN();
constexpr Edges noEdges{nan, nan};

/// Both walls over a run of samples, counted from the program's first.
struct WallWindow {
    std::int64_t first; ///< sample
    std::vector<double> left_um, right_um;

    WallWindow(std::int64_t begin, std::int64_t end)
        : first(begin),
          left_um(static_cast<std::size_t>(end - begin), 0.0),
          right_um(static_cast<std::size_t>(end - begin), 0.0) {}

    std::int64_t end() const noexcept { return first + static_cast<std::int64_t>(left_um.size()); }

    /// Keeps what belongs here of a run of walls that begins at sample `from`.
    void keep(std::int64_t from, std::span<const double> left, std::span<const double> right) {
        const auto begin = std::max(first, from);
        const auto stop = std::min(end(), from + static_cast<std::int64_t>(left.size()));
        for (auto n = begin; n < stop; ++n) {
            left_um[static_cast<std::size_t>(n - first)] = left[static_cast<std::size_t>(n - from)];
            right_um[static_cast<std::size_t>(n - first)] = right[static_cast<std::size_t>(n - from)];
        }
    }
};

/// Where the lathe was at every sample, by the frames.
class LathePath {
public:
    explicit LathePath(const FramesOfCut& logged)
        : settings(logged.settings),
          frames(logged.frames),
          rate_hz(logged.sampleRate_hz),
          turn_samples(
              disc::SectorClock(rate_hz, settings.turn_s(), settings.sectors_per_turn).turnSamples()) {
        // As the engine begins: at rest in the lead-in, which ends at the start radius.
        start.radius_mm = settings.start_radius_mm + cut::StylusStage(settings).leadInTravel_mm();
        start.pitch_um = settings.lead_in_pitch_um;
        start.depth_um = start.depthCommand_um = settings.depth_basic_um;
        ends.reserve(frames.size());
        for (std::size_t i = 0; i < frames.size(); ++i)
            ends.push_back(std::llround(frames[i].time_s * rate_hz));
    }

    double turnSamples() const noexcept { return turn_samples; }
    std::int64_t sectorEnd(std::size_t i) const { return ends[i]; }
    std::int64_t sectorBegin(std::size_t i) const {
        if (i > 0)
            return sectorEnd(i - 1);
        return sectorEnd(0) - std::llround(std::ceil(frames[0].turn * turn_samples - rounding));
    }
    std::int64_t begin() const { return sectorBegin(0); }
    std::int64_t end() const { return sectorEnd(frames.size() - 1); }
    bool holds(std::int64_t sample) const { return sample >= begin() && sample < end(); }

    /// Index of the frame whose sector holds this sample of the cut.
    std::size_t frameAt(std::int64_t sample) const {
        return static_cast<std::size_t>(std::upper_bound(ends.begin(), ends.end(), sample) - ends.begin());
    }

    /// Centre line relative to the start radius. Position and its slope, the pitch, are known at both ends of a sector, which
    /// makes a cubic: the tests find what is made again within 0.001 µm of what was cut, where a straight line is up to
    /// 0.03 µm off while the lead-in's wide pitch closes.
    double centre_um(std::int64_t sample) const {
        const auto i = frameAt(sample);
        const auto from = before(i), to = frames[i];
        const auto length = static_cast<double>(sectorEnd(i) - sectorBegin(i));
        const auto u = static_cast<double>(sample - sectorBegin(i)) / length;
        const auto turns = length / turn_samples;
        const auto from_um = (from.radius_mm - settings.start_radius_mm) * um_per_mm;
        const auto travel_um = (to.radius_mm - from.radius_mm) * um_per_mm;
        const auto fromSlope_um = -from.pitch_um * turns, toSlope_um = -to.pitch_um * turns;
        return from_um + u * u * (3 - 2 * u) * travel_um + u * (1 - u) * (1 - u) * fromSlope_um
               - u * u * (1 - u) * toSlope_um;
    }

    /// Depth. The drive follows a command that runs straight from sector end to sector end by its lag, which is as short as
    /// a sector: a straight line between the ends would be up to 0.2 µm off. Whatever the drive did otherwise is
    /// spread evenly, so that the curve ends where the frame says.
    double depth_um(std::int64_t sample) const {
        const auto i = frameAt(sample);
        const auto from = before(i), to = frames[i];
        const auto length_s = static_cast<double>(sectorEnd(i) - sectorBegin(i)) / rate_hz;
        const auto t_s = static_cast<double>(sample - sectorBegin(i)) / rate_hz;
        const auto slope_um_s = (to.depthCommand_um - from.depthCommand_um) / length_s;
        const auto lag_s = settings.depth_lag_s;
        const auto behind_um = lag_s * slope_um_s;
        const auto followed = [&](double s) {
            const auto line_um = from.depthCommand_um + slope_um_s * s - behind_um;
            const auto atStart_um = from.depth_um - from.depthCommand_um + behind_um;
            return lag_s > 0 ? line_um + atStart_um * std::exp(-s / lag_s) : line_um;
        };
        return followed(t_s) + (to.depth_um - followed(length_s)) * t_s / length_s;
    }

private:
    /// How things stood where frame i's sector began.
    cut::CutFrame before(std::size_t i) const { return i == 0 ? start : frames[i - 1]; }

    const cut::CutSettings& settings;
    cut::FrameView frames;
    std::vector<std::int64_t> ends; ///< of the sectors, samples of the cut
    double rate_hz;
    double turn_samples;
    cut::CutFrame start{};
};

/// The groove where walls have been kept.
class Groove {
public:
    explicit Groove(const LathePath& lathePath) : path(lathePath) {}

    /// To be kept: samples [begin, end).
    void want(std::int64_t begin, std::int64_t end) { windows.emplace_back(begin, end); }

    /// One past the last sample wanted.
    std::int64_t end() const {
        std::int64_t last = 0;
        for (const auto& window : windows)
            last = std::max(last, window.end());
        return last;
    }

    void keep(std::int64_t from, std::span<const double> left, std::span<const double> right) {
        for (auto& window : windows)
            window.keep(from, left, right);
    }

    /// Edges at a sample that is wanted; none outside the cut.
    Edges at(std::int64_t sample) const {
        if (!path.holds(sample))
            return noEdges;
        for (const auto& window : windows)
            if (sample >= window.first && sample < window.end()) {
                const auto i = static_cast<std::size_t>(sample - window.first);
                const auto centre_um = path.centre_um(sample), depth_um = path.depth_um(sample);
                return {centre_um + groove::outerEdge_um(depth_um, window.right_um[i]),
                        centre_um + groove::innerEdge_um(depth_um, window.left_um[i])};
            }
        throw std::logic_error("a sample of the groove is asked for that was not kept");
    }

    /// A turn need not be a whole number of samples: edges straight between the two nearest, as the engine's check takes
    /// them.
    Edges between(double sample) const {
        auto whole = static_cast<std::int64_t>(std::floor(sample));
        auto fraction = sample - static_cast<double>(whole);
        if (fraction > 1 - rounding) {
            ++whole;
            fraction = 0;
        }
        const auto a = at(whole);
        if (fraction < rounding || !a.exist())
            return a;
        const auto b = at(whole + 1);
        return {a.outer_um + fraction * (b.outer_um - a.outer_um),
                a.inner_um + fraction * (b.inner_um - a.inner_um)};
    }

private:
    const LathePath& path;
    std::vector<WallWindow> windows;
};

/// Where the points of the patch lie in time.
struct PatchGrid {
    std::int64_t place = 0; ///< sample
    std::int64_t step = 1;  ///< samples between points
    std::int64_t half = 0;  ///< points on either side of the place
    int turns = 0;          ///< on either side
    double turn_samples = 1;

    double sample(int turn, std::int64_t point) const {
        return static_cast<double>(place + point * step) + turn * turn_samples;
    }
};

void checkWish(const PatchWish& wish, const files::ProgramFile& program) {
    if (wish.turnsEachSide < 0 || wish.turnsEachSide > 20)
        throw std::invalid_argument("turnsEachSide is not between 0 and 20");
    if (!(wish.halfLength_mm >= 0.01 && wish.halfLength_mm <= 20))
        throw std::invalid_argument("halfLength_mm is not between 0.01 and 20");
    if (program.position_frames() != 0)
        throw std::invalid_argument("the program is not at its beginning");
}

std::string kilohertz(double rate_hz) {
    return text::plain(rate_hz / 1000) + " kHz";
}

void checkRate(const files::ProgramFile& program, const std::string& name, const FramesOfCut& logged) {
    if (program.sampleRate_hz() != logged.sampleRate_hz)
        throw files::InputError('"' + name + "\" is not the program that was cut: it has a sample rate of "
                                + kilohertz(program.sampleRate_hz()) + ", the cut had "
                                + kilohertz(logged.sampleRate_hz) + "; give the file that was cut.");
}

/// The place as a sample of the cut.
std::int64_t placeOf(const LathePath& path, const FramesOfCut& logged, double time_s) {
    const auto from_s = static_cast<double>(path.begin()) / logged.sampleRate_hz;
    const auto to_s = static_cast<double>(path.end()) / logged.sampleRate_hz;
    if (!(time_s >= from_s && time_s <= to_s))
        throw files::InputError("There is no groove at " + text::minutesTenths(time_s)
                                + ": the cut goes from " + text::minutesTenths(from_s) + " to "
                                + text::minutesTenths(to_s) + "; name a time between them.");
    return std::clamp<std::int64_t>(std::llround(time_s * logged.sampleRate_hz), path.begin(),
                                    path.end() - 1);
}

PatchGrid gridOf(const LathePath& path, const FramesOfCut& logged, const PatchWish& wish) {
    PatchGrid grid;
    grid.place = placeOf(path, logged, wish.time_s);
    grid.turns = wish.turnsEachSide;
    grid.turn_samples = path.turnSamples();
    const auto radius_mm = logged.settings.start_radius_mm + path.centre_um(grid.place) / um_per_mm;
    const auto spread = cut::spreadOf(radius_mm, grid.turn_samples, wish.halfLength_mm);
    grid.step = spread.step_samples;
    grid.half = spread.half;
    return grid;
}

/// The frames at the angle of the place, one a turn that was cut.
std::vector<std::size_t> framesToCheck(const LathePath& path, const PatchGrid& grid) {
    std::vector<std::size_t> found;
    for (int turn = -grid.turns; turn <= grid.turns; ++turn) {
        const auto sample = std::llround(grid.sample(turn, 0));
        if (path.holds(sample))
            found.push_back(path.frameAt(sample));
    }
    return found;
}

/// A turn before a sector, with a sample to spare on either side for what lies between samples.
std::int64_t turnBefore(const LathePath& path, std::int64_t sample) {
    return sample - std::llround(std::ceil(path.turnSamples()));
}

void wantAll(Groove& groove, const LathePath& path, const PatchGrid& grid,
             const std::vector<std::size_t>& toCheck) {
    for (int turn = -grid.turns; turn <= grid.turns; ++turn)
        groove.want(std::llround(std::floor(grid.sample(turn, -grid.half))) - 1,
                    std::llround(std::ceil(grid.sample(turn, grid.half))) + 2);
    for (const auto frame : toCheck) {
        const auto begin = path.sectorBegin(frame), end = path.sectorEnd(frame);
        groove.want(begin, end);
        groove.want(turnBefore(path, begin) - 1, turnBefore(path, end) + 2);
    }
}

/// Program → walls, from the first sample to the last one wanted; silence once the file is at its end.
void readWalls(files::ProgramFile& program, const groove::WallFilterDesign& design, Groove& groove,
               const std::function<void(double)>& between) {
    groove::DisplacementFilter filter(design);
    feed::InputGuard guard; // what the engine cut as silence
    std::array<float, blockSize_samples> left{}, right{};
    std::array<double, blockSize_samples> left_um{}, right_um{};
    between(0);
    for (std::int64_t done = 0; done < groove.end();) {
        auto count = static_cast<std::size_t>(program.read(left.data(), right.data(), blockSize_samples));
        if (count == 0) {
            left.fill(0);
            right.fill(0);
            count = blockSize_samples;
        }
        guard.clean(std::span(left).first(count), std::span(right).first(count));
        filter.process(std::span(left).first(count), std::span(right).first(count),
                       std::span(left_um).first(count), std::span(right_um).first(count));
        filter.flushResidue();
        groove.keep(done, std::span(left_um).first(count), std::span(right_um).first(count));
        done += static_cast<std::int64_t>(count);
        between(std::min(1.0, static_cast<double>(done) / static_cast<double>(groove.end())));
    }
    between(1);
}

/// Least land and width of one whole sector, every sample looked at, as the engine's check does.
SectorCheck measure(const Groove& groove, const LathePath& path, const FramesOfCut& logged,
                    std::size_t frame) {
    SectorCheck check{frame, nan, nan, nan, nan};
    const auto take = [&](double value_um, std::int64_t sample, double& least_um, double& at_s) {
        if (std::isnan(value_um) || value_um >= least_um)
            return;
        least_um = value_um;
        at_s = static_cast<double>(sample) / logged.sampleRate_hz;
    };
    for (auto sample = path.sectorBegin(frame); sample < path.sectorEnd(frame); ++sample) {
        const auto now = groove.at(sample);
        const auto before = groove.between(static_cast<double>(sample) - path.turnSamples());
        take(before.inner_um - now.outer_um, sample, check.landMin_um, check.landMinAt_s);
        take(now.outer_um - now.inner_um, sample, check.widthMin_um, check.widthMinAt_s);
    }
    return check;
}

/// The finishing groove meets itself on purpose: its frames have no land, and none is compared.
bool agrees(double measured_um, double logged_um) {
    return std::isnan(logged_um) || std::abs(measured_um - logged_um) <= samePatch_um;
}

void compare(const SectorCheck& check, const cut::CutFrame& frame, const std::string& name) {
    const auto refuse = [&](const std::string& figure, double measured_um, double logged_um) {
        throw files::InputError('"' + name + "\" is not the program that was cut: at "
                                + text::minutesTenths(frame.time_s) + " it gives " + figure + " of "
                                + text::fixed(measured_um, 2) + " µm, the log has "
                                + text::fixed(logged_um, 2) + " µm; give the file that was cut, unchanged.");
    };
    if (!agrees(check.widthMin_um, frame.widthMin_um))
        refuse("a least groove width", check.widthMin_um, frame.widthMin_um);
    if (!agrees(check.landMin_um, frame.landMin_um))
        refuse("a least land", check.landMin_um, frame.landMin_um);
}

cut::EdgePoint asPoint(const Edges& edges) {
    return {static_cast<float>(edges.outer_um), static_cast<float>(edges.inner_um)};
}

cut::GroovePatch makePatch(const Groove& groove, const FramesOfCut& logged, const PatchGrid& grid) {
    cut::GroovePatch patch;
    patch.time_s = static_cast<double>(grid.place) / logged.sampleRate_hz;
    patch.startRadius_mm = logged.settings.start_radius_mm;
    patch.step_rad = 2 * std::numbers::pi * static_cast<double>(grid.step) / grid.turn_samples;
    patch.points = static_cast<std::size_t>(2 * grid.half + 1);
    for (int turn = -grid.turns; turn <= grid.turns; ++turn) {
        patch.turns.push_back({turn, {}});
        for (auto point = -grid.half; point <= grid.half; ++point)
            patch.turns.back().edges.push_back(asPoint(groove.between(grid.sample(turn, point))));
    }
    return patch;
}

groove::WallFilterDesign designOf(const FramesOfCut& logged) {
    return cut::wallDesign(logged.settings, logged.sampleRate_hz);
}

} // namespace

ProgramPatch patchFromProgram(files::ProgramFile& program, const std::string& programName,
                              const FramesOfCut& logged, const PatchWish& wish,
                              const std::function<void(double)>& between) {
    checkWish(wish, program);
    if (logged.frames.empty())
        throw files::InputError("Nothing was cut: the log has no sector of this cut.");
    checkRate(program, programName, logged);
    const LathePath path(logged);
    const auto grid = gridOf(path, logged, wish);
    const auto toCheck = framesToCheck(path, grid);
    Groove groove(path);
    wantAll(groove, path, grid, toCheck);
    readWalls(program, designOf(logged), groove, between);
    ProgramPatch result;
    for (const auto frame : toCheck) {
        result.checked.push_back(measure(groove, path, logged, frame));
        compare(result.checked.back(), logged.frames[frame], programName);
    }
    result.patch = makePatch(groove, logged, grid);
    return result;
}

} // namespace headland::log
