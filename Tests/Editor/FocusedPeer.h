// SPDX-License-Identifier: GPL-3.0-or-later
// A window on no display that has the system's keyboard: what is in it gains and loses the focus as on a real one.
#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

namespace headland::test {

class FocusedPeer final : public juce::ComponentPeer {
public:
    explicit FocusedPeer(juce::Component& of) : ComponentPeer(of, 0) {}

    bool isFocused() const override { return true; }
    void grabFocus() override {}
    juce::Rectangle<int> getBounds() const override { return component.getBounds(); }
    juce::Point<float> localToGlobal(juce::Point<float> local) override { return local; }
    juce::Point<float> globalToLocal(juce::Point<float> screen) override { return screen; }
    bool contains(juce::Point<int> local, bool) const override {
        return component.getLocalBounds().contains(local);
    }
    juce::StringArray getAvailableRenderingEngines() override { return {"none"}; }

    // The rest of what a system does to a window is of no interest here.
    void* getNativeHandle() const override { return nullptr; }
    void setVisible(bool) override {}
    void setTitle(const juce::String&) override {}
    void setBounds(const juce::Rectangle<int>&, bool) override {}
    void setMinimised(bool) override {}
    bool isMinimised() const override { return false; }
    void setFullScreen(bool) override {}
    bool isFullScreen() const override { return false; }
    void setIcon(const juce::Image&) override {}
    OptionalBorderSize getFrameSizeIfPresent() const override { return {}; }
    juce::BorderSize<int> getFrameSize() const override { return {}; }
    bool setAlwaysOnTop(bool) override { return true; }
    void toFront(bool) override {}
    void toBehind(ComponentPeer*) override {}
    void repaint(const juce::Rectangle<int>&) override {}
    void performAnyPendingRepaintsNow() override {}
    void setAlpha(float) override {}
    void textInputRequired(juce::Point<int>, juce::TextInputTarget&) override {}
};

/// Shows what it is given in such a window for as long as it lives.
class FocusedWindow final : public juce::Component {
public:
    explicit FocusedWindow(juce::Component& shown) {
        setSize(shown.getWidth(), shown.getHeight());
        setVisible(true);
        addToDesktop(0);
        addAndMakeVisible(shown);
    }
    ~FocusedWindow() override {
        removeAllChildren();
        removeFromDesktop();
    }

private:
    juce::ComponentPeer* createNewPeer(int, void*) override { return new FocusedPeer(*this); }
};

} // namespace headland::test
