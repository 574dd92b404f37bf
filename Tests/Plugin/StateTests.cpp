// SPDX-License-Identifier: GPL-3.0-or-later
// Parameters and state: every setting, text both ways, kept to the last bit, and nothing lost to a bad state.
#include "Plugin/Processor.h"
#include "Plugin/StateText.h"
#include "Tests/Support/Random.h"

#include <catch2/catch.hpp>

#include <set>

using namespace headland;
using plugin::Processor;
using plugin::SettingParameter;
using plugin::State;

namespace {

SettingParameter& parameter(Processor& processor, const char* key) {
    for (auto* p : processor.getParameters())
        if (auto* setting = dynamic_cast<SettingParameter*>(p); setting != nullptr && setting->paramID == key)
            return *setting;
    throw std::runtime_error(key);
}

template <typename Settings, typename Table>
bool same(const Settings& a, const Settings& b, const Table& table) {
    return std::all_of(table.begin(), table.end(), [&](const auto& setting) {
        return cut::getNumber(a, setting) == cut::getNumber(b, setting);
    });
}

bool same(const State& a, const State& b) {
    return same(a.cut, b.cut, cut::settingsTable()) && same(a.live, b.live, plugin::liveTable())
           && a.oscHost == b.oscHost && a.book == b.book;
}

/// Every setting somewhere else, none of them a round number.
State randomState(unsigned seed) {
    State state;
    test::Random random(seed);
    const auto scatter = [&](auto& settings, const auto& table) {
        for (const auto& setting : table) {
            const auto value = random.between(setting.least, setting.greatest);
            cut::setNumber(settings, setting, setting.isWhole() ? std::floor(value) : value);
        }
    };
    scatter(state.cut, cut::settingsTable());
    scatter(state.live, plugin::liveTable());
    for (const auto& setting : plugin::liveTable())
        if (plugin::isRidden(setting))
            cut::setNumber(state.live, setting, 0); // begins at zero with every session
    state.oscHost = "192.0.2.7";                    // TEST-NET-1, RFC 5737
    state.book = {"/books/lant\"ern\xc3\xa9.headland", {"Lantern \xe2\x80\x93 Sessions", "B\\2"}};
    return state;
}

juce::MemoryBlock blockOf(const std::string& text) {
    return {text.data(), text.size()};
}

void restore(Processor& processor, const std::string& text) {
    const auto block = blockOf(text);
    processor.setStateInformation(block.getData(), static_cast<int>(block.getSize()));
}

} // namespace

TEST_CASE("Every setting is a parameter under its key, with its default", "[state]") {
    Processor processor;
    const State defaults;
    std::set<juce::String> ids;
    for (auto* p : processor.getParameters()) {
        auto* withId = dynamic_cast<juce::AudioProcessorParameterWithID*>(p);
        REQUIRE(withId != nullptr);
        CHECK(ids.insert(withId->paramID).second);
    }
    CHECK(ids.size() == 1 + cut::settingsTable().size() + plugin::liveTable().size());
    CHECK(ids.count("cue") == 1);
    for (const auto& setting : cut::settingsTable()) {
        auto& p = parameter(processor, std::string(setting.key).c_str());
        CHECK(p.value() == cut::getNumber(defaults.cut, setting));
        CHECK_FALSE(p.isAutomatable());
    }
    for (const auto& setting : plugin::liveTable()) {
        auto& p = parameter(processor, std::string(setting.key).c_str());
        CHECK(p.value() == cut::getNumber(defaults.live, setting));
        CHECK(p.isAutomatable() == plugin::isRidden(setting));
    }
    CHECK(same(processor.state(), defaults));
}

TEST_CASE("A host types a value with its unit and reads it back", "[state]") {
    Processor processor;
    const auto typed = [&](const char* key, const char* text) {
        auto& p = parameter(processor, key);
        p.setValue(p.getValueForText(juce::String::fromUTF8(text)));
        return p.getText(p.getValue(), 0).toStdString();
    };
    CHECK(typed("pitch_min_um", "250 lpi") == "101.6 µm");
    CHECK(parameter(processor, "pitch_min_um").value() == 101.6);
    CHECK(typed("pitch_min_um", "102 µm") == "102 µm");
    CHECK(typed("start_radius_mm", "5.75 in") == "146.05 mm");
    CHECK(typed("preview_s", "900 ms") == "0.9 s");
    CHECK(typed("disc_level_db", "-3") == "-3 dB");
    CHECK(typed("sectors_per_turn", "400") == "400");
    CHECK(typed("format", "17cm-45") == "17cm-45");
    CHECK(typed("land_min_um", "250 lpi") == "12 µm"); // no pitch: stays as it is
    CHECK(typed("land_min_um", "much") == "12 µm");
    CHECK(typed("land_min_um", "9999") == "200 µm"); // a host's field has no more than the range
    CHECK(parameter(processor, "pitch_min_um").getText(0.5f, 4).length() <= 4);
}

TEST_CASE("A host that sends back what it was given changes nothing, to the last bit", "[state]") {
    Processor processor;
    const auto state = randomState(51);
    processor.setState(state);
    for (auto* p : processor.getParameters())
        p->setValue(p->getValue());
    CHECK(same(processor.state(), state));
}

TEST_CASE("A host that puts the default back, or a text that is shown, gets the very value", "[state]") {
    Processor processor;
    auto& rpm = parameter(processor, "rpm");
    const auto third = 100.0 / 3;
    CHECK(rpm.value() == third);
    rpm.setValue(rpm.getValueForText("45"));
    CHECK(rpm.value() == 45);
    rpm.setValue(rpm.getDefaultValue());
    CHECK(rpm.value() == third);
    rpm.setValue(rpm.getValueForText("45"));
    rpm.setValue(rpm.getValueForText("33.333 rpm")); // as the default is shown
    CHECK(rpm.value() == third);
    auto& end = parameter(processor, "end_radius_mm");
    end.setExactly(60.3251);
    end.setValue(end.getValueForText(end.getText(end.getValue(), 0)));
    CHECK(end.value() == 60.3251);
}

TEST_CASE("A value that is set exactly is told to the host as its float", "[state]") {
    Processor processor;
    auto& end = parameter(processor, "end_radius_mm");
    struct Ear : juce::AudioProcessorParameter::Listener {
        std::vector<float> values;
        void parameterValueChanged(int, float value) override { values.push_back(value); }
        void parameterGestureChanged(int, bool) override {}
    } ear;
    end.addListener(&ear);
    end.setExactlyNotifyingHost(60.325);
    end.removeListener(&ear);
    CHECK(ear.values == std::vector{end.getValue()});
    CHECK(end.value() == 60.325);
    end.setValue(ear.values.front()); // as a host sends it back
    CHECK(end.value() == 60.325);
    end.setValue(std::nextafter(ear.values.front(), 1.0f)); // which it never was given
    CHECK(end.value() != 60.325);
    CHECK(end.value() == Approx(60.325).margin(0.0051)); // to the hundredth, as a person writes it
}

TEST_CASE("Every value a host can set reads back as the text it shows", "[state]") {
    Processor processor;
    test::Random random(52);
    for (auto* p : processor.getParameters()) {
        auto* setting = dynamic_cast<SettingParameter*>(p);
        if (setting == nullptr)
            continue;
        for (int i = 0; i < 20; ++i) {
            setting->setValue(static_cast<float>(random.unit()));
            const auto value = setting->getValue();
            const auto again = setting->getValueForText(setting->getText(value, 0));
            INFO(setting->paramID << " " << setting->getText(value, 0));
            CHECK(again == Approx(value).margin(6e-5)); // five digits are shown
        }
    }
}

TEST_CASE("The format's parameter brings speed, radii and preview", "[state]") {
    Processor processor;
    auto& format = parameter(processor, "format");
    CHECK(format.isMetaParameter());
    format.setValue(format.getValueForText("30cm-45"));
    processor.prepareToPlay(48000, 512);
    const auto cut = processor.state().cut;
    CHECK(cut.rpm == 45);
    CHECK(cut.preview_s == Approx(60.0 / 45));
}

TEST_CASE("A state is kept to the last bit", "[state]") {
    for (const auto seed : {53u, 54u, 55u}) {
        const auto state = randomState(seed);
        Processor processor;
        processor.setState(state);
        juce::MemoryBlock kept;
        processor.getStateInformation(kept);
        Processor other;
        other.setStateInformation(kept.getData(), static_cast<int>(kept.getSize()));
        CHECK(other.stateProblem().empty());
        CHECK(same(other.state(), state));
        CHECK_FALSE(same(other.state(), State{}));
    }
}

TEST_CASE("A state that is damaged, foreign or newer changes nothing and is said", "[state]") {
    const auto good = plugin::stateText(randomState(56));
    const auto deep = std::string(200000, '[');
    std::vector<std::string> bad{"",
                                 "{",
                                 "[]",
                                 "null",
                                 "{}",
                                 "PK\x03\x04",
                                 R"({"headland_state": "1"})",
                                 R"({"headland_state": 1})",
                                 R"({"headland_state": 0, "settings": {}})",
                                 R"({"headland_state": 1, "settings": {"rpm": "fast"}})",
                                 R"({"headland_state": 1, "settings": {"rpm": "5000"}})",
                                 R"({"headland_state": 1, "settings": {"rpm": "nan"}})",
                                 R"({"headland_state": 1, "settings": {"sectors_per_turn": "256.5"}})",
                                 R"({"headland_state": 1, "settings": {"rpm": "45", "land_min_um": "much"}})",
                                 R"({"headland_state": 1, "settings": {"osc_port": {}}})",
                                 R"({"headland_state": 2, "settings": {"rpm": 5000}})",
                                 R"({"headland_state": 2, "settings": {"rpm": 1e999}})",
                                 R"({"headland_state": 2, "settings": {"rpm": null}})",
                                 R"({"headland_state": 2, "settings": {"rpm": 45, "rpm": 78}})",
                                 R"({"headland_state": 2, "settings": {"rpm": 045}})",
                                 R"({"headland_state": 2, "settings": {"rpm": 45}}})",
                                 R"({"headland_state": 2.5, "settings": {}})",
                                 deep,
                                 R"({"headland_state": 2, "settings": {"rpm": )" + deep,
                                 R"({"headland_state": 2, "settings": {}})" + std::string(1 << 20, ' ')};
    const auto before = randomState(60);
    for (std::size_t length = 1; length + 2 < good.size(); length += 37)
        bad.push_back(good.substr(0, length));
    for (const auto& text : bad) {
        Processor processor;
        processor.setState(before);
        restore(processor, text);
        INFO(text.substr(0, 200));
        CHECK_FALSE(processor.stateProblem().empty());
        CHECK(processor.stateProblem().find("stays as it was") != std::string::npos);
        CHECK(same(processor.state(), before));
    }
    Processor processor;
    restore(processor, R"({"headland_state": 3, "settings": {"rpm": 45}})");
    CHECK(processor.stateProblem().find("version 3") != std::string::npos);
    CHECK(same(processor.state(), State{}));
    restore(processor, good);
    CHECK(processor.stateProblem().empty());
}

TEST_CASE("A state of random bytes never does harm", "[state]") {
    test::Random random(57);
    const auto good = plugin::stateText(randomState(58));
    for (int round = 0; round < 300; ++round) {
        auto text = good;
        for (int i = 0; i < 3; ++i)
            text[static_cast<std::size_t>(random.unit() * static_cast<double>(text.size()))] =
                static_cast<char>(random.unit() * 256);
        Processor processor;
        restore(processor, text);
        for (const auto& setting : cut::settingsTable()) {
            const auto value = cut::getNumber(processor.state().cut, setting);
            REQUIRE((value >= setting.least && value <= setting.greatest));
        }
    }
}

TEST_CASE("A state of version 1, with its numbers as text, is read to the last bit", "[state]") {
    Processor processor;
    restore(processor,
            R"({"headland_state": 1, "settings": {"rpm": "33.333333333333336", "end_radius_mm": "60.325",)"
            R"( "format": "3", "control_pitch_zero": "-1e-05"}, "osc_host": "192.0.2.7"})");
    CHECK(processor.stateProblem().empty());
    State expected;
    expected.cut.rpm = 100.0 / 3;
    expected.cut.end_radius_mm = 60.325;
    expected.cut.format = 3;
    expected.live.control_pitch_zero = -1e-05;
    expected.oscHost = "192.0.2.7";
    CHECK(same(processor.state(), expected));
}

TEST_CASE("A state is JSON whatever its names hold", "[state]") {
    State state;
    state.book = {"/books/\x1b[2J\n\xe2\x80\xae.headland", {"a\a\"b", "\xff"}};
    const auto text = plugin::stateText(state);
    CHECK(std::none_of(text.begin(), text.end(),
                       [](char c) { return c != '\n' && static_cast<unsigned char>(c) < 0x20; }));
    State read;
    std::string problem;
    REQUIRE(plugin::readState(text, read, problem));
    CHECK(read.book.path == state.book.path); // a path is kept to the byte
    CHECK(read.book.side.job == state.book.side.job);
    CHECK(read.book.side.side == "\xef\xbf\xbd");
}

TEST_CASE("An older state, with settings missing, has their defaults", "[state]") {
    Processor processor;
    processor.setState(randomState(59));
    restore(processor, R"({"headland_state": 1, "settings": {"rpm": "45"}})");
    State expected;
    expected.cut.rpm = 45;
    CHECK(same(processor.state(), expected));
}

TEST_CASE("A state without book, job and side has the defaults of all three, one with them has those",
          "[state]") {
    State state = randomState(70);
    std::string problem;
    REQUIRE(plugin::readState(R"({"headland_state": 1, "settings": {}})", state, problem));
    CHECK(state.book == plugin::BookChoice());
    CHECK(state.book.path.empty());
    CHECK(state.book.side == log::SideName{"Unnamed", "A"});
    REQUIRE(plugin::readState(
        R"({"headland_state": 1, "settings": {}, "book": "/b.headland", "job": "Lantern Sessions", "side": 3})",
        state, problem));
    CHECK(state.book
          == plugin::BookChoice{"/b.headland", {"Lantern Sessions", "A"}}); // a number is no side's name
}

TEST_CASE("The programs are the presets, put over the present set-up", "[state]") {
    Processor processor;
    std::set<juce::String> names;
    for (int i = 0; i < processor.getNumPrograms(); ++i)
        names.insert(processor.getProgramName(i));
    for (const auto* name :
         {"As it is", "30cm-33", "17cm-45", "lathe-nimble", "lathe-ordinary", "lathe-sluggish"})
        CHECK(names.count(name) == 1);
    auto state = processor.state();
    state.cut.land_min_um = 17;
    processor.setState(state);
    for (int i = 0; i < processor.getNumPrograms(); ++i)
        if (processor.getProgramName(i) == "17cm-45") {
            processor.setCurrentProgram(i);
            CHECK(processor.getCurrentProgram() == i);
        }
    CHECK(processor.state().cut.rpm == 45);
    CHECK(processor.state().cut.land_min_um == 17);
    processor.setCurrentProgram(-1);
    processor.setCurrentProgram(1000);
    CHECK(processor.state().cut.rpm == 45);
    const auto problems = processor.loadPreset("/nowhere/none.json");
    REQUIRE_FALSE(problems.empty());
    CHECK(problems.front().find("/nowhere/none.json") != std::string::npos);
    CHECK(processor.stateProblem() == problems.front());
}

TEST_CASE("What is ridden begins at zero with a session that is restored, and that is said", "[state]") {
    Processor first;
    auto ridden = first.state();
    ridden.live.land_add_um = 7.5;
    ridden.live.level_trim_db = -10.5;
    ridden.cut.land_min_um = 20;
    first.setState(ridden);
    juce::MemoryBlock kept;
    first.getStateInformation(kept);
    Processor second;
    second.setStateInformation(kept.getData(), static_cast<int>(kept.getSize()));
    CHECK(second.state().live.land_add_um == 0);
    CHECK(second.state().live.level_trim_db == 0);
    CHECK(second.state().cut.land_min_um == 20);
    CHECK(second.ridesEnded()
          == "What is ridden begins at zero, because what was saved is loaded: Land add was 7.5 µm, Level "
             "trim was "
             "-10.5 dB.");
    Processor third;
    restore(third, plugin::stateText({}));
    CHECK(third.ridesEnded().empty()); // nothing was ridden
}
