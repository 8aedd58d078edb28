// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/plane.h"

#include <cstdint>
#include <vector>

/// Outlines on a grid of whole micrometres, in convex parts: what nesting reckons with, without any rounding.
namespace quoin::core {

inline constexpr double nestStepMm = 0.001;

struct NestPoint {
    std::int64_t x = 0, y = 0;
    friend constexpr NestPoint operator+(NestPoint a, NestPoint b) { return {a.x + b.x, a.y + b.y}; }
    friend constexpr NestPoint operator-(NestPoint a, NestPoint b) { return {a.x - b.x, a.y - b.y}; }
    friend constexpr bool operator==(NestPoint a, NestPoint b) = default;
};
/// Twice the area of the triangle (0, a, b).
constexpr std::int64_t cross(NestPoint a, NestPoint b)
{
    return a.x * b.y - a.y * b.x;
}
inline mesh::Vec2 placeOf(NestPoint p)
{
    return {static_cast<double>(p.x) * nestStepMm, static_cast<double>(p.y) * nestStepMm};
}

using NestLoop = std::vector<NestPoint>;

struct NestBox {
    NestPoint low{INT64_MAX, INT64_MAX}, high{INT64_MIN, INT64_MIN};
    void add(NestPoint p);
    bool holdsInside(NestPoint p) const { return p.x > low.x && p.x < high.x && p.y > low.y && p.y < high.y; }
};
NestBox boxOf(const NestLoop& loop);

/// An outline in one turn.
struct NestShape {
    std::vector<NestLoop> parts; ///< convex, counter-clockwise, together the outline and what it was grown by
    NestLoop hull;               ///< of the outline alone, not grown; counter-clockwise
    NestBox box;                 ///< of the hull
};

/// An outline turned about its own origin, grown by growMm (half the gap to the next one), with few corners: the parts
/// hold the grown outline and reach at most thinMm further, at sharp corners twice growMm; outlines with very many
/// corners up to four times thinMm. Not grown, with corners on the grid and not many of them, it stays exactly as it
/// is. Holes too small to hold anything (narrower than leastHoleMm) are filled, and so are notches narrower than half
/// that.
NestShape nestShape(const mesh::Region& outline, double turn, double growMm, double thinMm, double leastHoleMm = 25);

/// Turned about the origin by quarters, exactly.
NestLoop quarterTurned(const NestLoop& loop, int quarters);
NestShape quarterTurned(const NestShape& shape, int quarters);

/// Convex hull, counter-clockwise, no three in a line.
NestLoop nestHull(std::vector<NestPoint> points);

} // namespace quoin::core
