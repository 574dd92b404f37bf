// SPDX-License-Identifier: GPL-3.0-or-later
// Two clocks run on one count of sectors: what the preview head hears (ahead) and what is under the stylus (behind by
// the preview). The input is cut up at both clocks' boundaries, whatever its block size, so that everything downstream
// sees the same pieces always. Both run on while the stylus is up: it goes down at a boundary, knowing what is coming.
#include "Cut/CutEngine.h"

#include "Cut/GrooveCheck.h"
#include "Cut/HeardBins.h"
#include "Cut/PlanSetupOf.h"
#include "Cut/ProfileScale.h"
#include "Cut/SlopeLimit.h"
#include "Cut/StylusStage.h"
#include "Cut/WallDesign.h"
#include "Disc/SectorClock.h"
#include "Feed/InputGuard.h"
#include "Feed/PreviewDelay.h"
#include "Groove/Geometry.h"
#include "Lathe/Axis.h"
#include "Plan/CutPlanner.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>
#include <vector>

namespace headland::cut {

namespace {

disc::EstimatorSetup estimatorSetup(const CutSettings& s, const disc::RehearsedSide* rehearsed) {
    return {s.start_radius_mm,
            s.end_radius_mm,
            s.turn_s(),
            s.sectors_per_turn,
            s.discFormat().nominalSide_s,
            s.side_length_s,
            {},
            rehearsed};
}

/// What comes in at once. No program: silence.
struct Input {
    const float* left = nullptr; ///< at the preview head
    const float* right = nullptr;
    const float* cutLeft =
        nullptr; ///< at the stylus; nullptr: what the preview head heard, out of the engine's own delay
    const float* cutRight = nullptr;
    double* pitch_um = nullptr; ///< where the commands go; nullptr: nowhere
    double* depth_um = nullptr;

    void advance(std::int64_t count) noexcept {
        const auto on = [count](auto*&... pointers) {
            ((pointers = pointers == nullptr ? nullptr : pointers + count), ...);
        };
        on(left, right, cutLeft, cutRight, pitch_um, depth_um);
    }
};

/// Scratch for one piece between boundaries.
struct Piece {
    std::array<float, GrooveCheck::maxBlock> left, right;
    std::array<double, GrooveCheck::maxBlock> leftWall_um, rightWall_um, pitch_um, depth_um,
        depthIntegral_um_s, travelled_um;
};

} // namespace

/// Everything that belongs to one prepared cut.
class CutEngine::Chain {
public:
    Chain(const CutSettings& s, double rate, const LatheTruth& truth,
          std::shared_ptr<const plan::Profile> rehearsedProfile,
          std::shared_ptr<const disc::RehearsedSide> side)
        : settings(s),
          sampleRate_hz(rate),
          turnsPerSecond(1 / s.turn_s()),
          slewFactor(truth.slewFactor),
          preview(previewLength_samples(s, rate)),
          design(wallDesign(s, rate)),
          profile(std::move(rehearsedProfile)),
          rehearsedSide(side == nullptr || side->isEmpty() ? nullptr : std::move(side)),
          setup(planSetup(s, rate, profile != nullptr)),
          clock(rate, s.turn_s(), s.sectors_per_turn),
          binClock(rate, s.turn_s(), s.sectors_per_turn * setup.binsPerSector),
          heardWalls(design),
          heardBins(setup.binsPerTurn()),
          bins(static_cast<std::size_t>(setup.binsPerSector)),
          delay(static_cast<std::size_t>(
              std::max<std::int64_t>(1, preview + std::llround(truth.previewError_s * rate)))),
          planner(setup),
          stage(s),
          carriage({s.pitch_slew_um_per_rev_s, s.carriage_lag_s * truth.lagFactor}, rate, longestSector()),
          depthDrive({s.depth_slew_um_s, s.depth_lag_s * truth.lagFactor}, rate, longestSector()),
          check(design, clock.turnSamples() / truth.speedFactor),
          estimator(estimatorSetup(s, rehearsedSide.get())),
          badSectors(setup.previewSectors + 4, 0) {
        if (profile != nullptr)
            seek();
        nextHeard = clock.boundary(1);
        nextBin = binClock.boundary(1);
        leadIn = leadIn_samples(s, rate);
    }

    void rehearsed() noexcept { rehearsed(leadIn - heard); }

    void rehearsed(std::int64_t after_samples) noexcept {
        if (profile == nullptr)
            return;
        profileStart = heard + after_samples;
        const auto scale = profileScale(profile->made, settings);
        profileUsed = {true, scale.has_value()};
        if (scale)
            planner.believe(*profile,
                            {-static_cast<double>(profileStart) / sampleRate_hz, setup.sector_s(), *scale});
    }

    void found(const ProfilePosition& wanted) noexcept {
        if (profileUsed.isSought)
            position = wanted;
    }

    const ProfileUse& profileUse() const noexcept { return profileUsed; }

    /// The preview head hears the lead-in's silence before the program.
    bool feedLeadIn(std::int64_t most, FrameSink& sink) noexcept {
        if (heard == 0)
            lowering = true;
        runSide({}, std::min(most, leadIn - std::min(heard, leadIn)), sink);
        return heard >= leadIn;
    }

    void program(const float* left, const float* right, std::int64_t count, FrameSink& sink) noexcept {
        feedLeadIn(leadIn, sink);
        Input input{};
        input.left = left;
        input.right = right;
        runSide(input, count, sink);
    }

    bool finish(std::int64_t count, FrameSink& sink) noexcept {
        feedLeadIn(leadIn, sink);
        if (programEnd < 0)
            programEnd = heard;
        runSide({}, count, sink);
        return sideDone();
    }

    void live(const LiveBlock& block, FrameSink& sink) noexcept {
        Input input{block.heardLeft, block.heardRight, block.cutLeft,
                    block.cutRight,  block.pitch_um,   block.depth_um};
        for (std::int64_t left = block.frameCount; left > 0;) {
            const auto length = run(input, left, sink);
            input.advance(length);
            left -= length;
        }
    }

    bool cue(Cue cue, FrameSink& sink) noexcept {
        if (cue == Cue::lift)
            return lift(sink);
        if (!stage.isUp())
            return stage.cue(cue);
        if (cue != Cue::leadIn || lowering)
            return false;
        lowering = true;
        return true;
    }

    void setRide(const plan::Ride& wanted) noexcept { ride = wanted; }
    State state() const noexcept { return stage.state(); }
    bool isLowering() const noexcept { return lowering; }
    bool previewIsFull() const noexcept { return underStylus() >= 0; }

    void foresee(plan::Foresight& coming) noexcept {
        coming.time_s = std::numeric_limits<double>::quiet_NaN();
        if (stage.isUp())
            return planner.foreseeHeard(coming, sector);
        coming.time_s = static_cast<double>(sectorEnd - programStart) / sampleRate_hz;
        planner.foresee(coming);
    }

    std::int64_t previewSamples() const noexcept { return preview; }
    const feed::InputGuard& inputGuard() const noexcept { return guard; }
    double sampleRate() const noexcept { return sampleRate_hz; }

private:
    std::int64_t underStylus() const noexcept { return heard - preview; }
    std::size_t longestSector() const noexcept { return static_cast<std::size_t>(clock.boundary(1)) + 1; }

    /// A side that runs by itself has been cut.
    bool sideDone() const noexcept { return programEnd >= 0 && stage.isUp() && !lowering; }

    /// As run(), until the side that runs by itself is over.
    void runSide(Input input, std::int64_t count, FrameSink& sink) noexcept {
        while (count > 0 && !sideDone()) {
            const auto length = run(input, count, sink);
            input.advance(length);
            count -= length;
        }
    }

    /// Takes the next piece, at most `count` samples, and returns how many it was.
    std::int64_t run(const Input& input, std::int64_t count, FrameSink& sink) noexcept {
        if (underStylus() == sectorStart) {
            beginSector();
            if (sideDone())
                return 0;
        }
        const auto toStylus = underStylus() < 0 ? -underStylus() : sectorEnd - underStylus();
        const auto length =
            std::min<std::int64_t>({count, GrooveCheck::maxBlock, nextHeard - heard, toStylus});
        const auto samples = static_cast<std::size_t>(length);
        takePiece(input.left, input.right, samples);
        hear(samples, input.left != nullptr, sink);
        bringToStylus(input, samples);
        command(input, samples);
        if (underStylus() >= 0)
            cut(samples, sink);
        heard += length;
        if (heard == nextHeard)
            endHeardSector();
        if (underStylus() == sectorEnd && sectorEnd > sectorStart) // not as the first sector begins
            endSector(sink);
        return length;
    }

    void takePiece(const float* left, const float* right, std::size_t length) noexcept {
        if (left == nullptr) {
            std::fill_n(piece.left.begin(), length, 0.0f);
            std::fill_n(piece.right.begin(), length, 0.0f);
            return;
        }
        std::copy_n(left, length, piece.left.begin());
        std::copy_n(right, length, piece.right.begin());
    }

    void bringToStylus(const Input& input, std::size_t length) noexcept {
        const auto left = std::span(piece.left).first(length);
        const auto right = std::span(piece.right).first(length);
        if (input.cutLeft == nullptr)
            return delay.process(left, right);
        takePiece(input.cutLeft, input.cutRight, length);
        badUnderStylus += cutGuard.clean(left, right);
    }

    /// The commands at each sample, along the sector's straight lines.
    void command(const Input& input, std::size_t length) const noexcept {
        if (input.pitch_um == nullptr)
            return;
        const auto done = static_cast<double>(underStylus() - sectorStart);
        for (std::size_t i = 0; i < length; ++i) {
            const auto at = done + static_cast<double>(i);
            input.pitch_um[i] = stage.isUp() ? noCommand : pitchLine.value_um + pitchLine.perSample_um * at;
            input.depth_um[i] = stage.isUp() ? noCommand : depthLine.value_um + depthLine.perSample_um * at;
        }
    }

    void hear(std::size_t length, bool isProgram, FrameSink& sink) noexcept {
        const auto left = std::span(piece.left).first(length);
        const auto right = std::span(piece.right).first(length);
        if (isProgram)
            badInSector += guard.clean(left, right);
        const auto leftWall = std::span(piece.leftWall_um).first(length);
        const auto rightWall = std::span(piece.rightWall_um).first(length);
        heardWalls.process(left, right, leftWall, rightWall);
        for (std::size_t from = 0; from < length;) {
            const auto at = heard + static_cast<std::int64_t>(from);
            const auto count = std::min(length - from, static_cast<std::size_t>(nextBin - at));
            collector.add(leftWall.subspan(from, count), rightWall.subspan(from, count));
            from += count;
            if (at + static_cast<std::int64_t>(count) == nextBin)
                endBin(sink);
        }
    }

    void endBin(FrameSink& sink) noexcept {
        auto& bin = bins[static_cast<std::size_t>(heardBin % static_cast<std::int64_t>(bins.size()))];
        bin = collector.take();
        if (heardBins.add(bin) && sink.wantsHeard())
            sink.heard(heardBins.last(), heardBins.lastNumber());
        nextBin = binClock.boundary(++heardBin + 1);
        planner.work();
    }

    void endHeardSector() noexcept {
        heardWalls.flushResidue();
        planner.hear(bins, ride);
        if (profileUsed.wasUsed && !profileUsed.isDropped && !planner.believes()) {
            profileUsed.isDropped = true;
            profileUsed.dropped_s = static_cast<double>(heard - profileStart) / sampleRate_hz;
            tellLength(0);
        }
        if (position && !stage.isUp() && !profileUsed.isDropped)
            takePosition(heardSector + 1);
        badSectors[heardSector] = badInSector;
        badInSector = 0;
        nextHeard = clock.boundary(++heardSector + 1);
    }

    /// Where the program is in the profile is to be found.
    void seek() noexcept {
        planner.doubt();
        profileUsed = {};
        profileUsed.wasGiven = profileUsed.isSought = true;
    }

    /// The profile is used from this heard sector on, where it was found to lie.
    void takePosition(std::int64_t from) noexcept {
        const auto wanted = *std::exchange(position, std::nullopt);
        const auto scale = profileScale(profile->made, settings);
        if (!scale || (profileUsed.wasUsed && isNear(wanted, from)))
            return;
        const auto sector_s = setup.sector_s();
        inUse = wanted;
        planner.believe(*profile, {wanted.offset_s, wanted.ratio * sector_s, *scale});
        profileUsed.wasUsed = true;
        profileUsed.sector = from - firstSector;
        profileUsed.at_s = profileTime_s(wanted, from);
        profileUsed.ratio = wanted.ratio;
        const auto end_s = (profile->length_s - wanted.offset_s) / wanted.ratio;
        tellLength(std::max(0.0, end_s - static_cast<double>(programStart) / sampleRate_hz));
    }

    /// The program is as long as what it was found in, where nobody has said how long it is.
    void tellLength(double length_s) noexcept {
        if (settings.side_length_s == 0 && profileUsed.isSought)
            estimator.tellLength(length_s);
    }

    double profileTime_s(const ProfilePosition& at, std::int64_t sectorHeard) const noexcept {
        return at.offset_s + at.ratio * static_cast<double>(sectorHeard) * setup.sector_s();
    }

    /// Now and as far ahead as a profile is asked, the same as the position in use but for less than a bin.
    bool isNear(const ProfilePosition& other, std::int64_t from) const noexcept {
        const auto isNearAt = [&](std::int64_t at) {
            return std::abs(profileTime_s(other, at) - profileTime_s(inUse, at)) < profile->bin_s() / 2;
        };
        return isNearAt(from) && isNearAt(from + setup.rehearsedSectors);
    }

    /// The stylus goes down where the coming sector begins.
    void lower() noexcept {
        lowering = false;
        firstSector = sector;
        programStart = clock.boundary(sector + stage.leadInSectors());
        if (profileUsed.isSought) { // for each cut anew
            seek();
            profileStart = programStart;
        }
        stage.lower();
        carriage.start(settings.lead_in_pitch_um);
        depthDrive.start(settings.depth_basic_um);
        planner.start(settings.lead_in_pitch_um, sector);
        check.start();
        estimator = disc::DiscEstimator(estimatorSetup(settings, rehearsedSide.get()));
        command_um = settings.lead_in_pitch_um;
        depthCommand_um = settings.depth_basic_um;
    }

    /// The stylus comes up at once; what has been cut of the sector is still a frame.
    bool lift(FrameSink& sink) noexcept {
        if (stage.isUp())
            return std::exchange(lowering, false);
        const auto cut = underStylus();
        if (cut > sectorStart)
            sink.frame(makeFrame(cut));
        stage.lift();
        return true;
    }

    /// Plans the sector that now reaches the stylus and sends the lathe there in a straight line.
    void beginSector() noexcept {
        if (lowering)
            lower();
        if (programIsOver(sectorStart))
            stage.cue(Cue::leadOut);
        stage.enter(situation());
        sectorEnd = clock.boundary(sector + 1);
        if (stage.isUp())
            return;
        planned = planner.plan(stage.aim());
        const auto line = [this](double from_um, double to_um) {
            const auto start = clock.exactBoundary(sector), end = clock.exactBoundary(sector + 1);
            const auto perSample_um = (to_um - from_um) / (end - start);
            return lathe::CommandLine{from_um + perSample_um * (static_cast<double>(sectorStart) - start),
                                      perSample_um};
        };
        pitchLine = line(command_um, planned.pitch_um);
        depthLine = line(depthCommand_um, planned.depth_um);
        carriage.follow(pitchLine, stage.slew_um_s() * slewFactor);
        depthDrive.follow(depthLine, settings.depth_slew_um_s * slewFactor);
        command_um = planned.pitch_um;
        depthCommand_um = planned.depth_um;
    }

    void cut(std::size_t length, FrameSink& sink) noexcept {
        const auto left = std::span(piece.left).first(length);
        const auto right = std::span(piece.right).first(length);
        if (stage.isUp())
            return check.listen(left, right);
        const auto travelled = std::span(piece.travelled_um).first(length);
        const auto depth = std::span(piece.depth_um).first(length);
        carriage.run(std::span(piece.pitch_um).first(length), travelled);
        for (auto& t : travelled)
            t *= turnsPerSecond;
        depthDrive.run(depth, std::span(piece.depthIntegral_um_s).first(length));
        check.add(left, right, travelled, depth, stage.state() == State::finishing);
        if (!sink.wantsEdges())
            return;
        auto run = check.edges(travelled, depth);
        run.loweredRadius_mm = loweredRadius_mm();
        sink.edges(run);
    }

    void endSector(FrameSink& sink) noexcept {
        if (stage.isUp())
            check.take();
        else
            sink.frame(makeFrame(sectorEnd));
        badUnderStylus = 0;
        sectorStart = sectorEnd;
        ++sector;
    }

    /// Of a side that runs by itself.
    bool programIsOver(std::int64_t at) const noexcept { return programEnd >= 0 && at >= programEnd; }

    StylusSituation situation() const noexcept { return {radius_mm(), carriage.axis_um(), command_um}; }

    double loweredRadius_mm() const noexcept { return settings.start_radius_mm + stage.leadInTravel_mm(); }

    double radius_mm() const noexcept {
        return loweredRadius_mm() - carriage.integral_um_s() * turnsPerSecond / 1000;
    }

    /// Turns since the stylus went down, at the end of a sector or within it.
    double turn(std::int64_t at) const noexcept {
        const auto whole = static_cast<double>(sector + 1 - firstSector);
        const auto missing =
            static_cast<double>(sectorEnd - at) / static_cast<double>(sectorEnd - sectorStart);
        return (whole - missing) / settings.sectors_per_turn;
    }

    /// `end`: the sample the frame ends before.
    CutFrame makeFrame(std::int64_t end) noexcept {
        const auto measure = check.take();
        constexpr double um_per_cm = 1e4;
        CutFrame f{};
        f.time_s = static_cast<double>(end - programStart) / sampleRate_hz;
        f.turn = turn(end);
        f.radius_mm = radius_mm();
        f.pitch_um = carriage.axis_um();
        f.pitchCommand_um = command_um;
        f.depth_um = depthDrive.axis_um();
        f.depthCommand_um = depthCommand_um;
        f.landMin_um = measure.landMin_um;
        f.widthMin_um = measure.widthMin_um;
        f.lateralPeak_cm_s = measure.lateralPeak_um_s / um_per_cm;
        f.verticalPeak_cm_s = measure.verticalPeak_um_s / um_per_cm;
        const auto speed_um_s = groove::grooveSpeed_um_s(f.radius_mm, settings.turn_s());
        f.slopePeak = groove::slope(speed_um_s, measure.wallVelocityPeak_um_s);
        f.curvatureMin_um = groove::curvatureRadius_um(speed_um_s, measure.wallAccelerationPeak_um_s2);
        f.demand_um = planned.demand_um;
        f.shortfall_um = planned.shortfall_um;
        f.peak_dbfs = measure.programPeak > 0 ? 20 * std::log10(measure.programPeak)
                                              : -std::numeric_limits<double>::infinity();
        f.outerSwing_um = measure.outerSwing_um;
        f.innerSwing_um = measure.innerSwing_um;
        f.lift_um = measure.lift_um;
        f.depthPeak_um = measure.depthPeak_um;
        f.state = stage.state();
        if (f.state == State::leadIn || f.state == State::program || f.state == State::band)
            estimate = estimator.update(f.radius_mm, f.time_s, goesAsRehearsed());
        f.estimate = estimate; // after the program, as it ended
        f.flags = flagsOf(f);
        if (end == sectorEnd && !programIsOver(end) && stage.discEnds(situation()))
            f.flags |= static_cast<std::uint16_t>(Flag::discEnd);
        return f;
    }

    /// As far as anybody can know; what is ridden was not rehearsed.
    bool goesAsRehearsed() const noexcept {
        return profileUsed.wasUsed && !profileUsed.isDropped && ride.landAdd_um == 0 && ride.depthAdd_um == 0;
    }

    std::uint16_t flagsOf(const CutFrame& f) const noexcept {
        std::uint16_t flags = 0;
        const auto raise = [&flags](Flag flag, bool raised) {
            if (raised)
                flags = static_cast<std::uint16_t>(flags | static_cast<std::uint16_t>(flag));
        };
        raise(Flag::overcut, f.landMin_um < 0);
        raise(Flag::thinLand, f.landMin_um < settings.land_min_um - planTolerance_um);
        raise(Flag::narrow, f.widthMin_um < settings.width_min_um - planTolerance_um);
        raise(Flag::lifted, f.widthMin_um <= 0);
        raise(Flag::steep, f.slopePeak > slopeLimit(settings));
        raise(Flag::tight, f.curvatureMin_um < settings.tip_radius_um);
        raise(Flag::previewShort, f.shortfall_um > planTolerance_um);
        raise(Flag::limit, planned.limited);
        raise(Flag::badSample, badSectors[sector] > 0 || badUnderStylus > 0);
        raise(Flag::tooDeep, f.depthPeak_um > settings.depth_peak_max_um);
        const auto isProgram = f.state == State::program || f.state == State::band;
        raise(Flag::pastEnd, isProgram && f.radius_mm < settings.end_radius_mm);
        return flags;
    }

    CutSettings settings;
    double sampleRate_hz;
    double turnsPerSecond;
    double slewFactor; ///< what the drives really do against what they are believed to
    std::int64_t preview;
    groove::WallFilterDesign design;
    std::shared_ptr<const plan::Profile> profile;
    std::shared_ptr<const disc::RehearsedSide> rehearsedSide;
    ProfileUse profileUsed;
    std::int64_t profileStart = 0;           ///< of its program, counted as `heard`
    std::optional<ProfilePosition> position; ///< found, not heeded yet
    ProfilePosition inUse;
    plan::PlanSetup setup;
    disc::SectorClock clock;
    disc::SectorClock binClock; ///< the same, in the parts in which edges are paired
    std::int64_t leadIn = 0;    ///< samples of lead-in before the program, of a side that runs by itself

    feed::InputGuard guard;    ///< at the preview head
    feed::InputGuard cutGuard; ///< at the stylus, where that is fed by itself
    groove::DisplacementFilter heardWalls;
    plan::ExtremeCollector collector;
    HeardBins heardBins;
    std::vector<plan::SectorExtremes> bins; ///< of the sector that is being heard
    feed::PreviewDelay delay;
    plan::CutPlanner planner;
    StylusStage stage;
    lathe::Axis carriage, depthDrive;
    GrooveCheck check;
    disc::DiscEstimator estimator;
    disc::DiscEstimate estimate{};
    Piece piece{};

    std::int64_t heard = 0; ///< samples the preview head has heard, from the lead-in's first
    std::int64_t heardSector = 0;
    std::int64_t nextHeard = 0; ///< where the heard sector ends
    std::int64_t heardBin = 0;
    std::int64_t nextBin = 0;
    std::int64_t programEnd = -1; ///< first sample after the program, counted as `heard`; -1 while not known
    int badInSector = 0;
    plan::SectorRing<int> badSectors;
    plan::Ride ride{};

    std::int64_t sector = 0; ///< under the stylus
    std::int64_t sectorStart = 0, sectorEnd = 0;
    int badUnderStylus = 0; ///< in that sector, as fed to the stylus

    bool lowering = false;         ///< the stylus is to go down where the next sector begins
    std::int64_t firstSector = 0;  ///< where it went down
    std::int64_t programStart = 0; ///< first sample after the lead-in as set: time 0
    plan::SectorPlan planned{};
    lathe::CommandLine pitchLine{}, depthLine{};
    double command_um = 0, depthCommand_um = 0;
};

std::int64_t leadIn_samples(const CutSettings& settings, double sampleRate_hz) {
    const disc::SectorClock clock(sampleRate_hz, settings.turn_s(), settings.sectors_per_turn);
    return clock.boundary(StylusStage(settings).leadInSectors());
}

CutEngine::CutEngine() = default;
CutEngine::~CutEngine() = default;

void CutEngine::prepare(const CutSettings& settings, double sampleRate_hz, const LatheTruth& truth,
                        std::shared_ptr<const plan::Profile> profile,
                        std::shared_ptr<const disc::RehearsedSide> side) {
    requireValid(settings, sampleRate_hz);
    chain = std::make_unique<Chain>(settings, sampleRate_hz, truth, std::move(profile), std::move(side));
}

void CutEngine::rehearsed() noexcept {
    chain->rehearsed();
}

void CutEngine::rehearsed(std::int64_t after_samples) noexcept {
    chain->rehearsed(after_samples);
}

void CutEngine::found(const ProfilePosition& position) noexcept {
    chain->found(position);
}

ProfileUse CutEngine::profileUse() const noexcept {
    return chain->profileUse();
}

bool CutEngine::leadInSome(int frameCount, FrameSink& sink) noexcept {
    return chain->feedLeadIn(frameCount, sink);
}

void CutEngine::process(const float* left, const float* right, int frameCount, FrameSink& sink) noexcept {
    chain->program(left, right, frameCount, sink);
}

void CutEngine::finish(FrameSink& sink) noexcept {
    while (!finishSome(1 << 20, sink)) {
    }
}

bool CutEngine::finishSome(int frameCount, FrameSink& sink) noexcept {
    return chain->finish(frameCount, sink);
}

void CutEngine::live(const LiveBlock& block, FrameSink& sink) noexcept {
    chain->live(block, sink);
}

bool CutEngine::cue(Cue cue, FrameSink& sink) noexcept {
    return chain->cue(cue, sink);
}

void CutEngine::ride(const plan::Ride& ride) noexcept {
    chain->setRide(ride);
}

void CutEngine::foresee(plan::Foresight& coming) noexcept {
    chain->foresee(coming);
}

State CutEngine::state() const noexcept {
    return chain->state();
}

bool CutEngine::isLowering() const noexcept {
    return chain->isLowering();
}

bool CutEngine::previewIsFull() const noexcept {
    return chain->previewIsFull();
}

std::int64_t CutEngine::previewSamples() const noexcept {
    return chain->previewSamples();
}

std::int64_t CutEngine::badSamples() const noexcept {
    return chain->inputGuard().badSamples();
}

double CutEngine::firstBadSample_s() const noexcept {
    return static_cast<double>(chain->inputGuard().firstBad()) / chain->sampleRate();
}

} // namespace headland::cut
