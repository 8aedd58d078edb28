// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/grid_frame.h"

#include "mesh/hull.h"
#include "mesh/plane.h"

#include <algorithm>
#include <optional>

namespace quoin::core {

using mesh::Buffer;
using mesh::Vec2;
using mesh::Vec3;

namespace {

constexpr std::size_t mostFaces = 150;

/// Frames whose axes agree within this are the same (cosine of half a degree).
constexpr double sameCosine = 0.99996;

/// Turns of Jacobi's method: a symmetric 3x3 matrix is diagonal to rounding after a few.
constexpr int jacobiSweeps = 20;

std::array<Vec3, 3> rightHanded(Vec3 x, Vec3 y)
{
    return {x, y, cross(x, y)};
}

bool sameFrame(const GridFrame& a, const GridFrame& b)
{
    const auto hasTwin = [&](Vec3 u) {
        return std::any_of(b.axes.begin(), b.axes.end(), [&](Vec3 v) { return std::abs(dot(u, v)) > sameCosine; });
    };
    return std::all_of(a.axes.begin(), a.axes.end(), hasTwin);
}

/// A box around the hull with one side in a direction and the rectangle across it turned along an edge.
struct AroundBox {
    std::array<Vec3, 3> axes;
    Vec3 extents;
    double volume() const { return extents.x * extents.y * extents.z; }
    double longest() const { return std::max({extents.x, extents.y, extents.z}); }
};

/// The box of least volume among those with `up` as one side: its rectangle lies along an edge of the shadow
/// (Freeman and Shapira 1975).
std::optional<AroundBox> leastBoxAbout(Vec3 up, const Buffer<Vec3>& points)
{
    const mesh::PlaneFrame frame = mesh::frameOf({up, 0});
    std::vector<Vec2> shadow;
    double low = 1e300, high = -1e300;
    for (const Vec3 p : points) {
        shadow.push_back(frame.flat(p));
        low = std::min(low, dot(up, p));
        high = std::max(high, dot(up, p));
    }
    const mesh::Loop polygon = mesh::convexHull(std::move(shadow));
    std::optional<AroundBox> best;
    for (std::size_t i = 0, j = polygon.size() - 1; polygon.size() >= 3 && i < polygon.size(); j = i++) {
        const Vec2 e = polygon[i] - polygon[j];
        const Vec2 u = (1 / length(e)) * e, v{-u.y, u.x};
        mesh::Box3 box;
        for (const Vec2 p : polygon)
            box.add({dot(u, p), dot(v, p), 0});
        const Vec3 extents{box.extents().x, box.extents().y, high - low};
        const AroundBox around{{u.x * frame.u + u.y * frame.v, v.x * frame.u + v.y * frame.v, up}, extents};
        if (!best || around.volume() < best->volume())
            best = around;
    }
    return best;
}

} // namespace

/// Eigenvectors of the inertia tensor by Jacobi's rotations (Jacobi 1846).
std::array<Vec3, 3> principalAxes(const mesh::MassProperties& mass)
{
    double a[3][3] = {{mass.ixx, mass.ixy, mass.ixz}, {mass.ixy, mass.iyy, mass.iyz}, {mass.ixz, mass.iyz, mass.izz}};
    double v[3][3] = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
    for (int sweep = 0; sweep < jacobiSweeps; ++sweep)
        for (const auto& [p, q] : {std::pair{0, 1}, std::pair{0, 2}, std::pair{1, 2}}) {
            if (a[p][q] == 0)
                continue;
            const double angle = 0.5 * std::atan2(2 * a[p][q], a[q][q] - a[p][p]);
            const double c = std::cos(angle), s = std::sin(angle);
            for (auto& row : a) {
                const double x = row[p], y = row[q];
                row[p] = c * x - s * y;
                row[q] = s * x + c * y;
            }
            for (int k = 0; k < 3; ++k) {
                const double x = a[p][k], y = a[q][k];
                a[p][k] = c * x - s * y;
                a[q][k] = s * x + c * y;
                const double vx = v[k][p], vy = v[k][q];
                v[k][p] = c * vx - s * vy;
                v[k][q] = s * vx + c * vy;
            }
        }
    return rightHanded(normalized(Vec3{v[0][0], v[1][0], v[2][0]}), normalized(Vec3{v[0][1], v[1][1], v[2][1]}));
}

std::vector<GridFrame> gridFrames(const PieceShape& part, const mesh::MassProperties& mass)
{
    std::vector<GridFrame> frames{{{Vec3{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}, "along the part's own axes"}};
    const auto add = [&](const GridFrame& frame) {
        if (std::none_of(frames.begin(), frames.end(), [&](const GridFrame& f) { return sameFrame(f, frame); }))
            frames.push_back(frame);
    };
    const Buffer<Vec3>& points = part.hull().points;
    std::optional<AroundBox> leastVolume, leastLongest;
    std::vector<Vec3> directions = part.faceDirections();
    directions.resize(std::min(directions.size(), mostFaces));
    for (const Vec3 up : directions) {
        const auto box = leastBoxAbout(up, points);
        if (box && (!leastVolume || box->volume() < leastVolume->volume()))
            leastVolume = box;
        if (box && (!leastLongest || box->longest() < leastLongest->longest()))
            leastLongest = box;
    }
    if (leastVolume)
        add({leastVolume->axes, "along the smallest box around the part"});
    for (const Vec3 axis : {Vec3{0, 0, 1}, {0, 1, 0}, {1, 0, 0}})
        if (const auto box = leastBoxAbout(axis, points))
            add({box->axes, "turned about one of the part's axes"});
    add({principalAxes(mass), "along the part's axes of inertia"});
    if (leastLongest)
        add({leastLongest->axes, "along the box of least length around the part"});
    return frames;
}

mesh::Box3 boundsIn(const GridFrame& frame, const Buffer<Vec3>& points)
{
    mesh::Box3 box;
    for (const Vec3 p : points)
        box.add({dot(frame.axes[0], p), dot(frame.axes[1], p), dot(frame.axes[2], p)});
    return box;
}

} // namespace quoin::core
