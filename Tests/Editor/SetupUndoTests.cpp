// SPDX-License-Identifier: GPL-3.0-or-later
// Undo for the set-up, by itself: what a step is, what is said, what the host is told, and what a format brings with it.
#include "Editor/SetupUndo.h"

#include "Tests/Editor/DeskRig.h"
#include "Tests/Editor/HostEar.h"

#include <catch2/catch.hpp>

using namespace headland;
using Catch::Contains;
using editor::Units;

namespace {

class UndoAccess final : public editor::Access {
public:
    explicit UndoAccess(juce::AudioProcessor& p) : processor(p) {}
    editor::Glimpse glimpse;
    editor::Glimpse look() override { return glimpse; }
    std::vector<editor::Field> fields() override {
        const auto all = [this](int index) { return &test::kept(processor, index); };
        return {{all(5), "format", "Format", "", "", "", 0, 4, true, false, false},
                {all(6), "start_radius_mm", "Start radius", "mm", "", "", 60, 205, false, false, false},
                {all(0), "land_add_um", "Land add", "µm", "", "", 0, 100, false, false, true},
                {all(3), "land_min_um", "Land", "µm", "", "", 0, 200, false, false, false},
                {all(4), "osc_on", "OSC", "", "", "", 0, 1, true, false, false}};
    }
    editor::CutNews news(std::uint32_t, std::size_t) override { return {}; }
    bool foresee(plan::Foresight&) override { return false; }
    std::optional<cut::GroovePatch> grooveAtStylus(double) override { return std::nullopt; }
    std::optional<cut::GroovePatch> grooveKept(double, double) override { return std::nullopt; }
    void cue(cut::Cue) override {}
    std::vector<std::string> presetNames() override { return {}; }
    Refusal loadPreset(const std::string&) override { return {}; }
    Refusal savePreset(const std::string&) override { return {}; }
    Refusal logInto(const std::string&) override { return {}; }
    Refusal nameSide(const log::SideName&) override { return {}; }
    void mark() override {}
    Refusal note(const editor::NotePlace&, const std::string&) override { return {}; }
    std::string oscHost() override { return {}; }
    Refusal sendOscTo(const std::string&) override { return {}; }

private:
    juce::AudioProcessor& processor;
};

struct UndoRig {
    enum Which { landAdd = 0, land = 3, osc = 4, format = 5, radius = 6 };

    UndoRig() {
        processor.addParameter(new test::KeptParameter("format", "Format", 0, 4, 0));
        processor.addParameter(new test::KeptParameter("start_radius_mm", "Start radius", 60, 205, 146.3));
    }
    double value(Which which) const { return processor.value(which); }
    void set(Which which, double value) { test::kept(processor, which).set(value); }
    /// What the processor does when it sees another format.
    void follow() {
        if (value(format) != knownFormat)
            set(radius, value(format) == 0 ? 146.3 : 84.15);
        knownFormat = value(format);
    }

    juce::ScopedJuceInitialiser_GUI juceIsUp;
    test::QuietProcessor processor;
    UndoAccess access{processor};
    double knownFormat = 0;
};

} // namespace

TEST_CASE("A deed is undone and done again, in words") {
    UndoRig rig;
    editor::SetupUndo undo(rig.access);
    rig.set(UndoRig::land, 20);
    undo.note();
    CHECK(undo.undo(Units::metric) == "Undone: Land is 12 µm again.");
    CHECK(rig.value(UndoRig::land) == Approx(12));
    CHECK(undo.redo(Units::metric) == "Done again: Land is 20 µm.");
    CHECK(rig.value(UndoRig::land) == Approx(20));
    CHECK(undo.undo(Units::inch) == "Undone: Land is 0.47244 mil again.");
    rig.set(UndoRig::osc, 1);
    undo.note();
    CHECK(undo.undo(Units::metric) == "Undone: OSC is Off again.");
}

TEST_CASE("What is undone and done again is the value that was there, to the last bit") {
    UndoRig rig;
    editor::SetupUndo undo(rig.access);
    const auto third = 100.0 / 3, typed = 60.325;
    rig.set(UndoRig::land, third);
    rig.set(UndoRig::radius, 202.0 / 3);
    undo.note();
    rig.set(UndoRig::land, typed);
    rig.set(UndoRig::radius, 100);
    undo.note();
    undo.undo(Units::metric);
    CHECK(rig.value(UndoRig::land) == third);
    CHECK(rig.value(UndoRig::radius) == 202.0 / 3);
    undo.redo(Units::metric);
    CHECK(rig.value(UndoRig::land) == typed);
}

TEST_CASE("Where there is nothing to undo or to do again, that is said and nothing changes") {
    UndoRig rig;
    editor::SetupUndo undo(rig.access);
    CHECK_THAT(undo.undo(Units::metric), Contains("nothing to undo"));
    CHECK_THAT(undo.redo(Units::metric), Contains("nothing to do again"));
    undo.note(); // a deed that changed nothing
    CHECK_THAT(undo.undo(Units::metric), Contains("nothing to undo"));
    rig.set(UndoRig::land, 20);
    undo.note();
    undo.undo(Units::metric);
    rig.set(UndoRig::land, 30);
    undo.note();
    CHECK_THAT(undo.redo(Units::metric), Contains("nothing to do again"));
    CHECK(rig.value(UndoRig::land) == Approx(30));
    CHECK(undo.undo(Units::metric) == "Undone: Land is 12 µm again.");
}

TEST_CASE("A preset is one step, however many values it changes") {
    UndoRig rig;
    editor::SetupUndo undo(rig.access);
    rig.set(UndoRig::radius, 120);
    rig.set(UndoRig::land, 20);
    rig.set(UndoRig::osc, 1);
    undo.note();
    CHECK(undo.undo(Units::metric)
          == "Undone: Start radius is 146.3 mm again, and 2 other values go with it.");
    CHECK(rig.value(UndoRig::radius) == Approx(146.3));
    CHECK(rig.value(UndoRig::land) == Approx(12));
    CHECK(rig.value(UndoRig::osc) == 0);
    CHECK_THAT(undo.undo(Units::metric), Contains("nothing to undo"));
    undo.redo(Units::metric);
    CHECK(rig.value(UndoRig::radius) == Approx(120));
    CHECK(rig.value(UndoRig::osc) == 1);
}

TEST_CASE("What the host changed is part of the next deed, or a step of its own if undo comes first") {
    UndoRig rig;
    editor::SetupUndo undo(rig.access);
    rig.set(UndoRig::osc, 1); // the host
    rig.set(UndoRig::land, 20);
    undo.note();
    CHECK(undo.undo(Units::metric) == "Undone: Land is 12 µm again, and 1 other value goes with it.");
    CHECK(rig.value(UndoRig::osc) == 0);
    rig.set(UndoRig::land, 40); // the host, after the last step
    CHECK_THAT(undo.redo(Units::metric), Contains("nothing to do again"));
    CHECK(undo.undo(Units::metric) == "Undone: Land is 12 µm again.");
    CHECK(undo.redo(Units::metric) == "Done again: Land is 40 µm.");
}

TEST_CASE("What is ridden is no part of it") {
    UndoRig rig;
    editor::SetupUndo undo(rig.access);
    rig.set(UndoRig::landAdd, 20);
    undo.note();
    CHECK_THAT(undo.undo(Units::metric), Contains("nothing to undo"));
    rig.set(UndoRig::land, 20);
    undo.note();
    undo.undo(Units::metric);
    CHECK(rig.value(UndoRig::landAdd) == Approx(20));
}

TEST_CASE("With the stylus down or going down undo is refused, and can be done afterwards") {
    UndoRig rig;
    editor::SetupUndo undo(rig.access);
    rig.set(UndoRig::land, 20);
    undo.note();
    undo.undo(Units::metric);
    rig.access.glimpse.status.state = cut::State::program;
    CHECK_THAT(undo.undo(Units::metric), Contains("frozen while the stylus is down") && Contains("undo."));
    CHECK_THAT(undo.redo(Units::metric), Contains("frozen while the stylus is down") && Contains("redo."));
    CHECK(rig.value(UndoRig::land) == Approx(12));
    rig.access.glimpse.status.state = cut::State::up;
    rig.access.glimpse.status.lowering = true;
    CHECK_THAT(undo.redo(Units::metric), Contains("frozen"));
    CHECK(rig.value(UndoRig::land) == Approx(12));
    rig.access.glimpse.status.lowering = false;
    CHECK(undo.redo(Units::metric) == "Done again: Land is 20 µm.");
}

TEST_CASE("The host is told of every value that goes back, as a gesture, and of no other") {
    UndoRig rig;
    editor::SetupUndo undo(rig.access);
    rig.set(UndoRig::land, 20);
    undo.note();
    test::HostEar land(*rig.processor.getParameters()[UndoRig::land]);
    test::HostEar radius(*rig.processor.getParameters()[UndoRig::radius]);
    undo.undo(Units::metric);
    CHECK(land.values == 1);
    CHECK(land.begun == 1);
    CHECK(land.ended == 1);
    CHECK(radius.values + radius.begun + radius.ended == 0);
}

TEST_CASE("A hundred steps are kept, and the oldest is forgotten") {
    UndoRig rig;
    editor::SetupUndo undo(rig.access);
    for (int i = 1; i <= 103; ++i) {
        rig.set(UndoRig::land, 12 + i);
        undo.note();
    }
    int steps = 0;
    while (undo.undo(Units::metric).find("Undone") == 0)
        ++steps;
    CHECK(steps == 100);
    CHECK(rig.value(UndoRig::land) == Approx(15));
}

TEST_CASE("What a format brings with it a moment later belongs to the step, and goes back with it") {
    UndoRig rig;
    editor::SetupUndo undo(rig.access);
    rig.set(UndoRig::radius, 140); // not the format's own
    undo.note();
    rig.set(UndoRig::format, 3);
    undo.note();
    rig.follow();
    undo.settle();
    CHECK(rig.value(UndoRig::radius) == Approx(84.15));
    CHECK(undo.undo(Units::metric)
          == "Undone: Format is 30 cm, 33 1/3 rpm again, and 1 other value goes with it.");
    CHECK(rig.value(UndoRig::radius) == Approx(140));
    undo.settle();
    rig.follow(); // the processor sees the format go back, and brings the format's own radius
    CHECK(rig.value(UndoRig::radius) == Approx(146.3));
    undo.settle();
    CHECK(rig.value(UndoRig::radius) == Approx(140));
    CHECK(undo.undo(Units::metric) == "Undone: Start radius is 146.3 mm again.");
    undo.redo(Units::metric);
    undo.redo(Units::metric);
    rig.follow();
    undo.settle();
    CHECK(rig.value(UndoRig::format) == 3);
    CHECK(rig.value(UndoRig::radius) == Approx(84.15));
    CHECK_THAT(undo.redo(Units::metric), Contains("nothing to do again"));
}

TEST_CASE("A deed right after a format is a step of its own and is not put back") {
    UndoRig rig;
    editor::SetupUndo undo(rig.access);
    rig.set(UndoRig::format, 3);
    undo.note();
    undo.undo(Units::metric);
    rig.set(UndoRig::land, 20);
    undo.note();
    undo.settle();
    CHECK(rig.value(UndoRig::land) == Approx(20));
    rig.set(UndoRig::format, 3);
    undo.note();
    rig.follow();
    undo.settle();
    CHECK(rig.value(UndoRig::radius) == Approx(84.15)); // not that of the format put back before
    rig.set(UndoRig::land, 30);
    undo.note();
    undo.settle();
    CHECK(undo.undo(Units::metric) == "Undone: Land is 20 µm again.");
    for (int i = 0; i < 20; ++i) // long after, a change is the host's
        undo.settle();
    rig.set(UndoRig::radius, 100);
    undo.settle();
    CHECK(rig.value(UndoRig::radius) == Approx(100));
    CHECK(undo.undo(Units::metric) == "Undone: Start radius is 84.15 mm again.");
}

TEST_CASE(
    "What follows from a format that is put back is no step of its own, however soon undo comes again") {
    UndoRig rig;
    editor::SetupUndo undo(rig.access);
    rig.set(UndoRig::radius, 140);
    undo.note();
    rig.set(UndoRig::format, 3);
    undo.note();
    rig.follow();
    undo.undo(Units::metric);
    rig.follow(); // and no look in between
    CHECK(undo.undo(Units::metric) == "Undone: Start radius is 146.3 mm again.");
    CHECK(rig.value(UndoRig::format) == 0);
}

TEST_CASE("A step whose values the host has put back by itself is passed over") {
    UndoRig rig;
    editor::SetupUndo undo(rig.access);
    rig.set(UndoRig::land, 20);
    undo.note();
    rig.set(UndoRig::format, 3);
    undo.note();
    rig.set(UndoRig::format, 0);
    undo.settle();
    CHECK(undo.undo(Units::metric) == "Undone: Land is 12 µm again.");
}
