// SPDX-License-Identifier: GPL-3.0-or-later
// The standalone's settings file: what is kept comes back, and a file that is damaged, newer or hostile is never written over.
#include "Assembly/KeptChoices.h"
#include "Assembly/Station.h"
#include "Tests/Files/TestFolder.h"
#include "Text/Figures.h"

#include <catch2/catch.hpp>
#include <sys/stat.h>

using namespace headland;
using assembly::ChoicesFile;
using assembly::choicesFromText;
using assembly::KeptChoices;
using assembly::textOf;
using Catch::Contains;

namespace {

KeptChoices someChoices() {
    return {"{\"headland_state\": 1}",
            {"/music/side a.wav", "/music/caf\xc3\xa9 \"b\"\n.wav"},
            {{"program", "/music"}},
            {{"deviceType", "ALSA"}, {"audioDeviceRate", "44100.0"}},
            {{"id 1", "Keys"}}};
}

std::string whyNot(const std::string& text) {
    try {
        choicesFromText(text);
        return "read";
    } catch (const assembly::NoChoices& why) {
        return why.what();
    }
}

} // namespace

TEST_CASE("What is kept comes back as it was", "[kept]") {
    CHECK(choicesFromText(textOf(someChoices())) == someChoices());
    CHECK(choicesFromText(textOf({})) == KeptChoices());
    const test::TestFolder folder;
    const auto path = folder / "deeper/kept.settings"; // the folder is made
    ChoicesFile file(path);
    CHECK(file.troubles().empty());
    file.write(someChoices());
    CHECK(ChoicesFile(path).choices() == someChoices());
    CHECK(ChoicesFile(path).troubles().empty());
}

TEST_CASE("A text that holds no choices is refused for what it is", "[kept]") {
    const auto whole = textOf(someChoices());
    CHECK_THAT(whyNot(whole.substr(0, whole.size() / 2)), Contains("does not belong there"));
    CHECK_THAT(whyNot("<?xml version=\"1.0\"?><PROPERTIES/>"), Contains("byte 1) does not belong there"));
    CHECK_THAT(whyNot("{\"headland_settings\": 1, \"state\": \"a\", \"state\": \"b\"}"),
               Contains("'state' stands twice"));
    CHECK_THAT(whyNot(whole + "{}"), Contains("does not belong there"));
    CHECK_THAT(whyNot("[1]"), Contains("no settings of Headland's"));
    CHECK_THAT(whyNot("{\"headland_preset\": 1}"), Contains("no settings of Headland's"));
    CHECK_THAT(whyNot("{\"headland_settings\": 2}"), Contains("newer Headland"));
    CHECK_THAT(whyNot("{\"headland_settings\": 0}"), Contains("never was a version 0"));
    CHECK_THAT(whyNot("{\"headland_settings\": 1, \"state\": 3}"), Contains("state is no text"));
    CHECK_THAT(whyNot("{\"headland_settings\": 1, \"programs\": {}}"), Contains("programs is no list"));
    CHECK_THAT(whyNot("{\"headland_settings\": 1, \"device\": {\"a\": []}}"), Contains("device is no text"));
    CHECK_THAT(whyNot(std::string(200000, '[') + std::string(200000, ']')), Contains("16 deep"));
    std::string tags;
    for (int i = 0; i < 200000; ++i)
        tags += "{\"a\":";
    CHECK_THAT(whyNot(tags), Contains("16 deep"));
    CHECK_THAT(whyNot(std::string(5 << 20, ' ')), Contains("longer than settings are"));
}

TEST_CASE("A settings file that cannot be read is kept beside, said, and the book asked for", "[kept]") {
    juce::ScopedJuceInitialiser_GUI juceIsUp;
    for (const auto& [what, text] :
         {std::pair{"truncated", textOf(someChoices()).substr(0, 40)},
          std::pair{"newer", std::string("{\"headland_settings\": 7, \"state\": \"\"}")},
          std::pair{"nested", std::string(200000, '[')}, std::pair{"empty", std::string()},
          std::pair{"another's", std::string("<PROPERTIES></PROPERTIES>")}}) {
        INFO(what);
        const test::TestFolder folder;
        const auto path = folder / "kept.settings";
        test::put(path, text);
        test::put(path + ".bak", "an older one");
        {
            assembly::Station station(juce::File(path), false);
            const auto said = text::joined(station.access().look().troubles);
            CHECK_THAT(said, Contains("kept.settings") && Contains("kept as kept.settings.bak2")
                                 && Contains("choose on the page Book"));
            CHECK(test::contentOf(path + ".bak2") == text);
            CHECK(test::contentOf(path + ".bak") == "an older one");
            REQUIRE(station.access().logInto(folder / "lantern.headland").empty());
            CHECK(station.access().look().troubles.empty()); // answered
        }
        assembly::Station again(juce::File(path), false);
        CHECK(again.access().look().troubles.empty());
        CHECK(again.access().look().log.chosen.book == folder / "lantern.headland");
    }
}

TEST_CASE("What is no file, and what cannot be written, is said and left alone", "[kept]") {
    const test::TestFolder folder;
    const auto pipe = folder / "pipe.settings";
    REQUIRE(::mkfifo(pipe.c_str(), 0600) == 0);
    ChoicesFile ofPipe(pipe); // does not wait for a writer
    CHECK_THAT(text::joined(ofPipe.troubles()), Contains("are no file"));
    ofPipe.write(someChoices());
    CHECK(std::filesystem::is_fifo(pipe));
    for (const auto* content :
         {"RIFF and so on", "SQLite format 3", "{\"headland_preset\": 1}", "<svg></svg>"}) {
        const auto another = folder / "another's";
        test::put(another, content);
        ChoicesFile ofAnother(another);
        CHECK_THAT(text::joined(ofAnother.troubles()), Contains("hold something else"));
        ofAnother.write(someChoices());
        CHECK(test::contentOf(another) == content);
        CHECK(folder.count() == 2); // nothing was renamed
    }
    const auto inside = folder / "a file";
    test::put(inside, "x");
    ChoicesFile nowhere(inside + "/kept.settings");
    nowhere.write(someChoices());
    CHECK_THAT(text::joined(nowhere.troubles()), Contains("What you choose is not kept"));
    CHECK(test::contentOf(inside) == "x");
}

TEST_CASE("Where files were chosen last is there again the next time", "[kept]") {
    juce::ScopedJuceInitialiser_GUI juceIsUp;
    const test::TestFolder folder;
    const juce::File place(folder / "kept.settings");
    {
        assembly::Station station(place, false);
        station.access().folderOf("program") = "/music/tapes";
        station.keep();
    }
    assembly::Station again(place, false);
    CHECK(again.access().folderOf("program") == "/music/tapes");
    CHECK(again.access().folderOf("book").empty());
}
