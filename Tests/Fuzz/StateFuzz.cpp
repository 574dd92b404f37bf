// SPDX-License-Identifier: GPL-3.0-or-later
// The state that a host hands back to the plug-in: any bytes are refused in a sentence, the state as it was, or give a state
// with every value in its range that, written again, reads back the same.

#include "Plugin/StateText.h"
#include "Text/Safe.h"

#include <algorithm>
#include <cstdint>
#include <cstdlib>

namespace {

using namespace headland;

template <typename Settings, typename Table>
bool isSame(const Settings& a, const Settings& b, const Table& table) {
    return std::all_of(table.begin(), table.end(), [&](const auto& setting) {
        const auto value = cut::getNumber(a, setting);
        return value == cut::getNumber(b, setting) && value >= setting.least && value <= setting.greatest;
    });
}

bool isSame(const plugin::State& a, const plugin::State& b) {
    return isSame(a.cut, b.cut, cut::settingsTable()) && isSame(a.live, b.live, plugin::liveTable())
           && a.oscHost == b.oscHost && a.book == b.book;
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size_bytes) {
    plugin::State read, again;
    std::string problem;
    if (!plugin::readState({reinterpret_cast<const char*>(data), size_bytes}, read, problem)) {
        if (problem.empty() || text::printable(problem) != problem || !isSame(read, plugin::State()))
            std::abort();
        return 0;
    }
    if (!problem.empty() || !plugin::readState(plugin::stateText(read), again, problem)
        || !isSame(read, again))
        std::abort();
    return 0;
}
