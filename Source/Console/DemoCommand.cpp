// SPDX-License-Identifier: GPL-3.0-or-later

#include "Console/DemoCommand.h"

#include "Console/ExitCode.h"
#include "Demo/DemoProgram.h"
#include "Files/Errors.h"
#include "Files/OutputFile.h"
#include "Files/WavWriter.h"
#include "Text/Safe.h"

#include <algorithm>
#include <array>
#include <filesystem>

namespace headland::console {

namespace {

constexpr int sampleRate_hz = 44100;
constexpr int block_samples = 8192;

/// False if `progress` stopped it. A block the disk did not take ends it too: the file's commit() says why.
bool writeProgram(files::WavWriter& writer, const DemoProgress& progress) {
    demo::DemoProgram program(sampleRate_hz);
    std::array<float, block_samples> left{}, right{};
    for (std::int64_t done = 0; done < program.length();) {
        if (progress && !progress(static_cast<double>(done) / static_cast<double>(program.length())))
            return false;
        const auto count = static_cast<int>(std::min<std::int64_t>(block_samples, program.length() - done));
        program.render(left.data(), right.data(), count);
        if (!writer.write(left.data(), right.data(), count))
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
            text::printable(path)
            + " is there already and is left as it is; name another file, or replace it with "
              "--force.");
    files::OutputFile file(path, {});
    files::WavWriter writer(file, sampleRate_hz, demo::title);
    if (!writeProgram(writer, progress))
        return static_cast<int>(ExitCode::stopped);
    writer.finish();
    file.commit();
    return static_cast<int>(ExitCode::done);
}

} // namespace headland::console
