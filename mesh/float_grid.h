// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/vec3.h"

#include <algorithm>
#include <cmath>

namespace quoin::mesh {

/// The grid of 32-bit floats that a model's corners are put on: on each axis the float step at the largest coordinate
/// (IEEE 754 binary32, 24 bits). Floats nearer to zero are finer, but one step all over makes every difference of two
/// coordinates a whole number of at most 25 bits, and costs no accuracy that the far end of the model has.
struct FloatGrid {
    Vec3 step{1, 1, 1};

    static FloatGrid of(const Box3& box)
    {
        const auto stepFor = [](double low, double high) {
            const double largest = std::max(std::fabs(low), std::fabs(high));
            // Below 2^-100 mm there is nothing to tell apart, and products of steps stay far from underflow.
            return largest > 0 ? std::max(std::ldexp(1.0, std::ilogb(largest) - 23), std::ldexp(1.0, -100)) : 1.0;
        };
        return {{stepFor(box.min.x, box.max.x), stepFor(box.min.y, box.max.y), stepFor(box.min.z, box.max.z)}};
    }
    Vec3 snapped(Vec3 p) const
    {
        // + 0.0 turns -0 into 0, so that equal places have equal bits in the file.
        return {step.x * std::nearbyint(p.x / step.x) + 0.0, step.y * std::nearbyint(p.y / step.y) + 0.0,
                step.z * std::nearbyint(p.z / step.z) + 0.0};
    }
    double largestStep() const { return std::max({step.x, step.y, step.z}); }
};

} // namespace quoin::mesh
