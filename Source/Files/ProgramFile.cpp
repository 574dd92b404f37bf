// SPDX-License-Identifier: GPL-3.0-or-later

#include "Files/ProgramFile.h"

#include "Files/FlacCheck.h"
#include "Files/InputFile.h"
#include "Files/ProgramRefusal.h"
#include "Files/SoundLayout.h"

#include <sndfile.h>

#include <algorithm>
#include <array>
#include <cstdio>

namespace headland::files {

namespace {

std::string decimal(double value, int places) {
    std::array<char, 64> text{};
    std::snprintf(text.data(), text.size(), "%.*f", places, value);
    return text.data();
}

/// How samples are stored, as libsndfile says it; 0 bits if it is none that is read.
struct Storage {
    int bits = 0;
    bool isFloat = false;
};

Storage storageOf(const SF_INFO& info) {
    switch (info.format & SF_FORMAT_SUBMASK) {
    case SF_FORMAT_PCM_S8:
    case SF_FORMAT_PCM_U8:
        return {8, false};
    case SF_FORMAT_PCM_16:
        return {16, false};
    case SF_FORMAT_PCM_24:
        return {24, false};
    case SF_FORMAT_PCM_32:
        return {32, false};
    case SF_FORMAT_FLOAT:
        return {32, true};
    case SF_FORMAT_DOUBLE:
        return {64, true};
    default:
        return {};
    }
}

std::string text(const Storage& storage) {
    return std::to_string(storage.bits) + (storage.isFloat ? " bit float" : " bit");
}

void checkRateAndChannels(const std::string& path, const SF_INFO& info) {
    if (info.samplerate < ProgramFile::sampleRateMin_hz || info.samplerate > ProgramFile::sampleRateMax_hz)
        refuseProgram(path, "has a sample rate of " + std::to_string(info.samplerate)
                                + " Hz, and programs are cut at " + decimal(ProgramFile::sampleRateMin_hz, 0)
                                + " to " + decimal(ProgramFile::sampleRateMax_hz, 0)
                                + " Hz: convert it first.");
    if (info.channels > 2)
        refuseProgram(
            path,
            "has " + std::to_string(info.channels)
                + " channels, and for now a program has one or two (preview tracks in the same file come "
                  "later): give it as a stereo file.");
}

} // namespace

/// The open file, and libsndfile's reader on it. libsndfile sees the file through calls (its virtual input), up to the
/// end of the container.
class ProgramFile::Reader {
public:
    explicit Reader(const std::string& path) : file(path), layout(layoutOf(file)) {
        SF_VIRTUAL_IO calls{length, seek, read, write, tell};
        sound = sf_open_virtual(&calls, SFM_READ, &info, this);
        if (sound == nullptr)
            refuseProgram(path, std::string("begins like a file of the kind ") + layout.name
                                    + ", but its header is damaged or of an encoding that cannot be read ("
                                    + sf_strerror(nullptr)
                                    + "): export it again as 16 or 24 bit PCM or 32 bit float.");
        storage = storageOf(info);
    }
    ~Reader() {
        if (sound != nullptr)
            sf_close(sound);
    }
    Reader(const Reader&) = delete;
    Reader& operator=(const Reader&) = delete;

    /// Refuses what libsndfile has read otherwise than the layout, and what cannot be cut.
    void check() {
        checkRateAndChannels(file.path(), info);
        if (layout.kind == SoundLayout::Kind::flac)
            checkFlac();
        else
            checkAgainstLayout();
        format = std::string(layout.name) + ", " + text(storage);
    }

    int readFrames(float* left, float* right, int maxFrames) {
        const auto wanted_frames = std::min<std::int64_t>(maxFrames, info.frames - next_frames);
        if (wanted_frames <= 0)
            return 0;
        auto done_frames = std::int64_t{0};
        while (done_frames < wanted_frames)
            done_frames += readBlock(left + done_frames, right + done_frames, wanted_frames - done_frames);
        return static_cast<int>(done_frames);
    }

    SF_INFO info{};
    Storage storage;
    std::string format;
    std::int64_t next_frames = 0;

private:
    void checkFlac() {
        if (info.frames > 0 && storage.bits == 0)
            refuseProgram(file.path(),
                          "holds FLAC of a word length that is not read: save it as 16 or 24 bit.");
        if (const auto fault = faultInFlac(file))
            refuseProgram(file.path(), *fault + ": copy or export it again.");
        if (info.frames <= 0 || info.frames == SF_COUNT_MAX)
            refuseProgram(file.path(), "holds no samples: export the program again.");
    }

    void checkAgainstLayout() {
        const Storage other{layout.bits, layout.isFloat};
        if (storage.bits != other.bits || storage.isFloat != other.isFloat)
            refuseProgram(file.path(),
                          "has a header that can be read in two ways (as " + text(other) + " and as "
                              + text(storage)
                              + "): export it again, as another kind of file if that does not help.");
        // libsndfile stands at the first sample now.
        const bool isSame = place_bytes == layout.sound_bytes && info.channels == layout.channels
                            && info.frames == layout.length_frames;
        if (!isSame)
            refuseProgram(file.path(),
                          "has a header that can be read in two ways (where its sound begins and "
                          "ends): export it again.");
    }

    int readBlock(float* left, float* right, std::int64_t wanted_frames) {
        const auto channels = info.channels;
        const auto most_frames = static_cast<std::int64_t>(interleaved.size()) / channels;
        const auto got_frames =
            sf_readf_float(sound, interleaved.data(), std::min(wanted_frames, most_frames));
        if (got_frames <= 0 || !file.failure().empty())
            refuseProgram(file.path(),
                          "cannot be read further at "
                              + decimal(next_frames / static_cast<double>(info.samplerate), 3) + " s ("
                              + (file.failure().empty() ? "the decoder gives up" : file.failure())
                              + "): check the disk and export it again.");
        for (std::int64_t i = 0; i < got_frames; ++i) {
            left[i] = interleaved[static_cast<size_t>(i * channels)];
            right[i] = interleaved[static_cast<size_t>(i * channels + channels - 1)];
        }
        next_frames += got_frames;
        return static_cast<int>(got_frames);
    }

    static Reader& self(void* reader) { return *static_cast<Reader*>(reader); }
    static sf_count_t length(void* reader) { return self(reader).layout.end_bytes; }
    static sf_count_t tell(void* reader) { return self(reader).place_bytes; }
    static sf_count_t write(const void*, sf_count_t, void*) { return 0; }
    static sf_count_t seek(sf_count_t offset_bytes, int whence, void* reader) {
        const auto from_bytes = whence == SEEK_SET   ? 0
                                : whence == SEEK_CUR ? self(reader).place_bytes
                                                     : self(reader).layout.end_bytes;
        return self(reader).place_bytes = from_bytes + offset_bytes;
    }
    static sf_count_t read(void* destination, sf_count_t count_bytes, void* reader) {
        auto& my = self(reader);
        const auto there_bytes = std::max<std::int64_t>(0, my.layout.end_bytes - my.place_bytes);
        const auto got_bytes =
            my.file.readAt(my.place_bytes, destination, std::min(count_bytes, there_bytes));
        my.place_bytes += got_bytes;
        return got_bytes;
    }

    InputFile file;
    SoundLayout layout;
    std::int64_t place_bytes = 0;
    SNDFILE* sound = nullptr;
    std::array<float, 8192> interleaved{};
};

ProgramFile ProgramFile::open(const std::string& path) {
    auto opened = std::make_unique<Reader>(path);
    opened->check();
    return ProgramFile(std::move(opened));
}

ProgramFile::ProgramFile(std::unique_ptr<Reader> openReader) : reader(std::move(openReader)) {}
ProgramFile::ProgramFile(ProgramFile&&) noexcept = default;
ProgramFile& ProgramFile::operator=(ProgramFile&&) noexcept = default;
ProgramFile::~ProgramFile() = default;

double ProgramFile::sampleRate_hz() const noexcept {
    return reader->info.samplerate;
}

int ProgramFile::channels() const noexcept {
    return reader->info.channels;
}

std::int64_t ProgramFile::length_frames() const noexcept {
    return reader->info.frames;
}

double ProgramFile::length_s() const noexcept {
    return static_cast<double>(length_frames()) / sampleRate_hz();
}

int ProgramFile::bitsPerSample() const noexcept {
    return reader->storage.bits;
}

bool ProgramFile::isFloat() const noexcept {
    return reader->storage.isFloat;
}

const std::string& ProgramFile::format() const noexcept {
    return reader->format;
}

std::int64_t ProgramFile::position_frames() const noexcept {
    return reader->next_frames;
}

int ProgramFile::read(float* left, float* right, int maxFrames) {
    return reader->readFrames(left, right, maxFrames);
}

} // namespace headland::files
