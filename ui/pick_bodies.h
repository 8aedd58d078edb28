// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/distance.h"
#include "mesh/mesh.h"
#include "mesh/transform.h"
#include "ui/orbit_camera.h"
#include "ui/surface_brush.h"
#include "ui/view_tool.h"

#include <memory>
#include <optional>
#include <vector>

namespace quoin::ui {

/// A solid that the pointer can be over. All of it is shared and immutable.
struct PickBody {
    mesh::MeshPtr mesh;
    std::shared_ptr<const mesh::SurfaceTree> tree;         ///< of that mesh
    mesh::Transform placement;                             ///< to the scene's frame; any invertible map
    std::shared_ptr<const SurfaceNeighbours> neighbours{}; ///< for tools that walk on the surface; may be null
    mesh::Box3 bounds{};                                   ///< of the mesh in its own frame; empty: worked out

    friend bool operator==(const PickBody& a, const PickBody& b)
    {
        return a.mesh == b.mesh && a.tree == b.tree && a.placement.m == b.placement.m && a.neighbours == b.neighbours;
    }
};

/// Tree, neighbours and bounds of a mesh: about a second for a million triangles, so on a worker thread.
PickBody preparedBody(mesh::MeshPtr mesh, const mesh::Transform& placement = {}, bool withNeighbours = true);

/// What rays meet among bodies.
class PickBodies {
public:
    PickBodies() = default;
    /// Bodies without a mesh or a tree are never hit.
    explicit PickBodies(std::vector<PickBody> bodies);

    const std::vector<PickBody>& bodies() const { return m_bodies; }
    /// The first body along a ray.
    std::optional<ViewHit> hit(const ViewRay& ray) const;
    /// Whether a place of the scene is behind a surface as the camera sees it; what lies within slackMm of it doesn't
    /// hide it.
    bool covered(const OrbitCamera& camera, mesh::Vec3 place, double slackMm) const;
    /// Box round all bodies, scene frame.
    const mesh::Box3& bounds() const { return m_bounds; }

private:
    std::vector<PickBody> m_bodies;
    std::vector<mesh::Transform> m_inverses;
    std::vector<mesh::Vec3> m_middles; ///< of balls round the bodies, scene frame
    std::vector<double> m_radiiMm;
    mesh::Box3 m_bounds;
};

/// The map that undoes an affine one; the same map back when it can't be undone.
mesh::Transform inverseOf(const mesh::Transform& map);

} // namespace quoin::ui
