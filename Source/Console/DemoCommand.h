// SPDX-License-Identifier: GPL-3.0-or-later
// `headland demo`: writes the demo program as a 24-bit 44.1 kHz stereo WAV, whole or not at all, the same bytes every
// time. Lengths in samples, progress from 0 to 1. One thread at a time, not the audio thread.

#pragma once

#include <functional>
#include <string>

namespace headland::console {

/// Called between blocks with how far the work is, 0 to 1; false stops it. May also throw to end it.
using DemoProgress = std::function<bool(double fraction)>;

/// Writes the demo program (four minutes, about 64 MB) to `path`; a file that is there already is replaced only if
/// `replaces`, once the new one is whole: it might be somebody's master. Returns the tool's exit code: 0, or 130 when `progress` stopped it; nothing is left behind then and an older
/// file is as it was. An empty `progress` is not called. Throws OutputError, one sentence for the user, when the
/// folder is missing or not writable (before any work) or the disk does not take the file, InputError for a file that is
/// there already.
int writeDemo(const std::string& path, bool replaces, const DemoProgress& progress = {});

} // namespace headland::console
