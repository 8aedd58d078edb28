// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/face_polygon.h"

#include "mesh/triangulate.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <tuple>

namespace quoin::mesh {

namespace {

/// Forward error of the 2x2 determinant below, relative to the sum of its terms' magnitudes (Shewchuk 1997,
/// "Adaptive precision floating-point arithmetic", bound A: (3 + 16 u) u with u = 2^-53).
constexpr double turnErrorRelative = 3.3306690738754716e-16;

/// Area vector of a closed polygon, twice the size (Newell's sum about the first corner).
Vec3 areaVector(std::span<const Index> corners, const Buffer<Vec3>& points)
{
    Vec3 sum{0, 0, 0};
    const Vec3 origin = points[corners[0]];
    for (std::size_t i = 1; i + 1 < corners.size(); ++i)
        sum = sum + cross(points[corners[i]] - origin, points[corners[i + 1]] - origin);
    return sum;
}

/// The two axes of the coordinate plane that sees most of the face, in the order that shows it counter-clockwise.
/// Dropping a coordinate is exact, unlike a turn into the face's own plane.
std::array<int, 2> axesFacing(Vec3 area)
{
    const double x = std::abs(area.x), y = std::abs(area.y), z = std::abs(area.z);
    const int dropped = x >= y && x >= z ? 0 : y >= z ? 1 : 2;
    const int u = (dropped + 1) % 3, v = (dropped + 2) % 3;
    return area[dropped] > 0 ? std::array{u, v} : std::array{v, u};
}

bool surelyLeftTurn(Vec2 a, Vec2 b, Vec2 c)
{
    const double left = (a.x - c.x) * (b.y - c.y), right = (a.y - c.y) * (b.x - c.x);
    return left - right > turnErrorRelative * (std::abs(left) + std::abs(right));
}

/// Whether every corner turns left without doubt and the outline goes round once: only then is a fan right and
/// without triangles of no area.
bool strictlyConvex(const std::vector<Vec2>& outline)
{
    const std::size_t n = outline.size();
    std::size_t reversals = 0;
    for (std::size_t i = 0; i < n; ++i) {
        const Vec2 a = outline[i], b = outline[(i + 1) % n], c = outline[(i + 2) % n];
        if (!surelyLeftTurn(a, b, c))
            return false;
        // Lexicographic direction of an edge: it changes exactly twice on one round.
        const auto forward = [](Vec2 p, Vec2 q) { return p.x < q.x || (p.x == q.x && p.y < q.y); };
        reversals += forward(a, b) != forward(b, c);
    }
    return reversals == 2;
}

void appendFan(std::span<const Index> corners, Buffer<Triangle>& triangles)
{
    for (std::size_t i = 1; i + 1 < corners.size(); ++i)
        triangles.push_back({corners[0], corners[i], corners[i + 1]});
}

std::vector<Index> withoutRepeats(std::span<const Index> corners, const Buffer<Vec3>& points)
{
    std::vector<Index> kept;
    for (const Index c : corners)
        if (kept.empty() || !(points[kept.back()] == points[c]))
            kept.push_back(c);
    while (kept.size() > 1 && points[kept.front()] == points[kept.back()])
        kept.pop_back();
    return kept;
}

/// The outline's edges, each place named by the first corner on it.
std::vector<OutlineEdge> outlineEdges(const std::vector<Index>& corners, const Buffer<Vec3>& points)
{
    std::map<std::tuple<double, double, double>, Index> firstAt;
    std::vector<Index> place;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const Vec3 p = points[corners[i]];
        place.push_back(firstAt.try_emplace({p.x, p.y, p.z}, static_cast<Index>(i)).first->second);
    }
    std::vector<OutlineEdge> edges;
    for (std::size_t i = 0; i < place.size(); ++i)
        edges.push_back({place[i], place[(i + 1) % place.size()]});
    return edges;
}

} // namespace

FaceOutcome appendFace(std::span<const Index> corners, const Buffer<Vec3>& points, Buffer<Triangle>& triangles)
{
    const std::vector<Index> face = withoutRepeats(corners, points);
    if (face.size() < 3)
        return FaceOutcome::Vanished;
    const Vec3 area = areaVector(face, points);
    if (face.size() == 3 || !(dot(area, area) > 0)) {
        appendFan(face, triangles);
        return FaceOutcome::Done;
    }
    const auto [u, v] = axesFacing(area);
    std::vector<Vec2> outline;
    for (const Index c : face)
        outline.push_back({points[c][u], points[c][v]});
    if (strictlyConvex(outline)) {
        appendFan(face, triangles);
        return FaceOutcome::Done;
    }
    const Result<OutlineTriangles> inside = triangulateOutline(outline, outlineEdges(face, points));
    // Places that fall together only as seen in the plane: the face isn't flat, and folds over.
    if (!inside || !inside->merged.empty()) {
        appendFan(face, triangles);
        return FaceOutcome::CrossesItself;
    }
    for (const Triangle& t : inside->triangles)
        triangles.push_back({face[t[0]], face[t[1]], face[t[2]]});
    return FaceOutcome::Done;
}

} // namespace quoin::mesh
