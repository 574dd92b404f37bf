// SPDX-License-Identifier: GPL-3.0-or-later
#include "Cut/CutFrame.h"

namespace headland::cut {

std::string_view name(State state) noexcept {
    switch (state) {
    case State::up:
        return "up";
    case State::leadIn:
        return "lead-in";
    case State::program:
        return "program";
    case State::band:
        return "band";
    case State::leadOut:
        return "lead-out";
    case State::finishing:
        return "finishing";
    }
    return "";
}

std::string_view name(Flag flag) noexcept {
    switch (flag) {
    case Flag::overcut:
        return "overcut";
    case Flag::thinLand:
        return "thin-land";
    case Flag::narrow:
        return "narrow";
    case Flag::lifted:
        return "lifted";
    case Flag::steep:
        return "steep";
    case Flag::tight:
        return "tight";
    case Flag::previewShort:
        return "preview-short";
    case Flag::limit:
        return "limit";
    case Flag::badSample:
        return "bad-sample";
    case Flag::tooDeep:
        return "too-deep";
    case Flag::pastEnd:
        return "past-end";
    case Flag::discEnd:
        return "disc-end";
    }
    return "";
}

} // namespace headland::cut
