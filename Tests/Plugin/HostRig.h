// SPDX-License-Identifier: GPL-3.0-or-later
// A small host for tests: gives a processor its layout, plays a program through it in blocks of any size, sends cues and
// marks as MIDI notes at exact samples, and keeps what comes out and every frame.
#pragma once

#include "Plugin/MidiCues.h"
#include "Plugin/Processor.h"
#include "Tests/Cut/TestPrograms.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <functional>
#include <map>
#include <vector>

namespace headland::test {

/// Keeps what the service thread is told.
struct Kept {
    std::vector<cut::CutFrame> frames;
    std::vector<handoff::CutEnd> ends;
    std::vector<plugin::LiveSetup> begun;
    std::vector<std::int64_t> numbers;       ///< of the frames
    std::vector<std::int64_t> lengths;       ///< of the cuts, in frames
    std::vector<handoff::CutEvent> events;   ///< cues, what is ridden, marks
    std::vector<cut::EdgePoint> edges;       ///< of all cuts, one after the other
    std::vector<std::int64_t> edgesAtFrames; ///< how many there were when each frame came
    std::vector<std::int64_t> firstSamples;  ///< of the runs
};

class KeepingJournal : public plugin::Journal {
public:
    explicit KeepingJournal(Kept& kept, bool wantsEdges = false) : kept(kept), takesEdges(wantsEdges) {}
    void begin(const plugin::LiveSetup& setup, const log::ProgramRecord*) override {
        kept.begun.push_back(setup);
    }
    void frame(const cut::CutFrame& frame, std::int64_t number) override {
        kept.frames.push_back(frame);
        kept.numbers.push_back(number);
        kept.edgesAtFrames.push_back(static_cast<std::int64_t>(kept.edges.size()));
    }
    bool wantsEdges() const override { return takesEdges; }
    void edges(const cut::EdgeRun& run) override {
        kept.firstSamples.push_back(run.firstSample);
        kept.edges.insert(kept.edges.end(), run.points.begin(), run.points.end());
    }
    void event(const handoff::CutEvent& event) override { kept.events.push_back(event); }
    void end(handoff::CutEnd reason, std::int64_t frames) override {
        kept.ends.push_back(reason);
        kept.lengths.push_back(frames);
    }
    std::string trouble() const override { return {}; }

private:
    Kept& kept;
    bool takesEdges;
};

/// What is played, and what is done meanwhile, by sample.
struct Take {
    Program program;
    Program preview; ///< of the second head; empty: none
    bool mono = false;
    bool control = true;
    std::multimap<std::int64_t, cut::Cue> cues;
    std::vector<std::int64_t> marks;
    std::multimap<std::int64_t, std::function<void(plugin::Processor&)>> deeds; ///< at the next block
    std::vector<int> blocks{512};                                               ///< sizes, over and over
};

struct Played {
    std::vector<float> left, right, pitch, depth;
    int latency = 0;
};

inline juce::AudioProcessor::BusesLayout layoutOf(const Take& take) {
    const auto program = take.mono ? juce::AudioChannelSet::mono() : juce::AudioChannelSet::stereo();
    const auto off = juce::AudioChannelSet::disabled();
    juce::AudioProcessor::BusesLayout layout;
    layout.inputBuses = {program, take.preview.length() > 0 ? program : off};
    layout.outputBuses = {program, take.control ? juce::AudioChannelSet::stereo() : off};
    return layout;
}

/// Plays a take through a processor that has been given its set-up. `each`: around each block, for traps.
inline Played play(plugin::Processor& processor, const Take& take,
                   const std::function<void(const std::function<void()>&)>& each = {}) {
    REQUIRE(processor.setBusesLayout(layoutOf(take)));
    const auto largest = *std::max_element(take.blocks.begin(), take.blocks.end());
    processor.prepareToPlay(take.program.rate_hz, largest);
    const auto ins = processor.getTotalNumInputChannels(), outs = processor.getTotalNumOutputChannels();
    const auto programChannels = take.mono ? 1 : 2;
    Played played;
    juce::MidiBuffer midi;
    midi.ensureSize(4096);
    auto deed = take.deeds.begin();
    const auto length = static_cast<std::int64_t>(take.program.length());
    std::size_t turn = 0;
    for (std::int64_t at = 0; at < length;) {
        for (; deed != take.deeds.end() && deed->first <= at; ++deed)
            deed->second(processor);
        const auto count =
            static_cast<int>(std::min<std::int64_t>(take.blocks[turn++ % take.blocks.size()], length - at));
        juce::AudioBuffer<float> audio(std::max(ins, outs), count);
        audio.clear();
        const auto fill = [&](int channel, const std::vector<float>& from) {
            std::copy_n(from.begin() + at, count, audio.getWritePointer(channel));
        };
        fill(0, take.program.left);
        if (!take.mono)
            fill(1, take.program.right);
        if (take.preview.length() > 0) {
            fill(programChannels, take.preview.left);
            if (!take.mono)
                fill(programChannels + 1, take.preview.right);
        }
        midi.clear();
        for (auto cue = take.cues.lower_bound(at); cue != take.cues.lower_bound(at + count); ++cue)
            for (const auto& [note, meaning] : plugin::midiCues)
                if (meaning == cue->second)
                    midi.addEvent(juce::MidiMessage::noteOn(1, note, 1.0f),
                                  static_cast<int>(cue->first - at));
        for (const auto mark : take.marks)
            if (mark >= at && mark < at + count)
                midi.addEvent(juce::MidiMessage::noteOn(1, plugin::markNote, 1.0f),
                              static_cast<int>(mark - at));
        const auto block = [&] { processor.processBlock(audio, midi); };
        each ? each(block) : block();
        const auto keep = [&](std::vector<float>& to, int channel) {
            if (channel < outs)
                to.insert(to.end(), audio.getReadPointer(channel), audio.getReadPointer(channel) + count);
        };
        keep(played.left, 0);
        if (!take.mono)
            keep(played.right, 1);
        keep(played.pitch, programChannels);
        keep(played.depth, programChannels + 1);
        at += count;
    }
    played.latency = processor.getLatencySamples();
    processor.service().step();
    return played;
}

/// A set-up whose turns are short, so that tests are.
inline cut::CutSettings quickSide() {
    cut::CutSettings s;
    s.rpm = 78;
    s.preview_s = s.turn_s();
    return s;
}

inline void setUp(plugin::Processor& processor, const cut::CutSettings& settings,
                  const plugin::LiveSettings& live = {}) {
    processor.setState({settings, live, "127.0.0.1", processor.state().book});
}

} // namespace headland::test
