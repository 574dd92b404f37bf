// SPDX-License-Identifier: GPL-3.0-or-later

#include "Files/Integrity.h"

#include <FLAC/stream_decoder.h>
#include <ogg/ogg.h>

#include <cstdio>
#include <memory>

namespace headland::files {

namespace {

std::string seconds(double time_s) {
    char text[40];
    std::snprintf(text, sizeof text, "%.3f s", time_s);
    return text;
}

/// What one pass over a FLAC file found.
struct FlacPass {
    FLAC__uint64 promised_samples = 0; // 0: the header does not say
    FLAC__uint64 decoded_samples = 0;
    FLAC__uint64 firstFault_samples = 0;
    double sampleRate_hz = 1.0;
    bool faultSeen = false;

    double time_s(FLAC__uint64 samples) const { return static_cast<double>(samples) / sampleRate_hz; }

    static void onMetadata(const FLAC__StreamDecoder*, const FLAC__StreamMetadata* block, void* pass) {
        auto& self = *static_cast<FlacPass*>(pass);
        if (block->type == FLAC__METADATA_TYPE_STREAMINFO && block->data.stream_info.sample_rate > 0) {
            self.promised_samples = block->data.stream_info.total_samples;
            self.sampleRate_hz = block->data.stream_info.sample_rate;
        }
    }

    static FLAC__StreamDecoderWriteStatus onFrame(const FLAC__StreamDecoder*, const FLAC__Frame* frame,
                                                  const FLAC__int32* const*, void* pass) {
        static_cast<FlacPass*>(pass)->decoded_samples += frame->header.blocksize;
        return FLAC__STREAM_DECODER_WRITE_STATUS_CONTINUE;
    }

    static void onError(const FLAC__StreamDecoder*, FLAC__StreamDecoderErrorStatus, void* pass) {
        auto& self = *static_cast<FlacPass*>(pass);
        // Behind the last sample there may be tags of other programs: no fault of the sound.
        const bool isBehindTheEnd =
            self.promised_samples > 0 && self.decoded_samples >= self.promised_samples;
        if (self.faultSeen || isBehindTheEnd)
            return;
        self.faultSeen = true;
        self.firstFault_samples = self.decoded_samples;
    }
};

/// What one pass over an Ogg file found.
struct OggPass {
    int streamsBegun = 0;
    bool hasGap = false;
    bool lastPageEnds = false;
    long nextPage = 0;

    void take(const ogg_page& page) {
        if (ogg_page_bos(&page) != 0) {
            ++streamsBegun;
            nextPage = ogg_page_pageno(&page);
        }
        hasGap = hasGap || ogg_page_pageno(&page) != nextPage;
        nextPage = ogg_page_pageno(&page) + 1;
        lastPageEnds = ogg_page_eos(&page) != 0;
    }
};

struct CloseFile {
    void operator()(std::FILE* file) const { std::fclose(file); }
};

/// libogg's page finder, cleared at the end.
struct OggSync {
    ogg_sync_state state{};
    OggSync() { ogg_sync_init(&state); }
    ~OggSync() { ogg_sync_clear(&state); }
    OggSync(const OggSync&) = delete;
    OggSync& operator=(const OggSync&) = delete;
};

/// Takes all pages libogg finds in what it holds so far; bytes it had to skip (a bad checksum) are a gap.
void takePages(OggSync& sync, OggPass& pass) {
    ogg_page page{};
    for (;;) {
        const long found_bytes = ogg_sync_pageseek(&sync.state, &page);
        if (found_bytes == 0)
            return;
        if (found_bytes < 0) // behind the end of the stream there may be tags of other programs
            pass.hasGap = pass.hasGap || !pass.lastPageEnds;
        else
            pass.take(page);
    }
}

} // namespace

std::optional<std::string> faultInFlac(const std::string& path) {
    using Decoder = std::unique_ptr<FLAC__StreamDecoder, decltype(&FLAC__stream_decoder_delete)>;
    const Decoder decoder(FLAC__stream_decoder_new(), &FLAC__stream_decoder_delete);
    FlacPass pass;
    if (!decoder
        || FLAC__stream_decoder_init_file(decoder.get(), path.c_str(), FlacPass::onFrame,
                                          FlacPass::onMetadata, FlacPass::onError, &pass)
               != FLAC__STREAM_DECODER_INIT_STATUS_OK)
        return "cannot be opened by the FLAC decoder";
    FLAC__stream_decoder_process_until_end_of_stream(decoder.get());

    if (pass.faultSeen)
        return "is damaged at " + seconds(pass.time_s(pass.firstFault_samples));
    if (pass.decoded_samples > 0 && pass.promised_samples == 0)
        return "does not say how long it is (it was written to a pipe, or never finished)";
    if (pass.decoded_samples < pass.promised_samples)
        return "is truncated: its header promises " + seconds(pass.time_s(pass.promised_samples))
               + ", but it ends at " + seconds(pass.time_s(pass.decoded_samples));
    return std::nullopt;
}

std::optional<std::string> faultInOgg(const std::string& path) {
    const std::unique_ptr<std::FILE, CloseFile> file(std::fopen(path.c_str(), "rb"));
    if (!file)
        return "cannot be opened by the Ogg reader";
    constexpr long block_bytes = 65536;
    OggSync sync;
    OggPass pass;
    for (;;) {
        char* const buffer = ogg_sync_buffer(&sync.state, block_bytes);
        const size_t got_bytes = std::fread(buffer, 1, block_bytes, file.get());
        if (got_bytes == 0)
            break;
        ogg_sync_wrote(&sync.state, static_cast<long>(got_bytes));
        takePages(sync, pass);
    }
    if (std::ferror(file.get()) != 0)
        return "cannot be read to its end (the disk reports an error)";
    if (pass.streamsBegun > 1)
        return "holds " + std::to_string(pass.streamsBegun)
               + " streams, and only files of one stream can be used";
    if (!pass.lastPageEnds)
        return "is truncated: its last page does not end the stream";
    if (pass.hasGap)
        return "is damaged: a page in it is missing or has a wrong checksum";
    return std::nullopt;
}

} // namespace headland::files
