// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/sweep_element.h"

#include "mesh/plane.h"
#include "mesh/segment_distance.h"

#include <algorithm>
#include <numbers>

namespace quoin::mesh {

namespace {

using std::numbers::pi;

/// Elements are split beforehand until they are flat to this (mm) or have no side longer than the other.
constexpr double flatEnoughMm = 0.03;
constexpr double smallestSideMm = 0.4;
/// A point is pulled in by no more than so many times what its triangles should get.
constexpr double farthestPull = 4;
constexpr int pullRounds = 12;

double distanceToOrigin(Vec3 a, Vec3 b, Vec3 c)
{
    return length(nearestOnTriangle({a.x, a.y, 0}, {b.x, b.y, 0}, {c.x, c.y, 0}, {0, 0, 0}));
}

int longestSide(const std::array<Vec3, 3>& t)
{
    int best = 0;
    double most = -1;
    for (int k = 0; k < 3; ++k) {
        const Vec3 side = t[static_cast<std::size_t>((k + 1) % 3)] - t[static_cast<std::size_t>(k)];
        if (dot(side, side) > most) {
            most = dot(side, side);
            best = k;
        }
    }
    return best;
}

} // namespace

SweepFrame::SweepFrame(const Sweep& sweep) : origin(sweep.point), z(normalized(sweep.direction)), lead(sweep.leadMm)
{
    const PlaneFrame frame = frameOf(planeThrough(sweep.point, z));
    x = frame.u;
    y = frame.v;
}

double SweepElement::longestMm() const
{
    const auto k = static_cast<std::size_t>(longestSide(at));
    return length(at[(k + 1) % 3] - at[k]);
}

SweepElement elementOf(const SweepFrame& frame, const std::array<Vec3, 3>& at)
{
    SweepElement e;
    e.at = at;
    e.moved = at;
    if (frame.straight())
        return e;
    double across = 0;
    for (std::size_t k = 0; k < 3; ++k) {
        const Vec3 side = at[(k + 1) % 3] - at[k];
        across = std::max(across, side.x * side.x + side.y * side.y);
    }
    e.lowRadius = distanceToOrigin(at[0], at[1], at[2]);
    const double rate = frame.lead / (2 * pi), period = frame.period();
    const double first = std::atan2(at[0].y, at[0].x);
    for (std::size_t k = 0; k < 3; ++k) {
        const double turn = std::remainder(std::atan2(at[k].y, at[k].x) - first, 2 * pi);
        e.moved[k] = {std::hypot(at[k].x, at[k].y), at[k].z - rate * (first + turn), at[k].z};
    }
    const double shift = period * std::floor(e.moved[0].y / period);
    for (Vec3& m : e.moved)
        m.y -= shift;
    const double r = e.lowRadius;
    e.errorR = r > 0 ? std::min(across / (6 * r), std::sqrt(across)) : std::sqrt(across);
    e.errorF = r > 0 ? std::abs(rate) * across / (6 * r * r) : 1e300;
    e.wholeTurn = !(e.errorF < period);
    if (e.wholeTurn)
        for (Vec3& m : e.moved)
            m.y = 0;
    return e;
}

std::array<SweepElement, 2> halvesOf(const SweepFrame& frame, const SweepElement& element)
{
    const auto k = static_cast<std::size_t>(longestSide(element.at));
    const Vec3 a = element.at[k], b = element.at[(k + 1) % 3], c = element.at[(k + 2) % 3], middle = 0.5 * (a + b);
    return {elementOf(frame, {a, middle, c}), elementOf(frame, {middle, b, c})};
}

std::vector<SweepElement> elementsOf(const Mesh& mesh, const SweepFrame& frame)
{
    const Buffer<Vec3> points = pulledIn(mesh, sweepPullMm);
    std::vector<SweepElement> out, open;
    out.reserve(mesh.triangles.size());
    for (const Triangle& t : mesh.triangles) {
        open.push_back(elementOf(frame, {frame.in(points[t[0]]), frame.in(points[t[1]]), frame.in(points[t[2]])}));
        while (!open.empty()) {
            const SweepElement e = open.back();
            open.pop_back();
            if (frame.straight() || e.longestMm() <= smallestSideMm || (!e.wholeTurn && e.error() <= flatEnoughMm)) {
                out.push_back(e);
                continue;
            }
            const auto halves = halvesOf(frame, e);
            open.insert(open.end(), halves.begin(), halves.end());
        }
    }
    return out;
}

Buffer<Vec3> pulledIn(const Mesh& mesh, double byMm)
{
    std::vector<Vec3> normals(mesh.triangles.size());
    for (std::size_t t = 0; t < normals.size(); ++t)
        normals[t] = normalized(cross(mesh.corner(t, 1) - mesh.corner(t, 0), mesh.corner(t, 2) - mesh.corner(t, 0)));
    std::vector<Vec3> pull(mesh.points.size(), Vec3{0, 0, 0});
    // Each normal in turn asks for what it still lacks (projections onto half-spaces: Agmon 1954).
    for (int round = 0; round < pullRounds; ++round)
        for (std::size_t t = 0; t < normals.size(); ++t)
            for (const Index v : mesh.triangles[t]) {
                const double lacking = dot(pull[v], normals[t]) + byMm;
                if (lacking > 0)
                    pull[v] = pull[v] - lacking * normals[t];
            }
    Buffer<Vec3> points = mesh.points;
    for (std::size_t v = 0; v < points.size(); ++v) {
        const double l = length(pull[v]), most = farthestPull * byMm;
        points[v] = points[v] + (l > most ? most / l : 1.0) * pull[v];
    }
    return points;
}

} // namespace quoin::mesh
