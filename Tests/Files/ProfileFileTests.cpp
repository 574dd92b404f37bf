// SPDX-License-Identifier: GPL-3.0-or-later
// Profiles as files: what is read is what was written, nothing is told smaller than it was, and each file that will not do is
// refused in a sentence. Debian's libcbor, another reader of CBOR, must take what is written, by RFC 8949.

#include "Files/ProfileFile.h"

#include "Files/Errors.h"
#include "Files/Json.h"
#include "Tests/Files/Refusal.h"
#include "Tests/Files/TestFolder.h"
#include "Tests/Support/Random.h"

#include <catch2/catch.hpp>
#include <cbor.h>
#include <cmath>
#include <filesystem>
#include <limits>
#include <sys/stat.h>

using namespace headland;
using namespace headland::files;
using namespace headland::test;
using plan::Profile;
using plan::ProfileBin;

namespace {

/// A side of so many turns at 33 1/3, its excursions in steps of 0.1 µm.
Profile anyProfile(double turns) {
    Random random(14);
    Profile profile;
    profile.made = {1.8, 5.5, -18.25, -3.1, 12};
    profile.length_s = turns * 1.8;
    const auto step = [&random] { return static_cast<float>(std::floor(random.between(0, 2000)) / 10); };
    for (int i = 0; i < std::lround(turns * Profile::binsPerTurn); ++i)
        profile.bins.push_back({step(), step(), step()});
    return profile;
}

Profile withBins(std::vector<ProfileBin> bins) {
    Profile profile;
    profile.length_s = static_cast<double>(bins.size()) * profile.bin_s();
    profile.bins = std::move(bins);
    return profile;
}

ProfileBin throughBytes(const ProfileBin& bin) {
    return profileFromBytes(profileBytes(withBins({bin})), "there").bins.at(0);
}

/// A profile of one turn whose head was changed.
template <typename Change>
std::string bytesWithHead(Change change) {
    const auto bytes = profileBytes(anyProfile(1));
    auto head = Json::from_cbor(bytes, false);
    const auto headSize_bytes = Json::to_cbor(head).size();
    change(head);
    std::string changed;
    Json::to_cbor(head, changed);
    return changed + bytes.substr(headSize_bytes);
}

std::string refusalOf(const std::string& bytes) {
    return sentenceOf<InputError>([&] { profileFromBytes(bytes, "side.profile"); });
}

void requireRefused(const std::string& bytes, const std::string& trouble) {
    requireSentence(refusalOf(bytes), "side.profile", trouble);
}

/// An item of libcbor, given back at the end.
class OutsideItem {
public:
    explicit OutsideItem(std::string_view bytes) {
        cbor_load_result result{};
        item = cbor_load(reinterpret_cast<cbor_data>(bytes.data()), bytes.size(), &result);
        read_bytes = result.read;
    }
    ~OutsideItem() {
        if (item != nullptr)
            cbor_decref(&item);
    }
    OutsideItem(const OutsideItem&) = delete;
    OutsideItem& operator=(const OutsideItem&) = delete;

    cbor_item_t* item;
    std::size_t read_bytes;
};

} // namespace

TEST_CASE("A profile comes back as it was written", "[profile]") {
    const TestFolder folder;
    for (const auto turns : {0.0, 0.0025, 1.0, 20.5}) {
        const auto profile = anyProfile(turns);
        writeProfile(folder / "side.profile", profile, {});
        CHECK(readProfile(folder / "side.profile") == profile);
        CHECK(profileBytes(readProfile(folder / "side.profile")) == profileBytes(profile));
    }
    CHECK(folder.count() == 1);
}

TEST_CASE("No excursion is told smaller than it was, nor by more than a step greater", "[profile]") {
    Random random(15);
    for (int i = 0; i < 100000; ++i) {
        const auto excursion_um = static_cast<float>(std::pow(10.0, random.between(-4, 3.8)));
        const auto told_um = throughBytes({excursion_um, 0, 0}).outer_um;
        if (!(told_um >= excursion_um && told_um < excursion_um + 0.1F * 1.001F))
            FAIL(excursion_um << " was told as " << told_um);
        if (throughBytes({told_um, 0, 0}).outer_um != told_um)
            FAIL(told_um << " is told otherwise the second time");
    }
    constexpr auto most_um = 6553.5F;
    constexpr auto infinite = std::numeric_limits<float>::infinity();
    CHECK(throughBytes({0, -3, 0.04F}) == ProfileBin{0, 0, 0.1F});
    CHECK(throughBytes({6553.4F, 6553.45F, 1e9F}) == ProfileBin{6553.4F, most_um, most_um});
    CHECK(throughBytes({infinite, -infinite, std::nanf("")}) == ProfileBin{most_um, 0, most_um});
}

TEST_CASE("A profile of 20 minutes at 33 1/3 takes at most 3 MB", "[profile]") {
    CHECK(profileBytes(anyProfile(1200 / 1.8)).size() <= 3'000'000);
}

TEST_CASE("What a profile holds is read by another reader of CBOR", "[profile]") {
    auto profile = withBins({{0.1F, 25.7F, 6553.5F}, {0, 12.8F, 0.3F}});
    profile.made.turn_s = 1.5;
    profile.length_s = 2 * profile.bin_s();
    const auto bytes = profileBytes(profile);

    const OutsideItem head(bytes);
    REQUIRE(head.item != nullptr);
    REQUIRE(cbor_isa_map(head.item));
    REQUIRE(cbor_map_size(head.item) == 9);
    const auto* members = cbor_map_handle(head.item);
    const auto nameOf = [](cbor_item_t* item) {
        return std::string(reinterpret_cast<char*>(cbor_string_handle(item)), cbor_string_length(item));
    };
    CHECK(nameOf(members[0].key) == "headland_profile");
    CHECK(cbor_get_int(members[0].value) == profileVersion);
    CHECK(nameOf(members[1].key) == "turn_s");
    CHECK(cbor_float_get_float(members[1].value) == 1.5);

    const OutsideItem bins(std::string_view(bytes).substr(head.read_bytes));
    REQUIRE(bins.item != nullptr);
    REQUIRE(cbor_isa_bytestring(bins.item));
    REQUIRE(cbor_bytestring_length(bins.item) == 12);
    CHECK(head.read_bytes + bins.read_bytes == bytes.size());
    const std::string raw(reinterpret_cast<char*>(cbor_bytestring_handle(bins.item)), 12);
    CHECK(raw == std::string("\x01\0\x01\x01\xff\xff\0\0\x80\0\x03\0", 12));
}

TEST_CASE("A profile that another writer has made is read", "[profile]") {
    // By hand from RFC 8949, section 3 and appendix A: an indefinite map (bf … ff), texts (60 and length), the floating point
    // number 1.5 of 16 bits (f93e00), 100000.0 of 32 bits (fa47c35000), whole numbers for fractions, a byte string (44…).
    const auto text = [](const std::string& name) { return static_cast<char>(0x60 + name.size()) + name; };
    const std::string oneAndHalf("\xf9\x3e\x00", 3);
    const auto bytes = "\xbf" + text("headland_profile") + "\x01" + text("turn_s") + oneAndHalf + "\x77"
                       + "reference_velocity_cm_s\x05" + text("alignment_dbfs") + "\x31" // −18
                       + text("disc_level_db") + '\0' + text("highpass_hz") + "\x0c" + text("length_s")
                       + std::string("\xf9\x1b\xae", 3) // 0.00375, as near as 16 bits come
                       + text("bins_per_turn") + "\x19\x01\x90" + text("steps_per_um") + "\x0a" + "\xff"
                       + std::string("\x46\x0a\x00\x14\x00\x1e\x00", 7);
    const auto profile = profileFromBytes(bytes, "there");
    CHECK(profile.made == plan::ProfileTerms{1.5, 5, -18, 0, 12});
    CHECK(profile.bins == std::vector<ProfileBin>{{1, 2, 3}});
}

TEST_CASE("What is no profile is refused", "[profile]") {
    requireRefused("", "not a profile");
    requireRefused("RIFF", "not a profile");
    requireRefused(std::string(100, '\0'), "not a profile");
    requireRefused("\x81\x01", "not a profile");
    std::string preset;
    Json::to_cbor({{"headland_preset", 1}}, preset);
    requireRefused(preset, "not a profile");
}

TEST_CASE("A profile that is cut short anywhere is refused as that", "[profile]") {
    const auto bytes = profileBytes(anyProfile(1));
    for (std::size_t size_bytes = 1; size_bytes < bytes.size(); ++size_bytes)
        if (const auto sentence = refusalOf(bytes.substr(0, size_bytes));
            sentence.find("it is cut short; ") == std::string::npos)
            FAIL("at byte " << size_bytes << ": " << sentence);
    requireRefused(bytes.substr(0, 200), "cut short");
}

TEST_CASE("A profile of a newer version is refused, whatever else it holds", "[profile]") {
    requireRefused(bytesWithHead([](Json& head) {
                       head = {{"headland_profile", 2}, {"turns", "many"}};
                   }),
                   "version 2");
    requireRefused(bytesWithHead([](Json& head) { head["headland_profile"] = "two"; }),
                   "does not say its headland_profile");
    requireRefused(bytesWithHead([](Json& head) { head["headland_profile"] = 0; }), "headland_profile of 0");
}

TEST_CASE("Figures that no side has are refused by their names", "[profile]") {
    constexpr auto infinite = std::numeric_limits<double>::infinity();
    for (const auto* key : {"turn_s", "reference_velocity_cm_s", "alignment_dbfs", "disc_level_db",
                            "highpass_hz", "length_s"}) {
        for (const auto figure : {1e9, -1e9, infinite, -infinite, std::nan("")}) {
            INFO(key << " " << figure);
            requireRefused(bytesWithHead([&](Json& head) { head[key] = figure; }),
                           std::string("no side has a ") + key);
        }
        requireRefused(bytesWithHead([&](Json& head) { head.erase(key); }),
                       std::string("does not say its ") + key);
        requireRefused(bytesWithHead([&](Json& head) { head[key] = "1"; }),
                       std::string("does not say its ") + key);
    }
    requireRefused(bytesWithHead([](Json& head) { head["turn_s"] = 0.0; }), "turn_s of 0.0");
    requireRefused(bytesWithHead([](Json& head) { head["bins_per_turn"] = 200; }), "bins_per_turn of 200");
    requireRefused(bytesWithHead([](Json& head) { head["steps_per_um"] = 100; }), "steps_per_um of 100");
}

TEST_CASE("Another number of bins than the length has is refused", "[profile]") {
    auto profile = anyProfile(3);
    profile.bins.pop_back(); // whether the last bin is there, rounding may decide
    CHECK(refusalOf(profileBytes(profile)).empty());
    profile.bins.pop_back();
    requireRefused(profileBytes(profile), "1198 bins where its length has 1200");
    profile.bins.resize(1202);
    requireRefused(profileBytes(profile), "1202 bins");

    auto bytes = profileBytes(anyProfile(3));
    requireRefused(bytes + '\0', "behind its end");
    std::string head, bins;
    Json::to_cbor(Json::from_cbor(bytes, false), head);
    Json::to_cbor(Json::binary(std::vector<std::uint8_t>(7201)), bins);
    requireRefused(head + bins, "7201 bytes");
}

TEST_CASE("A profile is refused in bounded memory and depth, whatever it says", "[profile]") {
    const auto bytes = profileBytes(anyProfile(1));
    std::string head;
    Json::to_cbor(Json::from_cbor(bytes, false), head);
    requireRefused(head + std::string("\x5b\0\0\1\0\0\0\0\0", 9), "cut short");    // a terabyte
    requireRefused(head + std::string(1 << 20, '\x5f'), "damaged");                // strings in strings
    requireRefused(head + std::string(1 << 20, '\x81'), "damaged");                // arrays in arrays
    requireRefused(bytes.substr(0, 18) + std::string(1 << 20, '\x81'), "damaged"); // in the head
    requireRefused(bytes.substr(0, 18) + std::string(1 << 20, '\x5f'), "damaged");
    const auto begun =
        bytes.substr(0, 18) + std::string("\x79\x10\0", 3); // a text of 4096 bytes in a head of 1024 at most
    requireRefused(begun + std::string(1024 - begun.size(), 'x'), "cut short");
    requireRefused(begun + std::string(1025 - begun.size(), 'x'), "damaged");

    const TestFolder folder;
    put(folder / "side.profile", head);
    std::filesystem::resize_file(folder / "side.profile", static_cast<std::uintmax_t>(1) << 40); // a hole
    requireSentence(sentenceOf<InputError>([&] { readProfile(folder / "side.profile"); }),
                    folder / "side.profile", "larger than");
}

TEST_CASE("A profile that is not there, or no file, is refused", "[profile]") {
    const TestFolder folder;
    const auto refusal = [&](const std::string& path) {
        return sentenceOf<InputError>([&] { readProfile(path); });
    };
    requireSentence(refusal(folder / "none.profile"), folder / "none.profile", "There is no file");
    requireSentence(refusal(folder.path().string()), folder.path().string(), "is a folder: name a file");
    REQUIRE(::mkfifo((folder / "pipe").c_str(), 0600) == 0);
    requireSentence(refusal(folder / "pipe"), folder / "pipe", "pipe");
}

TEST_CASE("A profile takes the place of an older one, and of nothing that is kept", "[profile]") {
    const TestFolder folder;
    put(folder / "program.wav", "sound");
    KeptFiles kept;
    kept.add(folder / "program.wav", "the program");
    const auto problem =
        sentenceOf<OutputError>([&] { writeProfile(folder / "program.wav", anyProfile(1), kept); });
    requireSentence(problem, folder / "program.wav", "the program");
    CHECK(contentOf(folder / "program.wav") == "sound");

    writeProfile(folder / "side.profile", anyProfile(2), kept);
    writeProfile(folder / "side.profile", anyProfile(1), kept);
    CHECK(readProfile(folder / "side.profile") == anyProfile(1));
    CHECK(folder.count() == 2);
}
