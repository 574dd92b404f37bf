// SPDX-License-Identifier: GPL-3.0-or-later
#include "Files/ProfileFile.h"

#include "Files/Errors.h"
#include "Files/InputFile.h"
#include "Files/Json.h"
#include "Files/OutputFile.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <sstream>
#include <vector>

namespace headland::files {

namespace {

using plan::Profile;
using plan::ProfileBin;

constexpr int stepsPerMicrometre = 10;
constexpr int stepsMost = 65535;
constexpr std::size_t binSize_bytes = 6;
constexpr const char* versionKey = "headland_profile";
/// Ours takes 250. The library reads items in items by recursion, so what it reads unseen is kept short.
constexpr std::size_t headSizeMax_bytes = 1024;

/// A figure of the head: what it may be, so that whatever is computed with it stays a number.
struct Term {
    const char* key;
    double plan::ProfileTerms::*figure;
    double least, greatest;
};
constexpr std::array terms{
    Term{"turn_s", &plan::ProfileTerms::turn_s, 0.1, 60},
    Term{"reference_velocity_cm_s", &plan::ProfileTerms::reference_velocity_cm_s, 0.01, 1000},
    Term{"alignment_dbfs", &plan::ProfileTerms::alignment_dbfs, -200, 200},
    Term{"disc_level_db", &plan::ProfileTerms::disc_level_db, -200, 200},
    Term{"highpass_hz", &plan::ProfileTerms::highpass_hz, 0, 1000},
};

float toMicrometres(int steps) {
    return static_cast<float>(static_cast<double>(steps) / stepsPerMicrometre);
}

/// The least number of steps that reads back as no less than the excursion.
int toSteps(float excursion_um) {
    if (!(excursion_um < toMicrometres(stepsMost)))
        return stepsMost;
    if (excursion_um <= 0)
        return 0;
    const auto above = static_cast<int>(std::ceil(static_cast<double>(excursion_um) * stepsPerMicrometre));
    return toMicrometres(above - 1) >= excursion_um ? above - 1 : above;
}

void append(std::vector<std::uint8_t>& bytes, float excursion_um) {
    const auto steps = toSteps(excursion_um);
    bytes.push_back(static_cast<std::uint8_t>(steps & 255));
    bytes.push_back(static_cast<std::uint8_t>(steps >> 8));
}

ProfileBin binAt(const std::uint8_t* bytes) {
    const auto excursion_um = [bytes](int i) { return toMicrometres(bytes[2 * i] | bytes[2 * i + 1] << 8); };
    return {excursion_um(0), excursion_um(1), excursion_um(2)};
}

Json headOf(const Profile& profile) {
    Json head{{versionKey, profileVersion}};
    for (const auto& term : terms)
        head[term.key] = profile.made.*term.figure;
    head["length_s"] = profile.length_s;
    head["bins_per_turn"] = Profile::binsPerTurn;
    head["steps_per_um"] = stepsPerMicrometre;
    return head;
}

/// Reads the bytes of one profile, or refuses them in a sentence.
class Reader {
public:
    Reader(std::string_view bytes, const std::string& path) : bytes(bytes), path(path) {}

    Profile read() {
        checkBeginning();
        const auto headSize_bytes = readHead();
        readBins(bytes.substr(headSize_bytes));
        return std::move(profile);
    }

private:
    [[noreturn]] void refuse(const std::string& whatAndRemedy) const {
        throw InputError("The profile \"" + path + "\" cannot be used: " + whatAndRemedy);
    }
    [[noreturn]] void refuseCutShort() const {
        refuse("it is cut short; copy it again, or rehearse the side again.");
    }
    [[noreturn]] void refuseDamaged(const std::string& what) const {
        refuse(what + "; copy it again, or rehearse the side again.");
    }

    /// Every profile begins with a map whose first name is the version's.
    void checkBeginning() const {
        const auto name = Json::to_cbor(Json(versionKey));
        const auto shown = bytes.substr(0, name.size() + 1);
        const auto isMap = !shown.empty() && (static_cast<std::uint8_t>(shown[0]) >> 5) == 5;
        const auto isName =
            isMap && std::equal(shown.begin() + 1, shown.end(), name.begin(), [](char a, std::uint8_t b) {
                return static_cast<std::uint8_t>(a) == b;
            });
        if (!isName)
            refuse("it is not a profile; name a file that \"headland cut --profile\" has written.");
        if (shown.size() <= name.size())
            refuseCutShort();
        if (static_cast<std::int64_t>(bytes.size()) > profileSizeMax_bytes)
            refuse("it is larger than that of any side (" + std::to_string(profileSizeMax_bytes >> 20)
                   + " MB); name another file.");
    }

    /// One item from the beginning of `text`; its size goes to `size_bytes`.
    Json itemOf(std::string text, std::size_t& size_bytes) const {
        std::istringstream stream(std::move(text));
        try {
            auto item = Json::from_cbor(stream, false);
            size_bytes = static_cast<std::size_t>(
                std::streamoff(stream.rdbuf()->pubseekoff(0, std::ios::cur, std::ios::in)));
            return item;
        } catch (const Json::exception&) {
            if (stream.eof())
                refuseCutShort();
            refuseDamaged("it is damaged");
        }
    }

    double figure(const Json& head, const std::string& key, double least, double greatest) const {
        const auto value = head.value(key, Json());
        if (!value.is_number())
            refuseDamaged("it does not say its " + key);
        const auto number = value.get<double>();
        if (!(number >= least && number <= greatest))
            refuseDamaged("no side has a " + key + " of " + value.dump());
        return number;
    }

    /// Returns how long the head is.
    std::size_t readHead() {
        std::size_t size_bytes = 0;
        const auto isWholeFile = bytes.size() <= headSizeMax_bytes;
        Json head;
        try {
            head = itemOf(std::string(bytes.substr(0, headSizeMax_bytes)), size_bytes);
        } catch (const InputError&) {
            if (isWholeFile)
                throw;
            refuseDamaged("it is damaged"); // as long as no head is, so it is not cut short there
        }
        const auto version = figure(head, versionKey, 1, 1e9);
        if (version > profileVersion)
            refuse("it is of version " + head[versionKey].dump() + ", and this headland reads up to "
                   + std::to_string(profileVersion) + "; use a newer headland.");
        for (const auto& term : terms)
            profile.made.*term.figure = figure(head, term.key, term.least, term.greatest);
        profile.length_s = figure(head, "length_s", 0, static_cast<double>(profileSizeMax_bytes));
        figure(head, "bins_per_turn", Profile::binsPerTurn, Profile::binsPerTurn);
        figure(head, "steps_per_um", stepsPerMicrometre, stepsPerMicrometre);
        return size_bytes;
    }

    void readBins(std::string_view rest) {
        // Of a string in pieces the library would read pieces in pieces, by recursion.
        if (rest.empty())
            refuseCutShort();
        const auto first = static_cast<std::uint8_t>(rest[0]);
        if (first >> 5 != 2 || (first & 31) > 27)
            refuseDamaged("it is damaged");
        std::size_t size_bytes = 0;
        const auto item = itemOf(std::string(rest), size_bytes);
        if (size_bytes != rest.size())
            refuseDamaged("something stands behind its end");
        const auto& data = item.get_binary();
        const auto count = data.size() / binSize_bytes;
        const auto needed = std::ceil(profile.length_s / profile.bin_s());
        if (data.size() % binSize_bytes != 0)
            refuseDamaged("its bins take " + std::to_string(data.size()) + " bytes, of which a bin has "
                          + std::to_string(binSize_bytes));
        // The last bin may be there or not where rounding decides.
        if (std::abs(static_cast<double>(count) - needed) > 1)
            refuseDamaged("it tells of " + std::to_string(count) + " bins where its length has "
                          + std::to_string(static_cast<std::int64_t>(needed)));
        profile.bins.reserve(count);
        for (std::size_t i = 0; i < count; ++i)
            profile.bins.push_back(binAt(data.data() + i * binSize_bytes));
    }

    std::string_view bytes;
    const std::string& path;
    Profile profile;
};

} // namespace

std::string profileBytes(const Profile& profile) {
    std::vector<std::uint8_t> excursions;
    excursions.reserve(profile.bins.size() * binSize_bytes);
    for (const auto& bin : profile.bins) {
        append(excursions, bin.outer_um);
        append(excursions, bin.inner_um);
        append(excursions, bin.upward_um);
    }
    std::string bytes;
    Json::to_cbor(headOf(profile), bytes);
    Json::to_cbor(Json::binary(std::move(excursions)), bytes);
    return bytes;
}

Profile profileFromBytes(std::string_view bytes, const std::string& path) {
    return Reader(bytes, path).read();
}

void writeProfile(const std::string& path, const Profile& profile, const KeptFiles& kept) {
    OutputFile file(path, kept);
    file.write(profileBytes(profile));
    file.commit();
}

Profile readProfile(const std::string& path) {
    InputFile file(path);
    std::string bytes(static_cast<std::size_t>(std::min(file.size_bytes(), profileSizeMax_bytes + 1)), '\0');
    const auto got_bytes = file.readAt(0, bytes.data(), static_cast<std::int64_t>(bytes.size()));
    if (const auto failure = file.failure(); !failure.empty())
        throw InputError("The profile \"" + path + "\" cannot be read (" + failure
                         + "); check the disk it is on, or rehearse the side again.");
    bytes.resize(static_cast<std::size_t>(got_bytes));
    return profileFromBytes(bytes, path);
}

} // namespace headland::files
