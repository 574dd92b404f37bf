// SPDX-License-Identifier: GPL-3.0-or-later
#include "Files/SoundLayout.h"

#include "Files/HeaderBytes.h"
#include "Files/ProgramRefusal.h"
#include "Files/SoundCoding.h"
#include "Text/Times.h"

#include <algorithm>
#include <array>
#include <optional>
#include <string_view>

namespace headland::files {

namespace {

using Kind = SoundLayout::Kind;

/// How the chunks of a kind of file are laid out.
struct Family {
    Kind kind;
    const char* name;
    std::string_view magic; // at the file's start
    std::string_view form;  // what stands at `formAt`; any of several, four letters each
    int formAt;
    int firstChunk_bytes; // where it is
    int idSize;           // bytes; the first four are letters
    int sizeSize;         // bytes
    bool isBigEndian;
    bool sizeCountsHeader;
    int alignment;           // chunks begin at multiples of it, from the file's start
    std::string_view coding; // the chunk that says how the sound is coded
    std::string_view sound;  // the chunk that holds it
    int beforeSound_bytes;   // what the sound's chunk holds before the sound
};

constexpr std::array<Family, 5> families{{
    {Kind::wav, "WAV", "RIFF", "WAVE", 8, 12, 4, 4, false, false, 2, "fmt ", "data", 0},
    {Kind::rf64, "RF64", "RF64", "WAVE", 8, 12, 4, 4, false, false, 2, "fmt ", "data", 0},
    {Kind::w64, "W64", "riff", "wave", 24, 40, 16, 8, false, true, 8, "fmt ", "data", 0},
    {Kind::aiff, "AIFF", "FORM", "AIFFAIFC", 8, 12, 4, 4, true, false, 2, "COMM", "SSND", 8},
    {Kind::caf, "CAF", "caff", "desc", 8, 8, 4, 8, true, false, 1, "desc", "data", 4},
}};

// A header of a well-kept file has a few dozen; libsndfile keeps some hundred bytes of each.
constexpr int chunksAllowed = 10000;
// Pictures and texts are smaller; libsndfile takes some kinds of chunk into memory whole.
constexpr std::int64_t otherChunkAllowed_bytes = std::int64_t{32} << 20;
// Lengths of 32 bits from here on are what programs write that do not know the length: 0xFFFFFFFF, 0x7FFFFFFF or nearly.
constexpr std::int64_t unknownLength_bytes = 0x7fff0000;
// More than any file can be.
constexpr std::int64_t endless_bytes = std::int64_t{1} << 62;

/// Sizes of 64 bits, such that they can be counted with.
std::int64_t asSize(std::uint64_t size_bytes) {
    return static_cast<std::int64_t>(std::min<std::uint64_t>(size_bytes, endless_bytes));
}

/// Where the container's size, and that of its sound, is a number of 32 bits.
bool hasShortSizes(const Family& family) {
    return family.kind == Kind::wav || family.kind == Kind::aiff;
}

struct Chunk {
    std::int64_t start_bytes = 0; // of its content
    std::int64_t size_bytes = 0;  // of its content; negative when it says that nobody knows
};

bool isLetters(std::string_view id) {
    return std::all_of(id.begin(), id.end(), [](char c) { return c >= ' ' && c <= '~'; });
}

/// Lossy kinds of file by their first bytes, so that their decoders need never see them.
const char* lossyName(const HeaderBytes& start) {
    // Eleven bits of one; but not MPEG's layer I, which nobody has, and whose beginning is that of UTF-16 text.
    const auto second = start.number(1, 1);
    const auto isMpegFrame = start.number(0, 1) == 0xff && (second & 0xe0) == 0xe0 && (second & 0x06) != 0x06;
    if (start.text(0, 4) == "OggS")
        return "an Ogg file (Vorbis, Opus or another coding)";
    if (start.text(0, 3) == "ID3" || isMpegFrame)
        return "an MPEG file (MP3, AAC)";
    if (start.text(4, 4) == "ftyp")
        return "an MPEG-4 file (AAC or another coding)";
    if (start.text(0, 4) == "\x30\x26\xB2\x75")
        return "an ASF file (WMA)";
    return nullptr;
}

constexpr auto readKinds = "WAV, RF64, W64, AIFF, CAF or FLAC";

[[noreturn]] void refuseLossy(const InputFile& file, const std::string& what) {
    refuseProgram(
        file.path(),
        "is " + what
            + ", and what was coded with losses is no master: take the recording it was made from, or, if "
              "there is none, convert it first (ffmpeg -i FILE -c:a pcm_s24le program.wav).");
}

[[noreturn]] void refuseUnknownLength(const InputFile& file) {
    refuseProgram(file.path(),
                  "does not say how long it is (it was written to a pipe, or never finished), so nobody can "
                  "tell whether it is whole: export it again to a file.");
}

/// One pass over the chunks of a file.
class Walk {
public:
    Walk(InputFile& openFile, const Family& itsFamily)
        : containerEnd_bytes(openFile.size_bytes()), file(openFile), family(itsFamily) {
        const HeaderBytes start(file, 0, family.isBigEndian);
        if (hasShortSizes(family))
            containerEnd_bytes = static_cast<std::int64_t>(start.number(4, 4)) + 8;
        else if (family.kind == Kind::w64)
            containerEnd_bytes = asSize(start.number(16, 8));
    }

    void run() {
        const auto header_bytes = family.idSize + family.sizeSize;
        auto place_bytes = static_cast<std::int64_t>(family.firstChunk_bytes);
        for (int count = 0; place_bytes + header_bytes <= file.size_bytes(); ++count) {
            if (count >= chunksAllowed)
                refuseDamagedHeader(file.path(), family.name,
                                    "it has more than " + std::to_string(chunksAllowed) + " chunks");
            if (sound && place_bytes >= containerEnd_bytes)
                return; // what follows is none of it
            const HeaderBytes header(file, place_bytes, family.isBigEndian);
            const auto id = header.text(0, 4);
            if (!isLetters(id)) {
                if (sound) // padding or another program's tags: nothing that could be sound for libsndfile either
                    return;
                refuseDamagedHeader(file.path(), family.name,
                                    "no chunk begins at byte " + std::to_string(place_bytes));
            }
            Chunk chunk{place_bytes + header_bytes,
                        static_cast<std::int64_t>(header.number(family.idSize, family.sizeSize))};
            if (family.sizeCountsHeader && chunk.size_bytes >= 0)
                chunk.size_bytes -= header_bytes;
            if (!take(id, chunk))
                return;
            place_bytes = chunk.start_bytes + chunk.size_bytes;
            place_bytes += (family.alignment - place_bytes % family.alignment) % family.alignment;
        }
    }

    std::optional<Chunk> coding, sound;
    std::int64_t containerEnd_bytes; // as the container's own header says; the file's, where it does not

private:
    /// False when there is no going on behind this chunk.
    bool take(std::string_view id, Chunk& chunk) {
        if (family.kind == Kind::rf64 && id == "ds64")
            takeSizes(chunk);
        if (id == family.sound)
            return takeSound(chunk);
        requireWhole(id, chunk);
        if (chunk.size_bytes > otherChunkAllowed_bytes)
            refuseProgram(file.path(), "holds a chunk \"" + std::string(id) + "\" of "
                                           + std::to_string(chunk.size_bytes >> 20)
                                           + " MB that is no sound: export it again without it.");
        if (id != family.coding)
            return true;
        if (coding)
            refuseContradiction(file.path(), "it says twice how its sound is coded");
        coding = chunk;
        return true;
    }

    void takeSizes(const Chunk& chunk) {
        const HeaderBytes bytes(file, chunk.start_bytes, false);
        containerEnd_bytes = asSize(bytes.number(0, 8)) + 8;
        rf64Sound_bytes = asSize(bytes.number(8, 8));
    }

    bool takeSound(Chunk& chunk) {
        if (sound)
            refuseProgram(file.path(), "holds two chunks of sound, at bytes "
                                           + std::to_string(sound->start_bytes) + " and "
                                           + std::to_string(chunk.start_bytes)
                                           + ", and nobody can tell which is the program: export it again.");
        if (family.kind == Kind::rf64)
            chunk.size_bytes = rf64Sound_bytes;
        sound = chunk;
        // Not whole: what is wrong with it is better said once the coding is known, which is in front of it.
        return chunk.size_bytes >= 0 && chunk.size_bytes <= file.size_bytes() - chunk.start_bytes;
    }

    void requireWhole(std::string_view id, const Chunk& chunk) {
        if (chunk.size_bytes < 0 || chunk.size_bytes > file.size_bytes() - chunk.start_bytes)
            refuseProgram(file.path(),
                          "is truncated or damaged: its chunk \"" + std::string(id) + "\" at byte "
                              + std::to_string(chunk.start_bytes) + " claims "
                              + std::to_string(static_cast<std::uint64_t>(chunk.size_bytes))
                              + " bytes, and the file ends before that: copy or export it again.");
    }

    InputFile& file;
    const Family& family;
    std::int64_t rf64Sound_bytes = -1;
};

void checkSoundIsWhole(const InputFile& file, const Family& family, const Chunk& sound,
                       const SoundCoding& coding) {
    const auto there_bytes = file.size_bytes() - sound.start_bytes;
    if (sound.size_bytes >= 0 && sound.size_bytes <= there_bytes)
        return;
    const auto unknown_bytes = hasShortSizes(family) ? unknownLength_bytes : endless_bytes;
    if (sound.size_bytes < 0 || (sound.size_bytes >= unknown_bytes && file.size_bytes() < unknown_bytes))
        refuseUnknownLength(file);
    const auto frames = [&](std::int64_t bytes) {
        return std::to_string(bytes / coding.frame_bytes) + " frames";
    };
    const auto length = [&](std::int64_t bytes) {
        return coding.sampleRate_hz > 0
                   ? text::seconds(static_cast<double>(bytes / coding.frame_bytes) / coding.sampleRate_hz)
                   : frames(bytes);
    };
    refuseProgram(file.path(), "is truncated: its header promises " + length(sound.size_bytes)
                                   + ", but the file ends at " + length(there_bytes)
                                   + ": copy or export it again.");
}

void checkContainerEnd(const InputFile& file, const Family& family, const Chunk& sound,
                       std::int64_t end_bytes) {
    // A size counted to the file's end instead of from behind itself is met with, and harms nobody.
    constexpr std::int64_t slack_bytes = 24;
    // A RIFF header counts modulo 4 GiB; a greater file under it would lose most of its sound unsaid.
    constexpr std::int64_t headerModulus_bytes = std::int64_t{1} << 32;
    if (file.size_bytes() - end_bytes >= headerModulus_bytes - slack_bytes)
        refuseProgram(file.path(), "is larger than its header can say (4 GiB), so that most of its sound "
                                   "would be lost: export it as RF64, "
                                   "W64 or FLAC.");
    if (end_bytes > file.size_bytes() + slack_bytes
        && !(hasShortSizes(family) && end_bytes >= unknownLength_bytes))
        refuseProgram(file.path(), "is truncated: its header promises " + std::to_string(end_bytes)
                                       + " bytes, and the file has " + std::to_string(file.size_bytes())
                                       + ": copy or export it again.");
    if (sound.start_bytes + sound.size_bytes > end_bytes + slack_bytes)
        refuseDamagedHeader(file.path(), family.name,
                            "it was to end at byte " + std::to_string(end_bytes) + ", before its sound does");
}

SoundLayout layoutOfChunks(InputFile& file, const Family& family, bool isAifc) {
    Walk walk(file, family);
    walk.run();
    if (!walk.coding)
        refuseDamagedHeader(file.path(), family.name, "nothing in front of the sound says how it is coded");
    const auto coding = family.kind == Kind::aiff
                            ? aiffCoding(file, walk.coding->start_bytes, walk.coding->size_bytes, isAifc)
                        : family.kind == Kind::caf
                            ? cafCoding(file, walk.coding->start_bytes, walk.coding->size_bytes)
                            : waveCoding(file, walk.coding->start_bytes, walk.coding->size_bytes);
    if (!walk.sound)
        refuseDamagedHeader(file.path(), family.name, "it has no chunk of sound");

    auto sound = *walk.sound;
    checkSoundIsWhole(file, family, sound, coding);
    const auto end_bytes = walk.containerEnd_bytes;
    checkContainerEnd(file, family, sound, end_bytes);
    const auto offset_bytes =
        family.kind == Kind::aiff
            ? static_cast<std::int64_t>(HeaderBytes(file, sound.start_bytes, true).number(0, 4))
            : 0;
    sound.start_bytes += family.beforeSound_bytes + offset_bytes;
    sound.size_bytes -= family.beforeSound_bytes + offset_bytes;
    if (sound.size_bytes < 0)
        refuseContradiction(file.path(), "its sound begins behind its end");

    const auto frames = sound.size_bytes / coding.frame_bytes;
    if (sound.size_bytes % coding.frame_bytes > 1) // 1: the padding byte, counted by mistake
        refuseContradiction(file.path(), "its sound is " + std::to_string(sound.size_bytes)
                                             + " bytes, and a frame takes "
                                             + std::to_string(coding.frame_bytes));
    if (coding.length_frames && *coding.length_frames != frames)
        refuseContradiction(file.path(), "it promises " + std::to_string(*coding.length_frames)
                                             + " frames and holds " + std::to_string(frames));
    return {family.kind,
            family.name,
            std::clamp<std::int64_t>(end_bytes, sound.start_bytes + sound.size_bytes, file.size_bytes()),
            sound.start_bytes,
            frames,
            coding.channels,
            coding.bits,
            coding.isFloat};
}

void requireSound(const InputFile& file, const SoundLayout& layout) {
    if (layout.length_frames > 0)
        return;
    constexpr std::int64_t plainHeader_bytes = 8192; // a header alone, even with a few tags, is smaller
    if (file.size_bytes() <= plainHeader_bytes)
        refuseProgram(file.path(), "holds no samples: export the program again.");
    refuseProgram(
        file.path(),
        "holds " + std::to_string(file.size_bytes())
            + " bytes, but its header speaks of no samples (it was never finished): export it again.");
}

} // namespace

SoundLayout layoutOf(InputFile& file) {
    if (file.size_bytes() == 0)
        refuseProgram(file.path(), "is empty (0 bytes): export the program again.");
    const HeaderBytes start(file, 0, false);
    if (const auto* lossy = lossyName(start))
        refuseLossy(file, lossy);
    if (start.text(0, 4) == "fLaC")
        return {Kind::flac, "FLAC", file.size_bytes(), 0, 0, 0, 0, false};
    for (const auto& family : families) {
        if (start.text(0, 4) != family.magic)
            continue;
        const auto form = start.text(family.formAt, 4);
        if (family.form.find(form) % 4 != 0) // npos too
            refuseDamagedHeader(file.path(), family.name, "it is no sound, or was cut off");
        const auto layout = layoutOfChunks(file, family, form == "AIFC");
        requireSound(file, layout);
        return layout;
    }
    refuseProgram(file.path(),
                  std::string("is no sound file that can be read: give a ") + readKinds + " file.");
}

} // namespace headland::files
