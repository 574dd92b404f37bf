// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plan/RampModel.h"

namespace headland::plan {

FullSlewForecast::FullSlewForecast(double sector_s, double lag_s, double slew_um_s, int sectors) {
    const auto decayed = [lag_s](double t) { return lag_s > 0 ? std::exp(-t / lag_s) : 0.0; };
    const auto d = sector_s;
    // End of the first sector: q1 = v1·(1−κ) + v0·(κ−e) + q0·e with κ = (τ/Δ)(1−e).
    const auto e = decayed(d);
    const auto kappa = lag_s / d * (1 - e);
    const Linear q1{1 - kappa, kappa - e, e, 0};
    const Linear firstIntegral{d / 2 - lag_s * q1.v1, d / 2 - lag_s * q1.v0, lag_s - lag_s * q1.q0, 0};
    axisTable.resize(static_cast<std::size_t>(sectors) + 1);
    integralTable.resize(axisTable.size());
    for (std::size_t j = 1; j < axisTable.size(); ++j) {
        const auto t = static_cast<double>(j - 1) * d;
        const auto f = decayed(t);
        // From the end of the first sector on, at full slew s: q = v1(1−f) + q1·f + s(t − τ(1−f)).
        axisTable[j] = {(1 - f) + q1.v1 * f, q1.v0 * f, q1.q0 * f, slew_um_s * (t - lag_s * (1 - f))};
        const auto run = t - lag_s * (1 - f); // ∫ of the share of v1
        const auto memory = lag_s * (1 - f);  // ∫ of the share of q1
        integralTable[j] = {firstIntegral.v1 + run + memory * q1.v1, firstIntegral.v0 + memory * q1.v0,
                            firstIntegral.q0 + memory * q1.q0, slew_um_s * (t * t / 2 - lag_s * run)};
    }
}

} // namespace headland::plan
