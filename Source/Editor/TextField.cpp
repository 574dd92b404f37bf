// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/TextField.h"

#include "Editor/Look.h"

namespace headland::editor {

TextField::TextField(const Texts& t, Read r, Write w) : texts(t), read(std::move(r)), write(std::move(w)) {
    setComponentID(texts.id);
    typed.setTitle(texts.name);
    typed.setTooltip(texts.about);
    addTyped(16);
    refresh();
}

juce::String TextField::value() const {
    return toJuce(read());
}

} // namespace headland::editor
