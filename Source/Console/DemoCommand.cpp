// SPDX-License-Identifier: GPL-3.0-or-later

#include "Console/DemoCommand.h"

#include "Console/ExitCode.h"
#include "Demo/DemoProgram.h"
#include "Files/Errors.h"
#include "Files/OutputFile.h"
#include "Files/OutputFileStream.h"
#include "Files/Text.h"

#include <juce_audio_formats/juce_audio_formats.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <memory>

namespace headland::console {

namespace {

constexpr double sampleRate_hz = 44100;
constexpr int bits = 24;
constexpr int block_samples = 8192;

std::unique_ptr<juce::AudioFormatWriter> wavWriter(files::OutputFile& file) {
    juce::StringPairArray information;
    information.set(juce::WavAudioFormat::riffInfoTitle, demo::title);
    auto stream = std::make_unique<files::OutputFileStream>(file);
    std::unique_ptr<juce::AudioFormatWriter> writer(
        juce::WavAudioFormat().createWriterFor(stream.get(), sampleRate_hz, 2, bits, information, 0));
    if (writer == nullptr)
        throw files::OutputError(
            "The demo program cannot be written to \"" + file.path()
            + "\": the WAV writer refuses it; this is a fault of the tool, please report it.");
    stream.release(); // the writer has it now
    return writer;
}

/// False if `progress` stopped it. A block the disk did not take ends it too: the file's commit() says why.
bool writeProgram(juce::AudioFormatWriter& writer, const DemoProgress& progress) {
    demo::DemoProgram program(sampleRate_hz);
    std::array<float, block_samples> left{}, right{};
    const std::array<const float*, 2> channels{left.data(), right.data()};
    for (std::int64_t done = 0; done < program.length();) {
        if (progress && !progress(static_cast<double>(done) / static_cast<double>(program.length())))
            return false;
        const auto count = static_cast<int>(std::min<std::int64_t>(block_samples, program.length() - done));
        program.render(left.data(), right.data(), count);
        if (!writer.writeFromFloatArrays(channels.data(), 2, count))
            return true;
        done += count;
    }
    return !progress || progress(1.0);
}

} // namespace

int writeDemo(const std::string& path, bool replaces, const DemoProgress& progress) {
    std::error_code error;
    if (!replaces && std::filesystem::is_regular_file(path, error))
        throw files::InputError(
            files::printable(path)
            + " is there already and is left as it is; name another file, or replace it with "
              "--force.");
    files::OutputFile file(path, {});
    auto writer = wavWriter(file);
    if (!writeProgram(*writer, progress))
        return static_cast<int>(ExitCode::stopped);
    writer.reset(); // completes the header
    file.commit();
    return static_cast<int>(ExitCode::done);
}

} // namespace headland::console
