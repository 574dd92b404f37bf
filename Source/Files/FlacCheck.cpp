// SPDX-License-Identifier: GPL-3.0-or-later
#include "Files/FlacCheck.h"

#include "Text/Times.h"

#include <FLAC/stream_decoder.h>

#include <memory>

namespace headland::files {

namespace {

/// What one pass over a FLAC file found.
struct FlacPass {
    InputFile& file;
    std::int64_t place_bytes = 0;
    FLAC__StreamMetadata_StreamInfo promised{};
    FLAC__uint64 decoded_samples = 0;
    FLAC__uint64 firstFault_samples = 0;
    bool faultSeen = false;

    double time_s(FLAC__uint64 samples) const {
        return static_cast<double>(samples) / (promised.sample_rate > 0 ? promised.sample_rate : 1);
    }

    void noteFault() {
        // Behind the last sample there may be tags of other programs: no fault of the sound.
        const bool isBehindTheEnd = promised.total_samples > 0 && decoded_samples >= promised.total_samples;
        if (faultSeen || isBehindTheEnd)
            return;
        faultSeen = true;
        firstFault_samples = decoded_samples;
    }

    static FLAC__StreamDecoderReadStatus onRead(const FLAC__StreamDecoder*, FLAC__byte* destination,
                                                size_t* count_bytes, void* pass) {
        auto& self = *static_cast<FlacPass*>(pass);
        const auto got_bytes =
            self.file.readAt(self.place_bytes, destination, static_cast<std::int64_t>(*count_bytes));
        self.place_bytes += got_bytes;
        *count_bytes = static_cast<size_t>(got_bytes);
        return got_bytes > 0 ? FLAC__STREAM_DECODER_READ_STATUS_CONTINUE
                             : FLAC__STREAM_DECODER_READ_STATUS_END_OF_STREAM;
    }

    static void onMetadata(const FLAC__StreamDecoder*, const FLAC__StreamMetadata* block, void* pass) {
        if (block->type == FLAC__METADATA_TYPE_STREAMINFO)
            static_cast<FlacPass*>(pass)->promised = block->data.stream_info;
    }

    static FLAC__StreamDecoderWriteStatus onFrame(const FLAC__StreamDecoder*, const FLAC__Frame* frame,
                                                  const FLAC__int32* const*, void* pass) {
        auto& self = *static_cast<FlacPass*>(pass);
        const auto& header = frame->header;
        if (header.channels != self.promised.channels || header.sample_rate != self.promised.sample_rate
            || header.bits_per_sample != self.promised.bits_per_sample)
            self.noteFault(); // another stream's
        self.decoded_samples += header.blocksize;
        return FLAC__STREAM_DECODER_WRITE_STATUS_CONTINUE;
    }

    static void onError(const FLAC__StreamDecoder*, FLAC__StreamDecoderErrorStatus, void* pass) {
        static_cast<FlacPass*>(pass)->noteFault();
    }
};

} // namespace

std::optional<std::string> faultInFlac(InputFile& file) {
    using Decoder = std::unique_ptr<FLAC__StreamDecoder, decltype(&FLAC__stream_decoder_delete)>;
    const Decoder decoder(FLAC__stream_decoder_new(), &FLAC__stream_decoder_delete);
    FlacPass pass{file};
    if (!decoder || !FLAC__stream_decoder_set_md5_checking(decoder.get(), true)
        || FLAC__stream_decoder_init_stream(decoder.get(), FlacPass::onRead, nullptr, nullptr, nullptr,
                                            nullptr, FlacPass::onFrame, FlacPass::onMetadata,
                                            FlacPass::onError, &pass)
               != FLAC__STREAM_DECODER_INIT_STATUS_OK)
        return "cannot be opened by the FLAC decoder";
    FLAC__stream_decoder_process_until_end_of_stream(decoder.get());
    const bool isSoundAsEncoded = FLAC__stream_decoder_finish(decoder.get());

    if (const auto failure = file.failure(); !failure.empty())
        return "cannot be read further at " + text::seconds(pass.time_s(pass.decoded_samples)) + " ("
               + failure + ")";
    if (pass.faultSeen)
        return "is damaged at " + text::seconds(pass.time_s(pass.firstFault_samples));
    if (pass.decoded_samples > 0 && pass.promised.total_samples == 0)
        return "does not say how long it is (it was written to a pipe, or never finished)";
    if (pass.decoded_samples < pass.promised.total_samples)
        return "is truncated: its header promises " + text::seconds(pass.time_s(pass.promised.total_samples))
               + ", but it ends at " + text::seconds(pass.time_s(pass.decoded_samples));
    if (pass.decoded_samples > pass.promised.total_samples)
        return "has a header that contradicts itself: it promises "
               + text::seconds(pass.time_s(pass.promised.total_samples)) + " and holds "
               + text::seconds(pass.time_s(pass.decoded_samples));
    if (!isSoundAsEncoded)
        return "is damaged: the checksum over all its sound (MD5) is not that of what was encoded";
    return std::nullopt;
}

} // namespace headland::files
