// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/vec3.h"

#include <vector>

namespace quoin::mesh {

/// The plane { p : normal . p = offset }. `normal` is a unit vector, offset in mm. "Above" is the side that the
/// normal points to.
struct Plane {
    Vec3 normal{0, 0, 1};
    double offset = 0;

    double distance(Vec3 p) const { return dot(normal, p) - offset; }
    friend constexpr bool operator==(const Plane&, const Plane&) = default;
};

/// The plane with a normal of any length (not zero) at a distance from the origin along it.
inline Plane planeAt(Vec3 normal, double offset) { return {normalized(normal), offset}; }
inline Plane planeThrough(Vec3 point, Vec3 normal)
{
    const Vec3 n = normalized(normal);
    return {n, dot(n, point)};
}

/// A right-handed frame in a plane: u x v = normal. Chosen from the normal alone, so both sides of a cut, and the
/// proof later, get the same frame.
struct PlaneFrame {
    Vec3 origin, u, v, normal;

    Vec2 flat(Vec3 p) const { return {dot(u, p - origin), dot(v, p - origin)}; }
    Vec3 space(Vec2 q, double height = 0) const { return origin + q.x * u + q.y * v + height * normal; }
};

PlaneFrame frameOf(const Plane& plane);

/// A closed loop of points in a plane, not repeated at the end. Counter-clockwise encloses, clockwise is a hole.
using Loop = std::vector<Vec2>;
/// A region of a plane: outer loops counter-clockwise, holes clockwise, none crossing.
using Region = std::vector<Loop>;

double signedArea(const Loop& loop);
/// Area of a region, holes taken off; mm2.
double area(const Region& region);
/// Whether a point lies inside (even-odd over all loops).
bool contains(const Region& region, Vec2 p);
/// Distance from a point to the nearest edge of any loop, mm; infinity for an empty region.
double distanceToOutline(const Region& region, Vec2 p);

} // namespace quoin::mesh
