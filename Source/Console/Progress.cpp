// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/Progress.h"

#include <algorithm>
#include <cstdio>
#include <sys/ioctl.h>
#include <unistd.h>

namespace headland::console {

namespace {

constexpr std::chrono::milliseconds redrawInterval{100};
constexpr int barWidthMax = 40;
constexpr const char* clearLine = "\r\033[K";

/// Columns of the terminal on standard error; 80 when it does not say.
int terminalColumns() {
    winsize size{};
    return ioctl(STDERR_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0 ? size.ws_col : 80;
}

/// A bar of `width` places, the first of them filled as far as the fraction goes.
std::string bar(double fraction, int width) {
    const auto filled = static_cast<std::size_t>(fraction * width);
    return "[" + std::string(filled, '#') + std::string(static_cast<std::size_t>(width) - filled, '.') + "]";
}

} // namespace

Progress::Progress(bool wanted) : onTerminal(wanted && isatty(STDERR_FILENO) == 1) {}

Progress::~Progress() {
    wipe();
}

void Progress::begin(const std::string& what) {
    label = what;
    next = {};
}

void Progress::show(double fraction) {
    if (!onTerminal)
        return;
    const auto now = std::chrono::steady_clock::now();
    if (now < next)
        return;
    next = now + redrawInterval;
    draw(std::clamp(fraction, 0.0, 1.0));
}

void Progress::wipe() {
    if (drawn)
        std::fputs(clearLine, stderr);
    drawn = false;
    next = {};
}

void Progress::draw(double fraction) {
    const auto room = terminalColumns() - static_cast<int>(label.size()) - 9; // brackets, spaces, "100 %"
    const auto line = label + " " + (room > 4 ? bar(fraction, std::min(room, barWidthMax)) : "");
    std::fprintf(stderr, "%s%s %3.0f %%", clearLine, line.c_str(), 100 * fraction);
    drawn = true;
}

} // namespace headland::console
