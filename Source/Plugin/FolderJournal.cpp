// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/FolderJournal.h"

#include "Log/CutJson.h"
#include "Log/JsonObject.h"

#include <juce_core/juce_core.h>

#include <cmath>
#include <exception>

namespace headland::plugin {

namespace {

constexpr int jsonVersion = 1; ///< of the sheet's layout, its member "headland_live_cut"

/// Path without its extension that no log has yet.
std::string freePath(const std::string& folder) {
    const auto now = juce::Time::getCurrentTime().formatted("cut-%Y%m%d-%H%M%S");
    const juce::File place(juce::String::fromUTF8(folder.c_str()));
    auto name = now;
    for (int i = 2; place.getChildFile(name + ".csv").exists() || place.getChildFile(name + ".json").exists();
         ++i)
        name = now + "-" + juce::String(i);
    return place.getChildFile(name).getFullPathName().toStdString();
}

} // namespace

std::string describe(handoff::CutEnd reason) {
    switch (reason) {
    case handoff::CutEnd::finished:
        return "finished";
    case handoff::CutEnd::lifted:
        return "lifted";
    case handoff::CutEnd::rateChanged:
        return "ended as a fault: the sample rate changed with the stylus down";
    case handoff::CutEnd::stopped:
        return "ended as a fault: the host stopped the processor with the stylus down";
    case handoff::CutEnd::bypassed:
        return "ended as a fault: the processor was bypassed with the stylus down";
    }
    return {};
}

bool isFault(handoff::CutEnd reason) noexcept {
    return reason != handoff::CutEnd::finished && reason != handoff::CutEnd::lifted;
}

struct FolderJournal::Sheet {
    Sheet(const std::string& pathStem, const LiveSetup& liveSetup)
        : stem(pathStem),
          setup(liveSetup),
          file(pathStem + ".csv"),
          csv([this](std::string_view bytes) { file.write(bytes); }),
          summary(liveSetup.cut) {}

    std::string stem;
    LiveSetup setup;
    files::OutputFile file;
    log::CsvWriter csv;
    cut::SummaryBuilder summary;
    double left_min = NAN;
};

FolderJournal::FolderJournal(std::string place) : folder(std::move(place)) {}
FolderJournal::~FolderJournal() = default;

/// Whatever goes wrong is kept in words, and this cut is written no further.
template <typename Work>
void FolderJournal::attempt(Work work) {
    try {
        work();
    } catch (const std::exception& failure) {
        trouble_ = std::string("This cut is not being logged. ") + failure.what();
        sheet.reset();
    }
}

void FolderJournal::begin(const LiveSetup& setup) {
    trouble_.clear();
    attempt([&] { sheet = std::make_unique<Sheet>(freePath(folder), setup); });
}

void FolderJournal::frame(const cut::CutFrame& frame) {
    if (sheet == nullptr)
        return;
    attempt([&] {
        sheet->csv.frame(frame);
        sheet->csv.check();
        sheet->summary.frame(frame);
        sheet->left_min = frame.estimate.left_min;
    });
}

void FolderJournal::end(handoff::CutEnd reason, std::uint64_t framesLost) {
    if (sheet == nullptr)
        return;
    attempt([&] {
        sheet->csv.flush();
        const auto summary = sheet->summary.summary();
        log::JsonObject figures;
        log::addVerdict(figures, summary);
        log::addFigures(figures, summary, sheet->left_min);
        const juce::var root = log::JsonObject()
                                   .count("headland_live_cut", jsonVersion)
                                   .number("sample_rate_hz", sheet->setup.sampleRate_hz)
                                   .text("preview", sheet->setup.previewOutside ? "second head" : "own delay")
                                   .text("end", describe(reason))
                                   .truth("fault", isFault(reason))
                                   .count("frames_lost", static_cast<std::int64_t>(framesLost))
                                   .add("settings", log::settingsObject(sheet->setup.cut))
                                   .add("summary", figures)
                                   .add("passages", log::passageArray(summary))
                                   .count("passages_left_out", summary.passagesLeftOut);
        files::OutputFile json(sheet->stem + ".json");
        json.write(juce::JSON::toString(root).toStdString() + "\n");
        sheet->file.commit();
        json.commit();
        sheet.reset();
    });
}

} // namespace headland::plugin
