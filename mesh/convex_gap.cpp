// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/convex_gap.h"

#include "mesh/segment_distance.h"

#include <algorithm>

namespace quoin::mesh {

namespace {

constexpr int mostSteps = 48;
/// Distances are found to this share of themselves.
constexpr double relativeError = 1e-6;
/// Nearer than this is together, mm: rounding of coordinates up to some metres.
constexpr double togetherMm = 1e-9;

/// Up to four points, with their hull's nearest point to the origin.
struct Simplex {
    std::array<Vec3, 4> corner;
    std::size_t count = 0;
};

/// Nearest point of a triangle's hull to the origin; keeps the corners that it is made of (all three when in doubt).
Vec3 nearestOf(const std::array<Vec3, 3>& t)
{
    return nearestOnTriangle(t[0], t[1], t[2], {0, 0, 0});
}

Vec3 nearestOnSegment(Vec3 a, Vec3 b)
{
    const Vec3 ab = b - a;
    const double squared = dot(ab, ab);
    return squared > 0 ? a + std::clamp(-dot(a, ab) / squared, 0.0, 1.0) * ab : a;
}

/// Shrinks a triangle to the edge or corner on which the nearest point lies, when it lies on one.
void keepNeeded(Simplex& s, Vec3 nearest)
{
    for (std::size_t i = 0; i < s.count && s.count > 1; ++i) {
        Simplex fewer;
        for (std::size_t k = 0; k < s.count; ++k)
            if (k != i)
                fewer.corner[fewer.count++] = s.corner[k];
        const Vec3 p = fewer.count == 1   ? fewer.corner[0]
                       : fewer.count == 2 ? nearestOnSegment(fewer.corner[0], fewer.corner[1])
                                          : nearestOf({fewer.corner[0], fewer.corner[1], fewer.corner[2]});
        if (dot(p - nearest, p - nearest) <= 1e-24 * (1 + dot(nearest, nearest))) {
            s = fewer;
            i = static_cast<std::size_t>(-1);
        }
    }
}

/// Nearest point of a tetrahedron to the origin; {0, 0, 0} when it holds it. `s` becomes the face that it lies on.
Vec3 nearestOfFour(Simplex& s)
{
    constexpr std::size_t faces[4][4] = {{0, 1, 2, 3}, {0, 2, 3, 1}, {0, 3, 1, 2}, {1, 3, 2, 0}};
    const auto& c = s.corner;
    Vec3 best{0, 0, 0};
    double least = 1e300;
    const std::size_t* on = nullptr;
    for (const auto& f : faces) {
        const Vec3 n = cross(c[f[1]] - c[f[0]], c[f[2]] - c[f[0]]);
        const double origin = -dot(n, c[f[0]]), other = dot(n, c[f[3]] - c[f[0]]);
        if (origin * other > 0) // on the inner side of this face
            continue;
        const Vec3 p = nearestOf({c[f[0]], c[f[1]], c[f[2]]});
        if (dot(p, p) < least) {
            least = dot(p, p);
            best = p;
            on = f;
        }
    }
    if (on != nullptr)
        s = {{c[on[0]], c[on[1]], c[on[2]], Vec3{0, 0, 0}}, 3};
    return best;
}

Vec3 nearestOf(Simplex& s)
{
    Vec3 p{0, 0, 0};
    if (s.count == 4) {
        p = nearestOfFour(s);
        if (s.count == 4)
            return p;
    } else {
        p = s.count == 1   ? s.corner[0]
            : s.count == 2 ? nearestOnSegment(s.corner[0], s.corner[1])
                           : nearestOf({s.corner[0], s.corner[1], s.corner[2]});
    }
    keepNeeded(s, p);
    return p;
}

Vec3 lowest(const std::array<Vec3, 3>& t, Vec3 d)
{
    const double x = dot(t[0], d), y = dot(t[1], d), z = dot(t[2], d);
    return x <= y && x <= z ? t[0] : y <= z ? t[1] : t[2];
}

/// Point of b - a - shifts that lies lowest along d.
Vec3 lowestDifference(const std::array<Vec3, 3>& a, const std::array<Vec3, 3>& b, const Box3& shifts, Vec3 d)
{
    const Vec3 shift{d.x > 0 ? shifts.max.x : shifts.min.x, d.y > 0 ? shifts.max.y : shifts.min.y,
                     d.z > 0 ? shifts.max.z : shifts.min.z};
    return lowest(b, d) - lowest(a, -d) - shift;
}

} // namespace

GapBounds sweptGap(const std::array<Vec3, 3>& a, const std::array<Vec3, 3>& b, const Box3& shifts, double enoughMm)
{
    Simplex s;
    Vec3 nearest = b[0] - a[0] - shifts.centre();
    GapBounds bounds{0, 1e300};
    for (int step = 0; step < mostSteps; ++step) {
        const double distance = length(nearest);
        bounds.highMm = s.count > 0 ? std::min(bounds.highMm, distance) : bounds.highMm;
        if (distance <= togetherMm)
            return {0, 0};
        const Vec3 support = lowestDifference(a, b, shifts, nearest);
        bounds.lowMm = std::max(bounds.lowMm, dot(support, nearest) / distance);
        if (bounds.lowMm > enoughMm || (s.count > 0 && distance - bounds.lowMm <= relativeError * distance))
            return bounds;
        if (std::find(s.corner.begin(), s.corner.begin() + static_cast<std::ptrdiff_t>(s.count), support) !=
            s.corner.begin() + static_cast<std::ptrdiff_t>(s.count))
            return bounds; // no further point: only rounding is left
        s.corner[s.count++] = support;
        nearest = nearestOf(s);
        if (s.count == 4) // holds the origin, unless rounding says so of a flat one
            return bounds.lowMm > togetherMm ? bounds : GapBounds{0, 0};
    }
    return bounds;
}

} // namespace quoin::mesh
