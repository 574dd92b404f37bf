// SPDX-License-Identifier: GPL-3.0-or-later
// Program files: what is read is what was written, for every kind of file, word length and block size; what cannot be
// cut is refused with a sentence that names the file and the trouble.

#include "Files/ProgramFile.h"

#include "Files/Errors.h"
#include "Tests/Files/Refusal.h"
#include "Tests/Files/SoundFiles.h"
#include "Tests/Files/TestFolder.h"

#include <catch2/catch.hpp>
#include <FLAC/stream_decoder.h>
#include <juce_audio_formats/juce_audio_formats.h>

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <limits>
#include <memory>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>
#include <vector>

using headland::files::InputError;
using headland::files::ProgramFile;
using namespace headland::test;
using Catch::Matchers::Contains;
using Catch::Matchers::EndsWith;

namespace {

struct Stereo {
    std::vector<float> left;
    std::vector<float> right;
};

/// The rest of a program, read in blocks of this size.
Stereo readAll(ProgramFile& file, int block_frames) {
    Stereo all;
    std::vector<float> left(static_cast<size_t>(block_frames));
    std::vector<float> right(left);
    while (const int got_frames = file.read(left.data(), right.data(), block_frames)) {
        all.left.insert(all.left.end(), left.begin(), left.begin() + got_frames);
        all.right.insert(all.right.end(), right.begin(), right.begin() + got_frames);
    }
    return all;
}

/// The sentence a file is refused with; empty if it is not refused.
std::string refusalOf(const std::string& path) {
    return sentenceOf<InputError>([&] { ProgramFile::open(path); });
}

void requireRefusal(const std::string& path, const std::string& trouble) {
    requireSentence(refusalOf(path), path, trouble);
}

/// How many frames of a stereo program are not the test's sound.
int samplesUnlikeTheSound(const Stereo& read) {
    int wrong_frames = 0;
    for (size_t frame = 0; frame < read.left.size(); ++frame) {
        const auto place = static_cast<juce::int64>(frame);
        wrong_frames += read.left[frame] != soundAt(0, place) || read.right[frame] != soundAt(1, place);
    }
    return wrong_frames;
}

void run(const std::string& command) {
    INFO(command);
    REQUIRE(std::system(command.c_str()) == 0);
}

/// Cuts a file off at a share of its size.
void keepShare(const std::string& path, double share) {
    const auto size_bytes = static_cast<double>(std::filesystem::file_size(path));
    std::filesystem::resize_file(path, static_cast<std::uintmax_t>(size_bytes * share));
}

/// Where the first so many frames of a FLAC file end, as libFLAC says.
std::uintmax_t endOfFrame_bytes(const std::string& path, int frames) {
    using Decoder = std::unique_ptr<FLAC__StreamDecoder, decltype(&FLAC__stream_decoder_delete)>;
    const Decoder decoder(FLAC__stream_decoder_new(), &FLAC__stream_decoder_delete);
    const auto ignoreFrame = [](const FLAC__StreamDecoder*, const FLAC__Frame*, const FLAC__int32* const*,
                                void*) { return FLAC__STREAM_DECODER_WRITE_STATUS_CONTINUE; };
    const auto ignoreError = [](const FLAC__StreamDecoder*, FLAC__StreamDecoderErrorStatus, void*) {};
    REQUIRE(FLAC__stream_decoder_init_file(decoder.get(), path.c_str(), ignoreFrame, nullptr, ignoreError,
                                           nullptr)
            == FLAC__STREAM_DECODER_INIT_STATUS_OK);
    REQUIRE(FLAC__stream_decoder_process_until_end_of_metadata(decoder.get()));
    for (int i = 0; i < frames; ++i)
        REQUIRE(FLAC__stream_decoder_process_single(decoder.get()));
    FLAC__uint64 end_bytes = 0;
    REQUIRE(FLAC__stream_decoder_get_decode_position(decoder.get(), &end_bytes));
    return end_bytes;
}

constexpr int length_frames = 20011; // a prime, so that no block size divides it

} // namespace

TEST_CASE(
    "A program file gives the samples that were written, whatever the kind of file and the block size") {
    const TestFolder folder;
    const auto sound = testSound(2, length_frames);
    struct Case {
        std::string path;
        std::string format;
        int bits;
        bool isFloat;
    };
    writeSound<juce::WavAudioFormat>(folder / "16.wav", sound, 44100, 16);
    writeSound<juce::WavAudioFormat>(folder / "24.wav", sound, 44100, 24);
    writeSound<juce::WavAudioFormat>(folder / "32.wav", sound, 44100, 32);
    writeSound<juce::AiffAudioFormat>(folder / "16.aiff", sound, 44100, 16);
    writeSound<juce::AiffAudioFormat>(folder / "24.aiff", sound, 44100, 24);
    writeSound<juce::FlacAudioFormat>(folder / "16.flac", sound, 44100, 16);
    writeSound<juce::FlacAudioFormat>(folder / "24.flac", sound, 44100, 24);
    run("sox '" + (folder / "24.wav") + "' -b 32 -e signed-integer '" + (folder / "int32.wav") + "'");
    run("ffmpeg -v error -i '" + (folder / "24.wav") + "' -rf64 always '" + (folder / "rf64.wav") + "'");
    const std::vector<Case> files{
        {folder / "16.wav", "WAV, 16 bit", 16, false},      {folder / "24.wav", "WAV, 24 bit", 24, false},
        {folder / "32.wav", "WAV, 32 bit float", 32, true}, {folder / "16.aiff", "AIFF, 16 bit", 16, false},
        {folder / "24.aiff", "AIFF, 24 bit", 24, false},    {folder / "16.flac", "FLAC, 16 bit", 16, false},
        {folder / "24.flac", "FLAC, 24 bit", 24, false},    {folder / "int32.wav", "WAV, 32 bit", 32, false},
        {folder / "rf64.wav", "RF64, 16 bit", 16, false}};

    for (const auto& file : files) {
        for (const int block_frames : {1, 7, 4096, 65536}) {
            INFO(file.path << " in blocks of " << block_frames);
            auto program = ProgramFile::open(file.path);
            CHECK(program.format() == file.format);
            CHECK(program.bitsPerSample() == file.bits);
            CHECK(program.isFloat() == file.isFloat);
            CHECK(program.channels() == 2);
            CHECK(program.sampleRate_hz() == 44100.0);
            CHECK(program.length_frames() == length_frames);
            CHECK(program.length_s() == length_frames / 44100.0);

            const auto read = readAll(program, block_frames);
            REQUIRE(read.left.size() == static_cast<size_t>(length_frames));
            CHECK(program.position_frames() == length_frames);
            CHECK(samplesUnlikeTheSound(read) == 0);
        }
    }
}

TEST_CASE("A mono program goes to both walls") {
    const TestFolder folder;
    writeSound<juce::WavAudioFormat>(folder / "mono.wav", testSound(1, length_frames), 48000, 16);
    auto program = ProgramFile::open(folder / "mono.wav");
    CHECK(program.channels() == 1);
    const auto read = readAll(program, 999);
    REQUIRE(read.left.size() == static_cast<size_t>(length_frames));
    CHECK(read.left[12345] == soundAt(0, 12345));
    CHECK((read.left == read.right)); // bracketed: printing them all would take minutes
}

TEST_CASE("The kind of a program file is told by its content, not by its name") {
    const TestFolder folder;
    writeSound<juce::FlacAudioFormat>(folder / "side.wav", testSound(2, 5000), 96000, 24);
    CHECK(ProgramFile::open(folder / "side.wav").format() == "FLAC, 24 bit");
}

TEST_CASE("NaN and infinity in a floating-point program are handed on") {
    const TestFolder folder;
    auto sound = testSound(2, 3000);
    sound.setSample(0, 1000, std::numeric_limits<float>::quiet_NaN());
    sound.setSample(1, 2000, -std::numeric_limits<float>::infinity());
    writeSound<juce::WavAudioFormat>(folder / "bad.wav", sound, 44100, 32);
    auto program = ProgramFile::open(folder / "bad.wav");
    const auto read = readAll(program, 512);
    REQUIRE(read.left.size() == 3000u);
    CHECK(std::isnan(read.left[1000]));
    CHECK(read.right[2000] == -std::numeric_limits<float>::infinity());
    CHECK(read.left[1001] == soundAt(0, 1001));
}

TEST_CASE("Every sample rate from 44.1 to 192 kHz is read, and none beyond") {
    const TestFolder folder;
    const auto path = folder / "rate.wav";
    for (const int rate_hz : {44100, 47952, 48000, 88200, 96000, 176400, 192000}) {
        writeSound<juce::WavAudioFormat>(path, testSound(2, 100), rate_hz, 16);
        CHECK(ProgramFile::open(path).sampleRate_hz() == rate_hz);
    }
    for (const int rate_hz : {8000, 44099, 192001, 384000}) {
        writeSound<juce::WavAudioFormat>(path, testSound(2, 100), rate_hz, 16);
        requireRefusal(path, "has a sample rate of " + std::to_string(rate_hz) + " Hz");
    }
}

TEST_CASE("More than two channels are refused for now") {
    const TestFolder folder;
    writeSound<juce::WavAudioFormat>(folder / "four.wav", testSound(4, 100), 48000, 24);
    requireRefusal(folder / "four.wav", "has 4 channels");
    writeSound<juce::FlacAudioFormat>(folder / "six.flac", testSound(6, 5000), 48000, 24);
    requireRefusal(folder / "six.flac", "has 6 channels");
}

TEST_CASE("What is no file of sound is refused") {
    const TestFolder folder;
    requireRefusal(folder / "nowhere.wav", "There is no file");
    requireRefusal(folder / "nowhere" + "/side.wav", "There is no file");
    requireRefusal(folder.path().string(), "is a folder");
    put(folder / "empty.wav", "");
    requireRefusal(folder / "empty.wav", "is empty (0 bytes)");
    put(folder / "text.wav", "This is a letter, not a program.\n");
    requireRefusal(folder / "text.wav", "is no sound file");
    requireRefusal(folder / "text.wav/side.wav", "There is no file");
    put(folder / "three", "RIF");
    requireRefusal(folder / "three", "is no sound file");
    put(folder / "riff.wav", "RIFF");
    requireRefusal(folder / "riff.wav", "header is damaged or unfinished");
    put(folder / "form.aiff", "FORM and nothing else");
    requireRefusal(folder / "form.aiff", "header is damaged or unfinished");
    put(folder / "flac.flac", "fLaC and nothing else");
    requireRefusal(folder / "flac.flac", "FLAC");
    put(folder / "caff.caf", "caff");
    requireRefusal(folder / "caff.caf", "header is damaged or unfinished");
    REQUIRE(::mkfifo((folder / "pipe").c_str(), 0600) == 0);
    requireRefusal(folder / "pipe", "is a pipe or a device");
    requireRefusal("/dev/zero", "is a pipe or a device");
}

TEST_CASE("A file that may not be read is refused with the system's reason") {
    const TestFolder folder;
    const auto path = folder / "locked.wav";
    writeSound<juce::WavAudioFormat>(path, testSound(2, 100), 48000, 16);
    std::filesystem::permissions(path, std::filesystem::perms::none);
    std::filesystem::permissions(folder.path(),
                                 std::filesystem::perms::all); // the child below is another user

    int channel[2];
    REQUIRE(::pipe(channel) == 0);
    const pid_t child = ::fork(); // root may read everything, so a child asks as nobody
    if (child == 0) {
        constexpr uid_t nobody = 65534;
        const bool isUser = ::geteuid() != 0 || ::setuid(nobody) == 0;
        const auto text = isUser ? sentenceOf<InputError>([&] { ProgramFile::open(path); })
                                 : std::string("the child is still root");
        const auto sent = ::write(channel[1], text.data(), text.size());
        ::_exit(sent == static_cast<ssize_t>(text.size()) ? 0 : 1);
    }
    ::close(channel[1]);
    std::string text(4000, '\0');
    const auto got = ::read(channel[0], text.data(), text.size());
    ::close(channel[0]);
    int status = 0;
    ::waitpid(child, &status, 0);
    REQUIRE(got > 0);
    text.resize(static_cast<size_t>(got));
    CHECK_THAT(text, Contains(path) && Contains("cannot be opened (Permission denied)"));
}

TEST_CASE("A program without a sample is refused") {
    const TestFolder folder;
    writeSound<juce::WavAudioFormat>(folder / "none.wav", testSound(2, 0), 48000, 16);
    requireRefusal(folder / "none.wav", "holds no samples");
    writeSound<juce::AiffAudioFormat>(folder / "none.aiff", testSound(2, 0), 48000, 16);
    requireRefusal(folder / "none.aiff", "holds no samples");
    run("sox -r 48000 -n -c 2 '" + (folder / "none.flac") + "' trim 0 0");
    requireRefusal(folder / "none.flac", "holds no samples");
}

TEST_CASE("A truncated file is refused, whatever its kind and wherever it ends") {
    const TestFolder folder;
    const auto sound = testSound(2, length_frames);
    writeSound<juce::WavAudioFormat>(folder / "whole.wav", sound, 44100, 24);
    writeSound<juce::AiffAudioFormat>(folder / "whole.aiff", sound, 44100, 16);
    writeSound<juce::FlacAudioFormat>(folder / "whole.flac", sound, 44100, 16);
    run("ffmpeg -v error -i '" + (folder / "whole.wav") + "' -rf64 always '" + (folder / "whole.rf64")
        + ".wav'");
    for (const std::string kind : {"w64", "caf", "aifc"})
        run("sox '" + (folder / "whole.wav") + "' '" + (folder / "whole.") + kind + "'");
    const auto name = GENERATE("whole.wav", "whole.aiff", "whole.flac", "whole.rf64.wav", "whole.w64",
                               "whole.caf", "whole.aifc");
    const auto whole = contentOf(folder / name);
    REQUIRE(refusalOf(folder / name).empty());

    const auto path = folder / "part";
    for (const double share : {0.001, 0.01, 0.1, 0.5, 0.9, 0.999}) {
        INFO(name << " " << share);
        put(path, whole);
        keepShare(path, share);
        const auto text = sentenceOf<InputError>([&] { ProgramFile::open(path); });
        INFO(text);
        CHECK_THAT(text, Contains(path));
        if (share >= 0.1) // shorter, it may end inside the header and be no sound file at all
            CHECK_THAT(text, Contains("truncated") || Contains("damaged"));
    }
    put(path, whole.substr(0, whole.size() - 1));
    INFO(sentenceOf<InputError>([&] { ProgramFile::open(path); }));
    CHECK_THAT(sentenceOf<InputError>([&] { ProgramFile::open(path); }),
               Contains("truncated") || Contains("damaged"));
}

TEST_CASE("A FLAC file that ends between two frames is refused") {
    const TestFolder folder;
    const auto path = folder / "side.flac";
    writeSound<juce::FlacAudioFormat>(path, testSound(2, length_frames), 44100, 16);
    const auto endOfSecondFrame_bytes = endOfFrame_bytes(path, 2);
    REQUIRE(endOfSecondFrame_bytes < std::filesystem::file_size(path));
    std::filesystem::resize_file(path, endOfSecondFrame_bytes);
    requireRefusal(path, "is truncated: its header promises 0.454 s, but it ends at 0.");
}

TEST_CASE("A WAV file whose text chunks end in the middle is refused, and soon") {
    // There are parsers that go round for ever in a list of labels that the file's end cuts off.
    const TestFolder folder;
    juce::MemoryOutputStream file;
    file << "RIFF";
    file.writeInt(1000);
    file << "WAVELIST";
    file.writeInt(900);
    file << "adtllabl";
    put(folder / "labels.wav", {static_cast<const char*>(file.getData()), file.getDataSize()});
    requireRefusal(folder / "labels.wav", "is truncated or damaged: its chunk \"LIST\"");
}

TEST_CASE("A WAV file that does not say how long it is, is refused") {
    const TestFolder folder;
    writeSound<juce::WavAudioFormat>(folder / "source.wav", testSound(2, length_frames), 44100, 16);
    const auto source = folder / "source.wav";
    run("ffmpeg -v error -i '" + source + "' -f wav - > '" + (folder / "ffmpeg.wav") + "'");
    requireRefusal(folder / "ffmpeg.wav", "does not say how long it is");
    run("sox '" + source
        + "' -t raw - | sox -t raw -r 44100 -c 2 -b 16 -e signed-integer - -t wav - 2>/dev/null"
        + " | cat > '" + (folder / "sox.wav") + "'");
    requireRefusal(folder / "sox.wav", "does not say how long it is");
    run("ffmpeg -v error -i '" + source + "' -f flac - > '" + (folder / "ffmpeg.flac") + "'");
    requireRefusal(folder / "ffmpeg.flac", "does not say how long it is");

    // Lengths of zero, as a recorder leaves them that lost its power.
    auto unfinished = contentOf(source);
    unfinished.replace(4, 4, 4, '\0');
    put(folder / "riff0.wav", unfinished);
    requireRefusal(folder / "riff0.wav", "header is damaged or unfinished");
    unfinished = contentOf(source);
    const auto data = unfinished.find("data");
    REQUIRE(data != std::string::npos);
    unfinished.replace(data + 4, 4, 4, '\0');
    put(folder / "data0.wav", unfinished);
    requireRefusal(folder / "data0.wav", "speaks of no samples");
}

TEST_CASE("A WAV file beyond the 4 GiB its header can count is refused") {
    const TestFolder folder;
    const auto path = folder / "huge.wav";
    writeSound<juce::WavAudioFormat>(path, testSound(2, length_frames), 44100, 16);
    std::filesystem::resize_file(path, (std::uintmax_t{1} << 32) + 200000); // sparse: takes no room
    requireRefusal(path, "is larger than its header can say");
}

TEST_CASE("A FLAC file with a damaged place is refused") {
    const TestFolder folder;
    run("sox -r 44100 -n -c 2 -b 16 '" + (folder / "sound.flac") + "' synth 10 pinknoise");
    REQUIRE(refusalOf(folder / "sound.flac").empty());
    const auto whole = contentOf(folder / "sound.flac");

    auto damaged = whole;
    damaged[damaged.size() / 2] ^= 0x10; // one bit
    put(folder / "bit", damaged);
    requireRefusal(folder / "bit", "is damaged");

    damaged = whole;
    damaged.erase(damaged.size() / 2, 20000); // a piece is missing
    put(folder / "hole", damaged);
    requireRefusal(folder / "hole", "is damaged");
}

TEST_CASE("The damaged place in a FLAC file is named by its time") {
    const TestFolder folder;
    run("sox -r 44100 -n -c 2 -b 16 '" + (folder / "sound.flac") + "' synth 10 pinknoise");
    auto damaged = contentOf(folder / "sound.flac");
    damaged[damaged.size() / 2] ^= 0x10;
    put(folder / "sound.flac", damaged);
    const auto text = refusalOf(folder / "sound.flac");
    const auto at = text.find("is damaged at ");
    INFO(text);
    REQUIRE(at != std::string::npos);
    CHECK(std::stod(text.substr(at + 14)) == Approx(5.0).margin(0.5)); // noise: bytes go evenly with time
}

TEST_CASE("A FLAC file whose checksum over all its sound is another's is refused") {
    const TestFolder folder;
    const auto path = folder / "sound.flac";
    writeSound<juce::FlacAudioFormat>(path, testSound(2, length_frames), 44100, 16);
    auto other = contentOf(path);
    constexpr size_t md5_bytes = 4 + 4 + 18; // the mark, a block's header, the stream's facts (RFC 9639, 8.2)
    REQUIRE(other.substr(md5_bytes, 16) != std::string(16, '\0'));
    other[md5_bytes + 3] ^= 1;
    put(path, other);
    requireRefusal(path, "is damaged: the checksum over all its sound (MD5)");
}

TEST_CASE("A FLAC file that goes on as another stream is refused") {
    const TestFolder folder;
    run("sox -r 44100 -n -c 2 -b 16 '" + (folder / "two.flac") + "' synth 1 pinknoise");
    run("sox -r 44100 -n -c 1 -b 16 '" + (folder / "one.flac") + "' synth 1 pinknoise");
    const auto upTo = [&](const std::string& name, int frames) {
        return contentOf(folder / name).substr(0, endOfFrame_bytes(folder / name, frames));
    };
    const auto mono =
        upTo("one.flac", 2).substr(upTo("one.flac", 1).size()); // one whole frame, with its checksum
    put(folder / "both.flac",
        upTo("two.flac", 2) + mono + contentOf(folder / "two.flac").substr(upTo("two.flac", 3).size()));
    requireRefusal(folder / "both.flac", "is damaged at 0.");
}

TEST_CASE("Tags of other programs behind the end of a file do no harm") {
    const TestFolder folder;
    const std::string tags = "TAG" + std::string(125, ' ');
    writeSound<juce::FlacAudioFormat>(folder / "tagged.flac", testSound(2, length_frames), 44100, 16);
    writeSound<juce::WavAudioFormat>(folder / "tagged.wav", testSound(2, length_frames), 44100, 16);
    writeSound<juce::AiffAudioFormat>(folder / "tagged.aiff", testSound(2, length_frames), 44100, 16);
    for (const auto& path : {folder / "tagged.flac", folder / "tagged.wav", folder / "tagged.aiff"}) {
        INFO(path);
        put(path, contentOf(path) + tags);
        auto program = ProgramFile::open(path);
        const auto read = readAll(program, 4096);
        CHECK(read.left.size() == static_cast<size_t>(length_frames));
        CHECK(samplesUnlikeTheSound(read) == 0);
    }
}

TEST_CASE("What was coded with losses is refused with a way to convert it") {
    const TestFolder folder;
    run("sox -r 44100 -n -c 2 -b 16 '" + (folder / "source.wav") + "' synth 1 pinknoise");
    for (const std::string name :
         {"vorbis.ogg", "opus.ogg", "layer3.mp3", "layer2.mp2", "aac.m4a", "aac.aac"}) {
        INFO(name);
        run("ffmpeg -v error -i '" + (folder / "source.wav") + "' '" + (folder / name) + "'");
        requireRefusal(folder / name, "no master");
        requireRefusal(folder / name, "ffmpeg -i FILE -c:a pcm_s24le program.wav");
    }
    put(folder / "letter.txt", "\xff\xfe"
                               "D\0e\0a\0r\0"); // UTF-16 begins nearly like an MPEG frame
    requireRefusal(folder / "letter.txt", "is no sound file");
}

TEST_CASE("Codings that are not plain samples are refused, whatever they are in") {
    const TestFolder folder;
    const auto source = folder / "source.wav";
    run("sox -r 44100 -n -c 1 -b 16 '" + source + "' synth 1 pinknoise");
    struct Case {
        std::string file, options, coding;
    };
    const std::vector<Case> cases{{"ms.wav", "-c:a adpcm_ms", "Microsoft ADPCM"},
                                  {"ima.wav", "-c:a adpcm_ima_wav", "IMA ADPCM"},
                                  {"alaw.wav", "-c:a pcm_alaw", "A-law"},
                                  {"ulaw.wav", "-c:a pcm_mulaw", "µ-law"},
                                  {"mp3.wav", "-c:a libmp3lame", "MPEG"},
                                  {"ulaw.rf64.wav", "-c:a pcm_mulaw -rf64 always", "µ-law"},
                                  {"ulaw.w64", "-c:a pcm_mulaw", "µ-law"},
                                  {"ulaw.aiff", "-c:a pcm_mulaw", "ulaw"},
                                  {"ima.aiff", "-c:a adpcm_ima_qt", "ima4"},
                                  {"alaw.caf", "-c:a pcm_alaw", "alaw"},
                                  {"lossless.caf", "-c:a alac", "alac"}};
    for (const auto& one : cases) {
        INFO(one.file);
        run("ffmpeg -v error -i '" + source + "' " + one.options + " '" + (folder / one.file) + "'");
        requireRefusal(folder / one.file, "holds sound that is coded as ");
        requireRefusal(folder / one.file, one.coding);
    }
    run("sox '" + source + "' -e gsm-full-rate '" + (folder / "gsm.wav") + "'");
    requireRefusal(folder / "gsm.wav", "GSM 6.10");

    // Behind "fmt " and its size stand the kind of number (1 integer, 3 floating point) and, 14 bytes on, the word length.
    auto odd = contentOf(source);
    const auto kind = odd.find("fmt ") + 8;
    const auto bits = kind + 14;
    REQUIRE(odd.at(kind) == 1);
    REQUIRE(odd.at(bits) == 16);
    odd[bits] = 12;
    put(folder / "12.wav", odd);
    requireRefusal(folder / "12.wav", "12 bit integers");
    odd[bits] = 16;
    odd[kind] = 3;
    put(folder / "half.wav", odd);
    requireRefusal(folder / "half.wav", "16 bit floating point");
}

TEST_CASE("A file that becomes shorter while it is read is reported, not filled with silence") {
    const TestFolder folder;
    const auto path = folder / "shrinking.wav";
    writeSound<juce::WavAudioFormat>(path, testSound(2, length_frames), 44100, 16);
    auto program = ProgramFile::open(path);
    std::vector<float> left(10000);
    std::vector<float> right(10000);
    REQUIRE(program.read(left.data(), right.data(), 10000) == 10000);
    keepShare(path, 0.75);
    CHECK_THROWS_WITH(program.read(left.data(), right.data(), 10000),
                      Contains(path) && Contains("cannot be read further at 0.320 s")
                          && Contains("the file has become shorter"));
}
