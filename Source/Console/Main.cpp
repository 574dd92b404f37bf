// SPDX-License-Identifier: GPL-3.0-or-later
// The command-line tool: says its version. The commands come with the engine.

#include <juce_core/juce_core.h>

#include <iostream>

int main() {
    std::cout << "headland " << HEADLAND_VERSION << " (" << juce::SystemStats::getJUCEVersion() << ")\n";
}
