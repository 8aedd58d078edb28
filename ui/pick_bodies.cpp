// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/pick_bodies.h"

#include <cmath>
#include <limits>
#include <utility>

namespace quoin::ui {

using mesh::Transform;
using mesh::Vec3;

namespace {

/// Room for rounding in the balls round bodies: a share of their size, and mm.
constexpr double ballRoom = 1 + 1e-6, leastBallMm = 1e-6;

mesh::Box3 placedBox(const mesh::Box3& box, const Transform& placement)
{
    mesh::Box3 placed;
    for (int k = 0; k < 8 && !box.empty(); ++k)
        placed.add(placement.point(
            {k & 1 ? box.max.x : box.min.x, k & 2 ? box.max.y : box.min.y, k & 4 ? box.max.z : box.min.z}));
    return placed;
}

Vec3 placedNormal(const PickBody& body, mesh::Index t)
{
    const Vec3 a = body.placement.point(body.mesh->corner(t, 0)), b = body.placement.point(body.mesh->corner(t, 1)),
               c = body.placement.point(body.mesh->corner(t, 2));
    const Vec3 n = normalized(cross(b - a, c - a));
    return body.placement.determinant() < 0 ? -n : n;
}

} // namespace

Transform inverseOf(const Transform& map)
{
    const Vec3 x{map.m[0], map.m[4], map.m[8]}, y{map.m[1], map.m[5], map.m[9]}, z{map.m[2], map.m[6], map.m[10]};
    const double volume = dot(x, cross(y, z));
    if (volume == 0 || !std::isfinite(volume))
        return map;
    // Rows of the inverse are the cross products of the columns.
    const Vec3 a = cross(y, z) / volume, b = cross(z, x) / volume, c = cross(x, y) / volume;
    const Vec3 t{map.m[3], map.m[7], map.m[11]};
    return {{a.x, a.y, a.z, -dot(a, t), b.x, b.y, b.z, -dot(b, t), c.x, c.y, c.z, -dot(c, t), 0, 0, 0, 1}};
}

PickBody preparedBody(mesh::MeshPtr mesh, const Transform& placement, bool withNeighbours)
{
    PickBody body{mesh, std::make_shared<const mesh::SurfaceTree>(*mesh), placement};
    if (withNeighbours)
        body.neighbours = std::make_shared<const SurfaceNeighbours>(neighboursOf(*mesh));
    body.bounds = mesh::bounds(*mesh);
    return body;
}

PickBodies::PickBodies(std::vector<PickBody> bodies) : m_bodies(std::move(bodies))
{
    for (PickBody& body : m_bodies) {
        m_inverses.push_back(inverseOf(body.placement));
        if (body.bounds.empty() && body.mesh)
            body.bounds = mesh::bounds(*body.mesh);
        const mesh::Box3 placed = placedBox(body.bounds, body.placement);
        m_middles.push_back(placed.empty() ? Vec3{0, 0, 0} : placed.centre());
        m_radiiMm.push_back(placed.empty() ? 0 : leastBallMm + 0.5 * ballRoom * length(placed.extents()));
        if (!placed.empty()) {
            m_bounds.add(placed.min);
            m_bounds.add(placed.max);
        }
    }
}

std::optional<ViewHit> PickBodies::hit(const ViewRay& ray) const
{
    std::optional<ViewHit> best;
    double nearest = std::numeric_limits<double>::infinity();
    const Vec3 along1 = normalized(ray.direction);
    for (std::size_t i = 0; i < m_bodies.size(); ++i) {
        const PickBody& body = m_bodies[i];
        if (!body.tree || !body.mesh)
            continue;
        // Most of many bodies are passed at a distance, or lie behind what has been met.
        const Vec3 to = m_middles[i] - ray.origin;
        const double reach = dot(to, along1), radius = m_radiiMm[i];
        if (dot(to, to) - reach * reach > radius * radius || reach < -radius)
            continue;
        if (best && reach - radius > dot(best->point - ray.origin, along1))
            continue;
        const Vec3 origin = m_inverses[i].point(ray.origin);
        const Vec3 direction = normalized(m_inverses[i].direction(ray.direction));
        const auto hit = body.tree->firstHitTriangle(origin, direction);
        if (!hit)
            continue;
        const Vec3 point = body.placement.point(origin + hit->distanceMm * direction);
        const double along = dot(point - ray.origin, ray.direction);
        if (along < nearest) {
            nearest = along;
            best = ViewHit{i, hit->triangle, point, placedNormal(body, hit->triangle)};
        }
    }
    return best;
}

bool PickBodies::covered(const OrbitCamera& camera, Vec3 place, double slackMm) const
{
    const auto seen = camera.project(place);
    if (!seen)
        return true;
    ViewRay ray = camera.rayThrough(*seen);
    const double far = dot(place - ray.origin, ray.direction);
    const auto first = hit(ray);
    return first && dot(first->point - ray.origin, ray.direction) < far - slackMm;
}

} // namespace quoin::ui
