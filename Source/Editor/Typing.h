// SPDX-License-Identifier: GPL-3.0-or-later
// What happens beside a field in which somebody types: everything that takes typed text tells it in the same way. Main
// thread.
#pragma once

#include <functional>
#include <string>

namespace headland::editor {

struct Typing {
    std::function<void(const std::string&)> onEntered; ///< gets why it was refused, or nothing
    std::function<void()> onEscape;                    ///< the key belongs to the stylus as well
    std::function<void()> onDone;                      ///< the keyboard may go elsewhere
};

} // namespace headland::editor
