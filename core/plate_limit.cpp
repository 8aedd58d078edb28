// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/plate_build.h"

#include <cmath>
#include <limits>

namespace quoin::core {

double sharedPlateHours(const FailureRate& failure, double changeHours)
{
    if (failure.per == FailureRate::Per::Print || failure.rate <= 0)
        return std::numeric_limits<double>::infinity();
    // With x = e^(rate H / 2): (x^2 - 1) - 2 (x - 1) = (x - 1)^2 = rate * cost.
    return 2 / failure.rate * std::log1p(std::sqrt(failure.rate * changeHours));
}

} // namespace quoin::core
