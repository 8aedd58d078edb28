// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"

#include <functional>
#include <memory>
#include <optional>

namespace quoin::mesh {

/// A tree over the triangles of a mesh for nearest-point, ray and inside questions. Keeps its own copy of what it
/// needs; const calls are safe from several threads.
class SurfaceTree {
public:
    /// @param use  which triangles take part (all when empty)
    explicit SurfaceTree(const Mesh& mesh, const std::function<bool(std::size_t triangle)>& use = {});
    ~SurfaceTree();
    SurfaceTree(SurfaceTree&&) noexcept;
    SurfaceTree& operator=(SurfaceTree&&) noexcept;

    bool empty() const;
    /// Distance to the nearest point of the surface, mm; infinity when empty.
    double distance(Vec3 p) const;
    /// Nearest point of the surface; nullopt when empty.
    std::optional<Vec3> nearest(Vec3 p) const;
    /// Distance along a ray (unit direction) to the first triangle hit beyond minimumMm; nullopt when none is.
    std::optional<double> firstHit(Vec3 origin, Vec3 direction, double minimumMm = 0) const;
    /// Whether p is inside the closed surface (parity along a ray, tried again in other directions on a tie).
    bool inside(Vec3 p) const;

private:
    struct Impl;
    std::unique_ptr<Impl> m_impl;
};

/// Points spread over the surface in proportion to area, with the triangle that each lies on. Deterministic.
struct SurfacePoint {
    Vec3 point;
    Index triangle;
};
std::vector<SurfacePoint> sampledSurface(const Mesh& mesh, std::size_t count, unsigned seed);

} // namespace quoin::mesh
