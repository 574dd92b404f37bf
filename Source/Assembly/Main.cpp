// SPDX-License-Identifier: GPL-3.0-or-later
// The one function JUCE's wrappers call to make a processor. It belongs to the plug-ins, not to the library.

#include "Assembly/ProcessorAccess.h"

/// Called by the VST3, LV2 and AU wrappers, which own what is returned.
juce::AudioProcessor* JUCE_CALLTYPE createPluginFilter();

juce::AudioProcessor* JUCE_CALLTYPE createPluginFilter() {
    return headland::assembly::makeProcessor().release();
}
