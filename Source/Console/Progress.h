// SPDX-License-Identifier: GPL-3.0-or-later
// A progress bar on a terminal's last line: redrawn at most ten times a second, wiped at the end, nothing at all where
// there is no terminal (a pipe, a file, a script). Wall-clock time is used for drawing only. One thread.
#pragma once

#include <chrono>
#include <string>

namespace headland::console {

class Progress {
public:
    /// Draws on standard error if that is a terminal and `wanted`.
    explicit Progress(bool wanted);
    /// Wipes the bar.
    ~Progress();
    Progress(const Progress&) = delete;
    Progress& operator=(const Progress&) = delete;

    /// Begins a new piece of work, named in a word or two.
    void begin(const std::string& what);
    /// Shows how far the work is, 0 to 1.
    void show(double fraction);
    /// Wipes the bar, so that text can be written; the next show() draws it again.
    void wipe();

private:
    void draw(double fraction);

    bool onTerminal;
    bool drawn = false;
    std::string label;
    std::chrono::steady_clock::time_point next;
};

} // namespace headland::console
