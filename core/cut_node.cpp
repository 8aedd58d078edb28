// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/cut_node.h"

#include "core/cut_normals.h"
#include "core/leaf_fit.h"
#include "core/piece.h"
#include "mesh/hull.h"
#include "mesh/mass.h"

#include <algorithm>

namespace quoin::core {

using mesh::Buffer;
using mesh::Vec3;

namespace {

/// Flat faces to stand on that are remembered of a body.
constexpr std::size_t mostDowns = 6, mostCutDowns = 3;

/// Directions that are the same (cosine).
constexpr double sameCosine = 0.9999;

/// Estimates up to this are checked against slices, across so many directions.
constexpr int mostSliced = 6;
constexpr int sliceSteps = 2;

/// Rounding of a volume, as a share.
constexpr double wholeRelative = 1e-9;

/// Points that are pairwise farther apart than any piece is long, picked one after another (Gonzalez 1985).
int apart(const Buffer<Vec3>& points, double longestMm)
{
    std::vector<double> nearest(points.size(), 1e300);
    int count = 0;
    for (std::size_t next = 0; next < points.size();) {
        ++count;
        std::size_t farthest = 0;
        for (std::size_t i = 0; i < points.size(); ++i) {
            nearest[i] = std::min(nearest[i], length(points[i] - points[next]));
            if (nearest[i] > nearest[farthest])
                farthest = i;
        }
        if (nearest[farthest] <= longestMm)
            break;
        next = farthest;
    }
    return count;
}

/// Directions that a piece of a cell may stand on: the newest cuts, and the flat faces of the whole.
std::vector<Vec3> downsOf(const std::vector<HalfSpace>& within, const CutGround& ground)
{
    std::vector<Vec3> downs;
    for (std::size_t i = within.size(); i > 0 && downs.size() < mostCutDowns; --i)
        downs.push_back(within[i - 1].above ? -within[i - 1].plane.normal : within[i - 1].plane.normal);
    for (const Vec3 d : ground.downs)
        if (downs.size() < mostDowns &&
            std::none_of(downs.begin(), downs.end(), [&](Vec3 o) { return dot(o, d) > sameCosine; }))
            downs.push_back(d);
    return downs;
}

CutBody bodyOf(const mesh::Mesh& mesh, const CutNode& node, const CutGround& ground)
{
    CutBody body;
    const Vec3 e = mesh::bounds(mesh).extents();
    if (std::max({e.x, e.y, e.z}) > ground.quick.diagonalMm()) {
        // What is plainly too large needs no exact hull.
        body.outline = furthestPoints(mesh.points);
        body.hullMm3 = mesh::volume(mesh::convexHull(body.outline));
    } else {
        const PieceShape shape(mesh);
        if (shape.empty())
            return body;
        body.fits = fitsBriefly(shape, ground.beds, ground.fit);
        body.outline = shape.hull().points;
        body.estimate = 1;
        if (body.fits)
            return body;
        body.hullMm3 = mesh::volume(shape.hull());
    }
    const double beds = mesh::volume(mesh) / ground.quick.volumeMm3() * (1 - wholeRelative);
    body.least = std::max({2, static_cast<int>(std::ceil(beds)), apart(body.outline, ground.quick.diagonalMm())});
    std::vector<GridFrame> frames = ground.frames;
    for (const Vec3 down : node.downs)
        if (frames.size() < ground.frames.size() + mostCutDowns)
            frames.push_back(frameAlong(down, body.outline));
    const CutSketch sketch = sketchOf(mesh, body.outline);
    Buffer<Vec3> points = sketch.outline;
    points.insert(points.end(), sketch.few.begin(), sketch.few.end());
    points.insert(points.end(), sketch.inside.begin(), sketch.inside.end());
    body.estimate = std::max(body.least, ground.estimator.pieces(frames, points));
    if (body.estimate > std::max(2, body.least) && body.estimate <= mostSliced) {
        std::vector<Vec3> directions = evenDirections(sliceSteps);
        for (const GridFrame& frame : frames)
            directions.insert(directions.end(), frame.axes.begin(), frame.axes.end());
        body.estimate = std::max(body.least, fewSlices(sketch, directions, ground.quick, node.downs, body.estimate));
    }
    return body;
}

} // namespace

std::unique_ptr<CutNode> nodeOf(mesh::Mesh mesh, std::vector<HalfSpace> within, const CutGround& ground)
{
    auto node = std::make_unique<CutNode>();
    node->within = std::move(within);
    node->downs = downsOf(node->within, ground);
    const LeafBodies bodies(mesh, ground.islandsApart);
    for (std::size_t i = 0; i < bodies.size(); ++i) {
        if (bodies.size() > 1 && isCrumb(bodies[i]))
            continue;
        CutBody body = bodyOf(bodies[i], *node, ground);
        if (body.outline.empty())
            continue;
        node->fits = node->fits && body.fits;
        node->estimate += body.estimate;
        node->least += body.least;
        node->bodies.push_back(std::move(body));
    }
    node->pieces = static_cast<int>(node->bodies.size());
    if (node->fits) {
        auto leaf = std::make_shared<PlaneTree>();
        leaf->pieces = node->pieces;
        node->best = std::move(leaf);
    } else {
        node->mesh = std::move(mesh);
    }
    return node;
}

} // namespace quoin::core
