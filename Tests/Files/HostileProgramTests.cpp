// SPDX-License-Identifier: GPL-3.0-or-later
// Program files that mean harm: each is refused in one sentence or read rightly, in at most 64 MB of memory, a megabyte of
// stack and a few seconds. Every file is opened in a process of its own, so that a crash and the memory are seen.

#include "Files/Errors.h"
#include "Files/ProgramFile.h"
#include "Tests/Files/Chunks.h"
#include "Tests/Files/TestFolder.h"

#include <catch2/catch.hpp>

#include <array>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

using namespace headland::test;
using Catch::Matchers::Contains;
using Catch::Matchers::EndsWith;
using Catch::Matchers::StartsWith;

namespace {

// The address sanitizer keeps what was freed, and takes its time.
#ifdef HEADLAND_SANITIZED
constexpr long allowed_kB = 1024 * 1024;
constexpr rlim_t time_s = 200;
#else
constexpr long allowed_kB = 64 * 1024;
constexpr rlim_t time_s = 20;
#endif

/// A line of this process's /proc/self/status, in kB.
long memory_kB(const std::string& line) {
    std::ifstream status("/proc/self/status");
    for (std::string word; status >> word;)
        if (word == line + ":") {
            long value = 0;
            status >> value;
            return value;
        }
    return -1;
}

/// Opens the program and reads up to a second of it.
std::string openAndRead(const std::string& path) {
    try {
        auto program = headland::files::ProgramFile::open(path);
        std::array<float, 4410> left{}, right{};
        for (int i = 0; i < 10; ++i)
            program.read(left.data(), right.data(), static_cast<int>(left.size()));
        return "read: " + std::to_string(program.length_frames()) + " frames";
    } catch (const headland::files::InputError& error) {
        return error.what();
    }
}

struct Outcome {
    int signal = 0;
    long grown_kB = -1; ///< most memory at one time, less what there was before
    std::string words;
};

Outcome outcomeOf(const std::string& path) {
    int channel[2];
    REQUIRE(::pipe(channel) == 0);
    const pid_t child = ::fork();
    if (child == 0) {
        constexpr rlim_t stack_bytes = 1 << 20;
        const rlimit stack{stack_bytes, stack_bytes}, time{time_s, time_s};
        ::setrlimit(RLIMIT_STACK, &stack);
        ::setrlimit(RLIMIT_CPU, &time);
        const auto before_kB = memory_kB("VmRSS");
        const auto words = openAndRead(path);
        const auto text = std::to_string(memory_kB("VmHWM") - before_kB) + " " + words;
        const auto sent = ::write(channel[1], text.data(), text.size());
        ::_exit(sent == static_cast<ssize_t>(text.size()) ? 0 : 1);
    }
    ::close(channel[1]);
    std::string text;
    std::array<char, 4096> some{};
    for (ssize_t got = 0; (got = ::read(channel[0], some.data(), some.size())) > 0;)
        text.append(some.data(), static_cast<size_t>(got));
    ::close(channel[0]);
    int status = 0;
    ::waitpid(child, &status, 0);
    Outcome outcome;
    outcome.signal = WIFSIGNALED(status) ? WTERMSIG(status) : 0;
    std::istringstream(text) >> outcome.grown_kB;
    if (const auto space = text.find(' '); space != std::string::npos)
        outcome.words = text.substr(space + 1);
    return outcome;
}

/// `words`: what the refusal says, or "read: N frames".
void requireOutcome(const std::string& path, const std::string& words) {
    const auto outcome = outcomeOf(path);
    INFO(path << ": " << outcome.words << " (" << outcome.grown_kB << " kB)");
    CHECK(outcome.signal == 0);
    CHECK(outcome.grown_kB >= 0);
    CHECK(outcome.grown_kB < allowed_kB);
    CHECK_THAT(outcome.words, Contains(words));
    if (words.find("read: ") == 0)
        return;
    CHECK_THAT(outcome.words, StartsWith("\"" + path + "\" "));
    CHECK_THAT(outcome.words, EndsWith("."));
    CHECK(outcome.words.find('\n') == std::string::npos);
}

const std::string sound(4000, '\1'); // 1000 frames of 16 bit stereo

} // namespace

TEST_CASE("What measures memory sees it") {
    const auto before_kB = memory_kB("VmHWM");
    {
        const std::string big(std::size_t{80} << 20, 'x');
        CHECK(big.back() == 'x');
    }
    CHECK(memory_kB("VmHWM") - before_kB > allowed_kB);
}

TEST_CASE("Chunks that claim more than the file has are refused, and take no memory") {
    const TestFolder folder;
    for (const std::string id : {"bext", "iXML", "cart", "LIST", "junk", "fmt "}) {
        put(folder / "huge.wav",
            wav(pcmFormat(2, 16) + id + little(0x7fffffff, 4) + std::string(100000, '\0')));
        requireOutcome(folder / "huge.wav", "is truncated or damaged: its chunk \"" + id + "\"");
        put(folder / "behind.wav", wav(pcmFormat(2, 16) + chunk("data", sound) + id + little(5000, 4)));
        requireOutcome(folder / "behind.wav", "is truncated or damaged: its chunk \"" + id + "\"");
    }
    put(folder / "huge.caf", caf("info" + big(std::uint64_t{1} << 40, 8)));
    requireOutcome(folder / "huge.caf", "is truncated or damaged: its chunk \"info\"");
    put(folder / "negative.caf", caf("info" + big(~std::uint64_t{0}, 8)));
    requireOutcome(folder / "negative.caf", "is truncated or damaged: its chunk \"info\"");
    put(folder / "huge.aiff", aiff("NAME" + big(0xfffffff0, 4)));
    requireOutcome(folder / "huge.aiff", "is truncated or damaged: its chunk \"NAME\"");
}

TEST_CASE("Great chunks that are there take no memory either") {
    const TestFolder folder;
    const auto withChunk = [&](const std::string& name, const std::string& before, std::uint64_t size_bytes,
                               const std::string& behind) {
        const auto path = folder / name;
        put(path, before);
        std::filesystem::resize_file(path, before.size() + size_bytes); // sparse: takes no room
        std::ofstream(path, std::ios::binary | std::ios::app) << behind;
        return path;
    };
    const auto data = chunk("data", sound);
    for (const std::string id : {"bext", "iXML", "cart", "LIST", "cue ", "smpl", "ID3 "}) {
        constexpr std::uint64_t allowed_bytes = 30 << 20, refused_bytes = std::uint64_t{2} << 30;
        const auto header = [&](std::uint64_t size_bytes) {
            const auto before = pcmFormat(2, 16) + id + little(size_bytes, 4);
            return "RIFF" + little(4 + before.size() + size_bytes + data.size(), 4) + "WAVE" + before;
        };
        INFO(id);
        const auto outcome = outcomeOf(withChunk("allowed.wav", header(allowed_bytes), allowed_bytes, data));
        INFO(outcome.words);
        CHECK(outcome.signal == 0);
        CHECK(outcome.grown_kB < allowed_kB);
        requireOutcome(withChunk("refused.wav", header(refused_bytes), refused_bytes, data),
                       "holds a chunk \"" + id + "\" of 2048 MB that is no sound");
    }
    const auto whole = caf("info" + big(30 << 20, 8));
    const auto at = whole.size() - 4 - 4000 - 12; // where the sound's chunk begins
    const auto outcome = outcomeOf(withChunk("info.caf", whole.substr(0, at), 30 << 20, whole.substr(at)));
    INFO(outcome.words);
    CHECK(outcome.signal == 0);
    CHECK(outcome.grown_kB < allowed_kB);
}

TEST_CASE("A million chunks are refused, ten thousand marks are nothing") {
    const TestFolder folder;
    std::string many;
    for (int i = 0; i < 1000000; ++i)
        many += std::string("junk\0\0\0\0", 8);
    put(folder / "many.wav", wav(pcmFormat(2, 16) + many + chunk("data", sound)));
    requireOutcome(folder / "many.wav", "it has more than 10000 chunks");
    put(folder / "cues.wav",
        wav(pcmFormat(2, 16) + chunk("cue ", little(0xffffffff, 4) + std::string(240000, '\1'))
            + chunk("data", sound)));
    requireOutcome(folder / "cues.wav", "read: 1000 frames");
}

TEST_CASE("Texts nested a hundred thousand deep harm no stack") {
    const TestFolder folder;
    std::string deep;
    for (int i = 0; i < 100000; ++i)
        deep += "<a>";
    for (const std::string id : {"iXML", "axml"}) {
        put(folder / "deep.wav", wav(pcmFormat(2, 16) + chunk(id, deep) + chunk("data", sound)));
        requireOutcome(folder / "deep.wav", "read: 1000 frames");
    }
    std::string lists; // a list in a list in a list …
    for (int i = 0; i < 20000; ++i)
        lists = std::string("LIST") + little(lists.size() + 4, 4) + "INFO" + lists.substr(0, 200000);
    put(folder / "lists.wav",
        wav(pcmFormat(2, 16) + chunk("data", sound) + lists.substr(0, lists.size() & ~1u)));
    CHECK(outcomeOf(folder / "lists.wav").signal == 0);
}

TEST_CASE("A second chunk of sound is refused, wherever it stands") {
    const TestFolder folder;
    const auto data = chunk("data", sound), small = chunk("data", "1234");
    put(folder / "behind.wav", wav(pcmFormat(2, 16) + data + small));
    requireOutcome(folder / "behind.wav", "holds two chunks of sound");
    put(folder / "between.wav", wav(pcmFormat(2, 16) + small + chunk("junk", "12") + data));
    requireOutcome(folder / "between.wav", "holds two chunks of sound");
    put(folder / "two.aiff", aiff(bigChunk("SSND", std::string(12, '\0'), 4)));
    requireOutcome(folder / "two.aiff", "holds two chunks of sound");
    put(folder / "two.caf", caf(bigChunk("data", std::string(8, '\0'), 8)));
    requireOutcome(folder / "two.caf", "holds two chunks of sound");
    // Behind the end of the container it is none of it.
    put(folder / "outside.wav", wav(pcmFormat(2, 16) + data) + small);
    requireOutcome(folder / "outside.wav", "read: 1000 frames");
}

TEST_CASE("A header that contradicts itself is refused with what it says") {
    const TestFolder folder;
    const auto path = folder / "odd.wav";
    const auto data = chunk("data", std::string(4800, '\0'));
    const auto refused = [&](const std::string& content, const std::string& words) {
        put(path, content);
        requireOutcome(path, words);
    };
    refused(wav(pcmFormat(2, 24, 8) + data),
            "24 bit samples on 2 channels take 6 bytes a frame, and it says 8");
    refused(wav(pcmFormat(1, 16, 4) + data),
            "16 bit samples on 1 channel take 2 bytes a frame, and it says 4");
    refused(wav(pcmFormat(0, 16, 4) + data), "it has no channels");
    refused(wav(pcmFormat(2, 16) + pcmFormat(1, 16) + data), "it says twice how its sound is coded");
    refused(wav(data + pcmFormat(2, 16)), "header is damaged");
    refused(wav(pcmFormat(2, 16) + chunk("data", std::string(4802, '\0'))),
            "its sound is 4802 bytes, and a frame takes 4");
    refused("RIFF" + little(1000, 4) + "WAVE" + pcmFormat(2, 16) + data, "it was to end at byte 1008");
    refused(wav(pcmFormat(240, 8) + data), "has 240 channels");
    refused(aiff("", 1000, 2000), "it promises 2000 frames and holds 1000");
    refused(aiff("", 1000, 500), "it promises 500 frames and holds 1000");
    // WAVE_FORMAT_EXTENSIBLE with more valid bits than the sample has.
    const std::string guid("\1\0\0\0\0\0\x10\0\x80\0\0\xAA\0\x38\x9B\x71", 16);
    refused(wav(chunk("fmt ", little(0xfffe, 2) + little(2, 2) + little(44100, 4) + little(176400, 4)
                                  + little(4, 2) + little(16, 2) + little(22, 2) + little(24, 2)
                                  + little(3, 4) + guid)
                + data),
            "24 valid bits in samples of 16");
}

TEST_CASE("An RF64 file of more than 4 GiB is opened without reading it through") {
    const TestFolder folder;
    const auto path = folder / "long.rf64";
    constexpr std::uint64_t frames = 1500000000, sound_bytes = frames * 4;
    const auto header = "RF64" + little(0xffffffff, 4) + "WAVE"
                        + chunk("ds64", little(sound_bytes + 80, 8) + little(sound_bytes, 8)
                                            + little(frames, 8) + little(0, 4))
                        + pcmFormat(2, 16) + "data" + little(0xffffffff, 4);
    put(path, header);
    std::filesystem::resize_file(path, header.size() + sound_bytes); // sparse: takes no room
    requireOutcome(path, "read: 1500000000 frames");
    std::filesystem::resize_file(path, header.size() + sound_bytes - 4);
    requireOutcome(path, "is truncated: its header promises 34013.605 s, but the file ends at 34013.605 s");
    std::filesystem::resize_file(path, header.size() + 1764000);
    requireOutcome(path, "is truncated: its header promises 34013.605 s, but the file ends at 10.000 s");
}

TEST_CASE("A FLAC file with a great many tags and pictures is read in bounded memory") {
    const TestFolder folder;
    const auto path = folder / "tags.flac";
    REQUIRE(std::system(("sox -r 44100 -n -c 2 -b 16 '" + path + "' synth 1000s sine 300").c_str()) == 0);
    const auto plain = contentOf(path);
    constexpr size_t firstBlock_bytes =
        4 + 4 + 34; // RFC 9639, 8.2: the mark, and the block of the stream's facts
    const auto block = [](int type, const std::string& content) {
        return big(static_cast<std::uint64_t>(type), 1) + big(content.size(), 3) + content;
    };
    constexpr std::uint64_t most_bytes = 0xfffff0;
    std::string comments = little(0, 4) + little(90000, 4);
    comments.resize(most_bytes, '\0');
    const std::string blocks[] = {
        block(4, comments),
        block(4, little(0, 4) + little(0xffffffff, 4) + std::string(most_bytes - 8, '\0')),
        block(3, std::string(most_bytes / 18 * 18, '\0')),
        block(6, std::string(most_bytes, '\0')),
        block(2, std::string(most_bytes, '\1')),
        block(1, std::string(most_bytes, '\0')),
        block(5, std::string(most_bytes, '\xff'))};
    for (const auto& more : blocks) {
        put(path, plain.substr(0, firstBlock_bytes) + more + more + plain.substr(firstBlock_bytes));
        const auto outcome = outcomeOf(path);
        INFO(static_cast<int>(more[0]) << ": " << outcome.words << " (" << outcome.grown_kB << " kB)");
        CHECK(outcome.signal == 0);
        CHECK(outcome.grown_kB < allowed_kB);
        CHECK_FALSE(outcome.words.empty());
    }
}

TEST_CASE("An Ogg file never reaches its decoder") {
    // Page checksums are right, and its floor makes libvorbis 1.3.7 divide by zero: no codec of it may see this file.
    const std::string path = HEADLAND_ROOT "/Tests/Fuzz/corpus/program/vorbis-fpe.ogg";
    requireOutcome(
        path, "is an Ogg file (Vorbis, Opus or another coding), and what was coded with losses is no master");
}
