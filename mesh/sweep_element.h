// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/sweep.h"

#include <array>
#include <vector>

/// For mesh/sweep*.cpp only: triangles in the coordinates of a motion.
namespace quoin::mesh {

/// The motion's own frame: z along the way, from a point of the axis.
struct SweepFrame {
    Vec3 origin, x, y, z;
    double lead = 0;

    explicit SweepFrame(const Sweep& sweep);
    Vec3 in(Vec3 p) const { return {dot(x, p - origin), dot(y, p - origin), dot(z, p - origin)}; }
    Vec3 out(Vec3 p) const { return origin + p.x * x + p.y * y + p.z * z; }
    bool straight() const { return lead == 0; }
    double period() const { return std::abs(lead); }
};

/// A triangle, or a part of one.
struct SweepElement {
    std::array<Vec3, 3> at;    ///< in the frame
    std::array<Vec3, 3> moved; ///< straight: the same; else (r, f, z)
    double errorR = 0, errorF = 0;
    double lowRadius = 0;
    bool wholeTurn = false; ///< so near to the axis that any f may be on it

    double error() const { return wholeTurn ? errorR : errorR + errorF; }
    double longestMm() const;
};

SweepElement elementOf(const SweepFrame& frame, const std::array<Vec3, 3>& at);
/// Halves, across the longest side.
std::array<SweepElement, 2> halvesOf(const SweepFrame& frame, const SweepElement& element);

/// All triangles of a mesh, pulled in, split until each is nearly flat.
std::vector<SweepElement> elementsOf(const Mesh& mesh, const SweepFrame& frame);

/// The mesh with every point moved so that each of its triangles comes to lie at least `byMm` further in, where that
/// can be had by moving no point by more than a few times as much.
Buffer<Vec3> pulledIn(const Mesh& mesh, double byMm);

} // namespace quoin::mesh
