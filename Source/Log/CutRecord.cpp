// SPDX-License-Identifier: GPL-3.0-or-later
#include "Log/CutRecord.h"

#include <array>
#include <chrono>
#include <cstdio>
#include <ctime>

namespace headland::log {

std::string headlandVersion() {
    return HEADLAND_VERSION;
}

std::string utcNow() {
    using namespace std::chrono;
    const auto now_ms = duration_cast<milliseconds>(system_clock::now().time_since_epoch()).count();
    const auto whole = static_cast<std::time_t>(now_ms / 1000);
    std::tm utc{};
    ::gmtime_r(&whole, &utc);
    std::array<char, 40> text{};
    const auto length = std::strftime(text.data(), text.size(), "%Y-%m-%dT%H:%M:%S", &utc);
    std::snprintf(text.data() + length, text.size() - length, ".%03dZ", static_cast<int>(now_ms % 1000));
    return text.data();
}

} // namespace headland::log
