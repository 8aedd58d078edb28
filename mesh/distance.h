// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "mesh/segment_distance.h"

#include <functional>
#include <memory>
#include <optional>

namespace quoin::mesh {

/// What a ray meets first.
struct SurfaceHit {
    double distanceMm;
    Index triangle; ///< its number in the mesh that the tree was built from
};

/// A tree over the triangles of a mesh for nearest-point, ray and inside questions. Keeps its own copy of what it
/// needs; const calls are safe from several threads.
class SurfaceTree {
public:
    /// @param use  which triangles take part (all when empty)
    explicit SurfaceTree(const Mesh& mesh, const std::function<bool(std::size_t triangle)>& use = {});
    /// Only the listed triangles.
    SurfaceTree(const Mesh& mesh, const std::vector<Index>& triangles);
    ~SurfaceTree();
    SurfaceTree(SurfaceTree&&) noexcept;
    SurfaceTree& operator=(SurfaceTree&&) noexcept;

    bool empty() const;
    /// Distance to the nearest point of the surface, mm; infinity when empty.
    double distance(Vec3 p) const;
    /// Distance from the segment from p to q to the nearest point of the surface, and where along the segment; infinity
    /// when empty.
    SegmentGap distanceToSegment(Vec3 p, Vec3 q) const;
    /// Nearest point of the surface; nullopt when empty.
    std::optional<Vec3> nearest(Vec3 p) const;
    /// Distance along a ray (unit direction) to the first triangle hit beyond minimumMm; nullopt when none is. Never
    /// slips through a seam between triangles; a triangle that the ray lies in is passed over.
    std::optional<double> firstHit(Vec3 origin, Vec3 direction, double minimumMm = 0) const;
    /// The same with the triangle.
    std::optional<SurfaceHit> firstHitTriangle(Vec3 origin, Vec3 direction, double minimumMm = 0) const;
    /// Whether p is inside the closed surface: parity along a ray by exact predicates, ties broken by an infinitesimal
    /// shift of the ray (Edelsbrunner and Muecke 1990), so that no ray has to be tried twice. Points of the surface
    /// itself count as inside or outside, as it falls.
    bool inside(Vec3 p) const;
    /// How often the surface winds round p: 1 inside one closed outward surface, 0 outside, -1 inside a turned one.
    int winding(Vec3 p) const;

private:
    struct Impl;
    std::unique_ptr<Impl> m_impl;
};

/// Points spread over the surface in proportion to area, with the triangle that each lies on. Deterministic; empty
/// when the mesh has no area.
struct SurfacePoint {
    Vec3 point;
    Index triangle;
};
std::vector<SurfacePoint> sampledSurface(const Mesh& mesh, std::size_t count, unsigned seed);

} // namespace quoin::mesh
