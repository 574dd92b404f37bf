// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plan/SectorExtremes.h"

#include "Groove/Geometry.h"

namespace headland::plan {

SectorExtremes ExtremeCollector::take() noexcept {
    const auto empty = leftLeast_um == none;
    const SectorExtremes result{groove::sqrt2 * rightGreatest_um, -groove::sqrt2 * leftLeast_um,
                                liftGreatest_um / groove::sqrt2};
    *this = {};
    return empty ? SectorExtremes{} : result;
}

} // namespace headland::plan
