// SPDX-License-Identifier: GPL-3.0-or-later
#include "Assembly/CutBook.h"

namespace headland::assembly {

void CutBook::begin(const plugin::LiveSetup& setup) {
    const std::lock_guard held(lock);
    builder.emplace(setup.cut);
    end_.reset();
    log = folder_.empty() ? nullptr : std::make_unique<plugin::FolderJournal>(folder_);
    if (log)
        log->begin(setup);
}

void CutBook::frame(const cut::CutFrame& frame) {
    const std::lock_guard held(lock);
    if (builder)
        builder->frame(frame);
    if (log)
        log->frame(frame);
}

void CutBook::end(handoff::CutEnd reason, std::uint64_t framesLost) {
    const std::lock_guard held(lock);
    end_ = reason;
    if (log)
        log->end(reason, framesLost);
}

std::string CutBook::trouble() const {
    const std::lock_guard held(lock);
    return log ? log->trouble() : std::string();
}

void CutBook::logInto(const std::string& wanted) {
    const std::lock_guard held(lock);
    folder_ = wanted;
}

std::string CutBook::folder() const {
    const std::lock_guard held(lock);
    return folder_;
}

cut::CutSummary CutBook::summary() const {
    const std::lock_guard held(lock);
    return builder ? builder->summary() : cut::CutSummary();
}

std::optional<handoff::CutEnd> CutBook::lastEnd() const {
    const std::lock_guard held(lock);
    return end_;
}

} // namespace headland::assembly
