// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <cmath>

namespace quoin::mesh {

/// A point or a direction; millimetres when it is a place. Trivial on purpose: buffers of it are not zero-filled.
struct Vec3 {
    double x, y, z;

    friend constexpr Vec3 operator+(Vec3 a, Vec3 b) { return {a.x + b.x, a.y + b.y, a.z + b.z}; }
    friend constexpr Vec3 operator-(Vec3 a, Vec3 b) { return {a.x - b.x, a.y - b.y, a.z - b.z}; }
    friend constexpr Vec3 operator-(Vec3 a) { return {-a.x, -a.y, -a.z}; }
    friend constexpr Vec3 operator*(double s, Vec3 a) { return {s * a.x, s * a.y, s * a.z}; }
    friend constexpr Vec3 operator*(Vec3 a, double s) { return s * a; }
    friend constexpr Vec3 operator/(Vec3 a, double s) { return {a.x / s, a.y / s, a.z / s}; }
    friend constexpr bool operator==(Vec3 a, Vec3 b) { return a.x == b.x && a.y == b.y && a.z == b.z; }
    constexpr double operator[](int axis) const { return axis == 0 ? x : axis == 1 ? y : z; }
};

/// A point in a plane's own frame; millimetres.
struct Vec2 {
    double x, y;

    friend constexpr Vec2 operator+(Vec2 a, Vec2 b) { return {a.x + b.x, a.y + b.y}; }
    friend constexpr Vec2 operator-(Vec2 a, Vec2 b) { return {a.x - b.x, a.y - b.y}; }
    friend constexpr Vec2 operator*(double s, Vec2 a) { return {s * a.x, s * a.y}; }
    friend constexpr bool operator==(Vec2 a, Vec2 b) { return a.x == b.x && a.y == b.y; }
};

constexpr double dot(Vec3 a, Vec3 b)
{
    return a.x * b.x + a.y * b.y + a.z * b.z;
}
constexpr Vec3 cross(Vec3 a, Vec3 b)
{
    return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
inline double length(Vec3 a)
{
    return std::sqrt(dot(a, a));
}
/// The unit vector along a; a itself when it has no length.
inline Vec3 normalized(Vec3 a)
{
    const double l = length(a);
    return l > 0 ? a / l : a;
}
constexpr double dot(Vec2 a, Vec2 b)
{
    return a.x * b.x + a.y * b.y;
}
/// Twice the signed area of the triangle (0, a, b): positive when b is counter-clockwise of a.
constexpr double cross(Vec2 a, Vec2 b)
{
    return a.x * b.y - a.y * b.x;
}
inline double length(Vec2 a)
{
    return std::hypot(a.x, a.y);
}

/// An axis-aligned box; empty (min > max) until something is put in.
struct Box3 {
    Vec3 min{1e300, 1e300, 1e300};
    Vec3 max{-1e300, -1e300, -1e300};

    void add(Vec3 p)
    {
        // Comparisons, not std::fmin: that is a call each. NaN changes nothing either way.
        min = {p.x < min.x ? p.x : min.x, p.y < min.y ? p.y : min.y, p.z < min.z ? p.z : min.z};
        max = {p.x > max.x ? p.x : max.x, p.y > max.y ? p.y : max.y, p.z > max.z ? p.z : max.z};
    }
    bool empty() const { return min.x > max.x; }
    Vec3 extents() const { return empty() ? Vec3{0, 0, 0} : max - min; }
    Vec3 centre() const { return 0.5 * (min + max); }
};

} // namespace quoin::mesh
