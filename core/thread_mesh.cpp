// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/thread_mesh.h"

#include "core/helical_surface.h"
#include "core/thread_facets.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace quoin::core {

namespace {

using mesh::Index;
using mesh::Vec2;
using mesh::Vec3;
using std::numbers::pi;

/// A surface for one hand from the right-hand one; a left-hand thread is made with the phase turned round and mirrored.
HelicalMesh meshedForHand(HelicalSurface surface, const ThreadedShape& shape, const ThreadFacets& facets)
{
    surface.starts = shape.thread.starts;
    surface.rateMm = shape.thread.leadMm() / (2 * pi);
    const double phase = shape.thread.leftHand ? -shape.phase : shape.phase;
    surface.phase = std::remainder(phase, 2 * pi);
    HelicalMesh made = meshed(surface, facets.stepRadians, mergedPointsMm);
    return shape.thread.leftHand ? mirrored(std::move(made)) : made;
}

/// Closes the high end by a fan about a point of the axis: a flat end or a cone.
void closeEnd(HelicalMesh& made, double heightMm)
{
    const auto n = static_cast<Index>(made.rim);
    const auto centre = static_cast<Index>(made.mesh.points.size());
    made.mesh.points.push_back({0, 0, heightMm});
    for (Index i = 0; i < n; ++i)
        made.mesh.triangles.push_back({n + i, n + (i + 1) % n, centre});
}

/// A cone from the low rim down to a ring in z = 0, which becomes the rim. Not part of the envelope: it is thicker than
/// the thread's root, and the thread's grooves must not run into it.
void addFoot(HelicalMesh& made, double radiusMm)
{
    mesh::Mesh& mesh = made.mesh;
    const auto n = static_cast<Index>(made.rim);
    const auto shift = static_cast<Index>(mesh.points.size());
    for (mesh::Triangle& t : mesh.triangles)
        for (Index& v : t)
            v = v < n ? v + shift : v;
    for (Index i = 0; i < n; ++i) {
        const Vec3 neck = mesh.points[i];
        mesh.points.push_back(neck);
        const double scale = radiusMm / std::hypot(neck.x, neck.y);
        mesh.points[i] = {neck.x * scale, neck.y * scale, 0};
    }
    for (Index i = 0; i < n; ++i) {
        const Index next = (i + 1) % n;
        mesh.triangles.push_back({i, next, shift + next});
        mesh.triangles.push_back({i, shift + next, shift + i});
    }
}

/// The stud from the face up, or without its foot: from the neck up.
HelicalMesh studMesh(const ThreadedShape& shape, const ThreadLayout& layout, bool withFoot)
{
    const ThreadFacets facets = threadFacets(layout.dimensions, shape.clearanceMm, shape.chordMm);
    HelicalSurface surface;
    surface.profile = threadProfile(layout.dimensions, false, -facets.insetMm, facets.filletErrorMm);
    surface.envelope = studEnvelope(shape, layout);
    surface.smaller = true;
    HelicalMesh made = meshedForHand(std::move(surface), shape, facets);
    closeEnd(made, shape.lengthMm);
    if (withFoot)
        addFoot(made, layout.footRadiusMm);
    return made;
}

/// The band between two rims, both counter-clockwise: round the axis, each time to the nearer next point.
void bridge(mesh::Mesh& mesh, std::vector<Index> low, std::vector<Index> high)
{
    const auto angleOf = [&](Index v) {
        const double angle = std::atan2(mesh.points[v].y, mesh.points[v].x);
        return angle < 0 ? angle + 2 * pi : angle;
    };
    const auto byAngle = [&](Index a, Index b) { return angleOf(a) < angleOf(b); };
    std::rotate(low.begin(), std::min_element(low.begin(), low.end(), byAngle), low.end());
    std::rotate(high.begin(), std::min_element(high.begin(), high.end(), byAngle), high.end());
    const auto angleAt = [&](const std::vector<Index>& ring, std::size_t i) {
        return angleOf(ring[i % ring.size()]) + (i < ring.size() ? 0 : 2 * pi);
    };
    for (std::size_t i = 0, j = 0; i < low.size() || j < high.size();) {
        const bool alongLow = j == high.size() || (i < low.size() && angleAt(low, i + 1) < angleAt(high, j + 1));
        const Index a = low[i % low.size()], b = high[j % high.size()];
        mesh.triangles.push_back({a, alongLow ? low[(i + 1) % low.size()] : high[(j + 1) % high.size()], b});
        ++(alongLow ? i : j);
    }
}

} // namespace

Result<ThreadSurface> externalThread(const ThreadedShape& shape)
{
    auto layout = threadLayout(shape);
    if (!layout)
        return layout.problem();
    HelicalMesh made = studMesh(shape, *layout, true);
    return ThreadSurface{std::move(made.mesh), made.rim, *layout};
}

Result<ThreadSurface> internalThread(const ThreadedShape& shape)
{
    auto layout = threadLayout(shape);
    if (!layout)
        return layout.problem();
    const ThreadFacets facets = threadFacets(layout->dimensions, shape.clearanceMm, shape.chordMm);
    HelicalSurface surface;
    surface.profile = threadProfile(layout->dimensions, true, facets.boreOffsetMm, facets.filletErrorMm);
    surface.envelope = boreEnvelope(*layout);
    surface.smaller = false;
    HelicalMesh made = meshedForHand(std::move(surface), shape, facets);
    closeEnd(made, layout->boreDepthMm);
    turnOver(made.mesh);
    return ThreadSurface{std::move(made.mesh), made.rim, *layout};
}

Result<mesh::Mesh> studSolid(const ThreadedShape& upper, const ThreadedShape& lower)
{
    const auto above = threadLayout(upper), below = threadLayout(lower);
    if (!above || !below)
        return (above ? below : above).problem();
    const HelicalMesh top = studMesh(upper, *above, false);
    const HelicalMesh bottom = studMesh(lower, *below, false);
    const auto shift = static_cast<Index>(top.mesh.points.size());
    mesh::Mesh solid = mesh::joined(top.mesh, mesh::transformed(bottom.mesh, lowerHalfTurn()));
    std::vector<Index> high, low;
    for (Index i = 0; i < top.rim; ++i)
        high.push_back(i);
    // Turned over, the lower rim runs clockwise seen from +z.
    for (auto i = static_cast<Index>(bottom.rim); i > 0; --i)
        low.push_back(shift + i - 1);
    bridge(solid, std::move(low), std::move(high));
    return solid;
}

mesh::Transform lowerHalfTurn()
{
    // Not by an angle: -1 must be exact, so that what lies in z = 0 stays there.
    return mesh::Transform::fromColumns({1, 0, 0}, {0, -1, 0}, {0, 0, -1});
}

mesh::Transform screwMotion(const Thread& thread, double angle)
{
    const double way = (thread.leftHand ? -1 : 1) * thread.leadMm() * angle / (2 * pi);
    return mesh::Transform::translation({0, 0, way}) * mesh::Transform::rotation({0, 0, 1}, angle);
}

} // namespace quoin::core
