// SPDX-License-Identifier: GPL-3.0-or-later
// The frames of a cut by their index, whoever keeps them and however: plain or packed. Frames are handed out by value. A view
// is as good as what it looks at. Any thread, as far as that allows.
#pragma once

#include "Cut/CutFrame.h"

#include <cstddef>
#include <span>
#include <type_traits>
#include <vector>

namespace headland::cut {

class FrameView {
public:
    FrameView(std::span<const CutFrame> frames) noexcept
        : owner(frames.data()),
          at([](const void* first, std::size_t i) { return static_cast<const CutFrame*>(first)[i]; }),
          count(frames.size()) {}
    FrameView(const std::vector<CutFrame>& frames) noexcept : FrameView(std::span(frames)) {}
    /// Anything that hands out frames by index and has a size, such as log::FrameList.
    template <typename List>
    requires(!std::is_same_v<List, FrameView>) FrameView(const List& list)
    noexcept
        : owner(&list),
          at([](const void* first, std::size_t i) -> CutFrame {
              return (*static_cast<const List*>(first))[i];
          }),
          count(list.size()) {}

    std::size_t size() const noexcept { return count; }
    bool empty() const noexcept { return count == 0; }
    CutFrame operator[](std::size_t i) const { return at(owner, i); }

private:
    const void* owner;
    CutFrame (*at)(const void*, std::size_t);
    std::size_t count;
};

} // namespace headland::cut
