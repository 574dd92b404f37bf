// SPDX-License-Identifier: GPL-3.0-or-later
// The figures of one place of the side, a row each. Main thread.
#pragma once

#include "Editor/FigureTile.h"

#include <memory>
#include <string>
#include <vector>

namespace headland::editor {

class Ledger final : public juce::Component {
public:
    Ledger();

    /// `heading`: which place.
    void show(const std::string& heading, const std::vector<Figure>& figures);

    void paint(juce::Graphics& g) override;
    void resized() override;

private:
    std::string head;
    std::vector<std::unique_ptr<FigureTile>> rows;
};

} // namespace headland::editor
