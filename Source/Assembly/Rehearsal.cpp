// SPDX-License-Identifier: GPL-3.0-or-later
#include "Assembly/Rehearsal.h"

#include "Cut/CutEngine.h"
#include "Cut/SettingsTable.h"
#include "Files/ProgramFile.h"

#include <algorithm>
#include <array>
#include <exception>

namespace headland::assembly {

namespace {

class Frames final : public cut::FrameSink {
public:
    explicit Frames(editor::SideHistory& side) : history(side) {}
    void frame(const cut::CutFrame& frame) noexcept override { history.add({&frame, 1}); }

private:
    editor::SideHistory& history;
};

bool areSame(const cut::CutSettings& a, const cut::CutSettings& b) {
    const auto table = cut::settingsTable();
    return std::all_of(table.begin(), table.end(), [&](const auto& setting) {
        return cut::getNumber(a, setting) == cut::getNumber(b, setting);
    });
}

} // namespace

void Rehearsal::wish(const std::string& program, const cut::CutSettings& wanted) {
    if (program == path && areSame(wanted, settings))
        return;
    stopThread(-1);
    path = program;
    settings = wanted;
    done.set(0);
    {
        const std::lock_guard held(lock);
        made.reset();
    }
    if (!path.empty())
        startThread(Priority::low);
}

std::shared_ptr<const editor::SideHistory> Rehearsal::side() const {
    const std::lock_guard held(lock);
    return made;
}

void Rehearsal::run() {
    std::shared_ptr<editor::SideHistory> all;
    try {
        all = cutAll();
    } catch (const std::exception&) {
        // An unreadable file or a set-up that cannot be cut with: the window says so itself.
        return;
    }
    const std::lock_guard held(lock);
    made = std::move(all);
}

std::shared_ptr<editor::SideHistory> Rehearsal::cutAll() {
    constexpr int block = 4096;
    auto file = files::ProgramFile::open(path);
    auto used = settings;
    if (used.side_length_s == 0)
        used.side_length_s = file.length_s();
    auto all = std::make_shared<editor::SideHistory>(used);
    Frames sink(*all);
    cut::CutEngine engine;
    engine.prepare(used, file.sampleRate_hz());
    std::array<float, block> left{}, right{};
    while (const auto count = file.read(left.data(), right.data(), block)) {
        engine.process(left.data(), right.data(), count, sink);
        done.set(static_cast<double>(file.position_frames())
                 / static_cast<double>(std::max<std::int64_t>(1, file.length_frames())));
        if (threadShouldExit())
            return nullptr;
    }
    while (!engine.finishSome(block, sink))
        if (threadShouldExit())
            return nullptr;
    return all;
}

} // namespace headland::assembly
