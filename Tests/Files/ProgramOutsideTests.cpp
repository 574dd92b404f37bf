// SPDX-License-Identifier: GPL-3.0-or-later
// The samples of a program file against those that ffmpeg and sox read from it. ffmpeg writes the files and reads them with
// demuxers and a FLAC decoder of its own; sox has its own for WAV, AIFF and FLAC (its CAF and W64 are libsndfile's again).

#include "Files/ProgramFile.h"
#include "Tests/Files/TestFolder.h"

#include <catch2/catch.hpp>

#include <array>
#include <cstdlib>
#include <cstring>
#include <vector>

using headland::files::ProgramFile;
using namespace headland::test;

namespace {

void run(const std::string& command) {
    INFO(command);
    REQUIRE(std::system(command.c_str()) == 0);
}

/// Interleaved, as Headland reads them.
std::vector<float> readByHeadland(ProgramFile& program) {
    std::vector<float> samples;
    std::array<float, 1000> left{}, right{};
    while (const int got_frames = program.read(left.data(), right.data(), static_cast<int>(left.size())))
        for (int i = 0; i < got_frames; ++i) {
            samples.push_back(left[static_cast<size_t>(i)]);
            samples.push_back(right[static_cast<size_t>(i)]);
        }
    return samples;
}

/// Interleaved 64 bit floating point, of which any sample of up to 32 bits is exact.
std::vector<double> decoded(const std::string& path) {
    const auto bytes = contentOf(path);
    std::vector<double> samples(bytes.size() / sizeof(double));
    std::memcpy(samples.data(), bytes.data(), samples.size() * sizeof(double));
    return samples;
}

int samplesThatDiffer(const std::vector<float>& ours, const std::vector<double>& theirs) {
    REQUIRE(ours.size() == theirs.size());
    int count = 0;
    for (size_t i = 0; i < ours.size(); ++i)
        count += ours[i] != static_cast<float>(theirs[i]);
    return count;
}

} // namespace

TEST_CASE("Programs hold the very samples that ffmpeg and sox read, in every kind of file and word length") {
    const TestFolder folder;
    const auto source = folder / "source.wav";
    run("sox -r 96000 -n -c 2 -e floating-point -b 64 '" + source + "' synth 0.3 whitenoise vol 0.9");
    struct Case {
        std::string file, codec, format;
        bool hasSoxItsOwn;
    };
    const std::vector<Case> cases{
        {"8.wav", "pcm_u8", "WAV, 8 bit", true},
        {"16.wav", "pcm_s16le", "WAV, 16 bit", true},
        {"24.wav", "pcm_s24le", "WAV, 24 bit", true},
        {"32.wav", "pcm_s32le", "WAV, 32 bit", true},
        {"float.wav", "pcm_f32le", "WAV, 32 bit float", false}, // sox keeps 32 bit integers
        {"double.wav", "pcm_f64le", "WAV, 64 bit float", false},
        {"16.rf64", "pcm_s16le -rf64 always -f wav", "RF64, 16 bit", false},
        {"24.rf64", "pcm_s24le -rf64 always -f wav", "RF64, 24 bit", false},
        {"16.w64", "pcm_s16le", "W64, 16 bit", false},
        {"24.w64", "pcm_s24le", "W64, 24 bit", false},
        {"32.w64", "pcm_s32le", "W64, 32 bit", false},
        {"8.aiff", "pcm_s8", "AIFF, 8 bit", true},
        {"16.aiff", "pcm_s16be", "AIFF, 16 bit", true},
        {"24.aiff", "pcm_s24be", "AIFF, 24 bit", true},
        {"32.aiff", "pcm_s32be", "AIFF, 32 bit", true},
        {"little.aiff", "pcm_s16le", "AIFF, 16 bit", true}, // AIFF-C, sowt
        {"float.aiff", "pcm_f32be", "AIFF, 32 bit float", false},
        {"double.aiff", "pcm_f64be", "AIFF, 64 bit float", false},
        {"16.caf", "pcm_s16le", "CAF, 16 bit", false},
        {"24.caf", "pcm_s24be", "CAF, 24 bit", false},
        {"32.caf", "pcm_s32le", "CAF, 32 bit", false},
        {"float.caf", "pcm_f32le", "CAF, 32 bit float", false},
        {"double.caf", "pcm_f64le", "CAF, 64 bit float", false},
        {"16.flac", "flac -sample_fmt s16", "FLAC, 16 bit", true},
        {"24.flac", "flac -sample_fmt s32", "FLAC, 24 bit", true}};
    for (const auto& one : cases) {
        INFO(one.file);
        const auto path = folder / one.file;
        run("ffmpeg -v error -i '" + source + "' -c:a " + one.codec + " '" + path + "'");
        auto program = ProgramFile::open(path);
        CHECK(program.format() == one.format);
        CHECK(program.sampleRate_hz() == 96000);
        CHECK(program.length_frames() == 28800);
        const auto ours = readByHeadland(program);

        run("ffmpeg -v error -y -i '" + path + "' -f f64le '" + (folder / "ffmpeg.raw") + "'");
        CHECK(samplesThatDiffer(ours, decoded(folder / "ffmpeg.raw")) == 0);
        if (!one.hasSoxItsOwn)
            continue;
        run("sox -D '" + path + "' -t raw -e floating-point -b 64 '" + (folder / "sox.raw") + "'");
        CHECK(samplesThatDiffer(ours, decoded(folder / "sox.raw")) == 0);
    }
}

TEST_CASE("Floating point that libsndfile would read as integers is refused, not cut as noise") {
    const TestFolder folder;
    run("sox -r 44100 -n -c 2 -b 16 '" + (folder / "source.wav") + "' synth 0.1 whitenoise");
    const auto path =
        folder / "float.w64"; // ffmpeg writes an extensible header, which libsndfile 1.2.0 mistakes
    run("ffmpeg -v error -i '" + (folder / "source.wav") + "' -c:a pcm_f32le '" + path + "'");
    CHECK_THROWS_WITH(ProgramFile::open(path),
                      Catch::Contains("can be read in two ways (as 32 bit float and as 32 bit)"));
}

TEST_CASE("A mono program of an odd number of bytes ends where ffmpeg ends it") {
    const TestFolder folder;
    const auto path =
        folder / "odd.wav"; // 8 bit, one channel: followed by a byte of padding that is no sample
    run("sox -r 44100 -n -c 1 -e unsigned-integer -b 8 '" + path + "' synth 1001s sine 300");
    auto program = ProgramFile::open(path);
    CHECK(program.length_frames() == 1001);
    run("ffmpeg -v error -i '" + path + "' -ac 1 -f f64le '" + (folder / "ffmpeg.raw") + "'");
    CHECK(decoded(folder / "ffmpeg.raw").size() == 1001);
    CHECK(readByHeadland(program).size() == 2 * 1001);
}
