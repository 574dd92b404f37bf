// SPDX-License-Identifier: GPL-3.0-or-later
// A text that is part of how things are set up: an address, the name of a job. Main thread.
#pragma once

#include "Editor/TypedField.h"

namespace headland::editor {

class TextField final : public TypedField {
public:
    struct Texts {
        const char* id;
        const char* name;
        const char* about;      ///< tooltip
        const char* below = ""; ///< where nothing is refused
    };
    using Read = std::function<std::string()>;
    using Write = std::function<std::string(const std::string&)>; ///< returns why it was refused, or nothing

    TextField(const Texts& texts, Read read, Write write);

private:
    juce::String value() const override;
    std::string take(const juce::String& text) override { return write(text.trim().toStdString()); }
    juce::String nameAbove() const override { return texts.name; }
    juce::String below() const override { return texts.below; }

    Texts texts;
    Read read;
    Write write;
};

} // namespace headland::editor
