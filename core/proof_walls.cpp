// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/proof_placed.h"

#include "core/joint_dovetail.h"
#include "core/joint_dowel.h"
#include "mesh/distance.h"
#include "mesh/plane_cut.h"
#include "mesh/primitives.h"
#include "mesh/self_intersection.h"
#include "mesh/tolerance.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace quoin::core {

namespace {

/// Surfaces farther from a bore than its wall by this much are not looked at: the wall is then "at least".
constexpr double lookBeyondMm = 5;

/// Triangles whose boxes come within reach of the zones.
std::vector<mesh::Index> trianglesNear(const mesh::Mesh& mesh, const std::vector<JointZone>& zones, double reachMm)
{
    mesh::Box3 box;
    for (const JointZone& zone : zones) {
        const double r = zone.radiusMm + reachMm;
        for (const mesh::Vec3 end : {zone.from, zone.to}) {
            box.add(end - mesh::Vec3{r, r, r});
            box.add(end + mesh::Vec3{r, r, r});
        }
    }
    std::vector<mesh::Index> found;
    for (mesh::Index t = 0; t < mesh.triangles.size(); ++t) {
        mesh::Box3 own;
        for (int k = 0; k < 3; ++k)
            own.add(mesh.corner(t, k));
        if (own.min.x <= box.max.x && box.min.x <= own.max.x && own.min.y <= box.max.y && box.min.y <= own.max.y &&
            own.min.z <= box.max.z && box.min.z <= own.max.z)
            found.push_back(t);
    }
    return found;
}

/// Least distance from the edges of some triangles to a surface.
double leastFromEdges(const mesh::Mesh& mesh, const std::vector<mesh::Index>& triangles, const mesh::SurfaceTree& to)
{
    double least = std::numeric_limits<double>::infinity();
    for (const mesh::Index t : triangles)
        for (int k = 0; k < 3; ++k) {
            const mesh::Index a = mesh.triangles[t][static_cast<std::size_t>(k)];
            const mesh::Index b = mesh.triangles[t][static_cast<std::size_t>((k + 1) % 3)];
            // Those inside come twice; which come once, at the border, isn't known.
            least = std::min(least, to.distanceToSegment(mesh.points[a], mesh.points[b]).distanceMm);
        }
    return least;
}

/// Least distance from a solid to some triangles of a mesh; 0 when one has a corner in it.
double gapTo(const mesh::Mesh& solid, const mesh::Mesh& mesh, const std::vector<mesh::Index>& triangles,
             const mesh::SurfaceTree& tree)
{
    const mesh::SurfaceTree own(solid);
    for (const mesh::Index t : triangles)
        for (int k = 0; k < 3; ++k)
            if (own.inside(mesh.corner(t, k)))
                return 0;
    std::vector<mesh::Index> all(solid.triangles.size());
    std::iota(all.begin(), all.end(), mesh::Index{0});
    return std::min(leastFromEdges(solid, all, tree), leastFromEdges(mesh, triangles, own));
}

/// Least distance from a zone, as the flat-ended cylinder that it is, to some triangles of a mesh; 0 when they meet. (A
/// dowel's bore is held against the ball round its end as well: what it is laid out by.)
double gapTo(const JointZone& zone, const mesh::Mesh& mesh, const std::vector<mesh::Index>& triangles,
             const mesh::SurfaceTree& tree)
{
    constexpr int sides = 256; ///< its chords stay within a ten-thousandth of the radius
    for (const mesh::Index t : triangles)
        for (int k = 0; k < 3; ++k)
            if (inZone(zone, mesh.corner(t, k), 0))
                return 0;
    const mesh::Vec3 way = zone.to - zone.from;
    mesh::Mesh solid = mesh::cylinder(zone.radiusMm, mesh::length(way), sides);
    const mesh::PlaneFrame frame = mesh::frameOf(mesh::planeThrough(zone.from, way));
    solid = mesh::transformed(solid, mesh::Transform::translation(zone.from) *
                                         mesh::Transform::fromColumns(frame.u, frame.v, frame.normal));
    return gapTo(solid, mesh, triangles, tree);
}

/// What a slot or a groove takes on one side, up to a wall before it may open to the outside: from there back it has
/// walls all round.
std::vector<mesh::Mesh> closedStretch(const PlacedSide& side, double wallMm)
{
    const PlacedJoint& joint = side.joint;
    std::vector<mesh::Mesh> solids;
    const mesh::Vec3 way = dovetailWay(joint.joint, joint.cut);
    const mesh::Plane end =
        mesh::planeThrough(mesh::frameOf(joint.cut).space(joint.joint.at) + (joint.joint.lengthMm - wallMm) * way, way);
    for (const mesh::Mesh& tool : joint.side(side.above).taken) {
        auto inside = mesh::cutByPlane(tool, joint.cut);
        auto back = inside ? mesh::cutByPlane(side.above ? inside->above : inside->below, end)
                           : Result<mesh::CutHalves>(inside.problem());
        if (back && !back->below.empty())
            solids.push_back(std::move(back->below));
    }
    return solids;
}

} // namespace

mesh::Mesh allOf(const std::vector<mesh::Mesh>& meshes)
{
    mesh::Mesh all;
    for (const mesh::Mesh& m : meshes)
        all = mesh::joined(all, m);
    return all;
}

double clearanceOf(const PlacedSide& side)
{
    const auto near = trianglesNear(side.mesh, side.hollow(), lookBeyondMm);
    const mesh::SurfaceTree piece(side.mesh, near);
    double least = lookBeyondMm;
    for (const mesh::Mesh& inside : side.joint.inside) {
        std::vector<mesh::Index> all(inside.triangles.size());
        std::iota(all.begin(), all.end(), mesh::Index{0});
        least = std::min(least, leastFromEdges(inside, all, piece));
        least = std::min(least, leastFromEdges(side.mesh, near, mesh::SurfaceTree(inside)));
    }
    return least;
}

double wallOf(const Evidence& evidence, const PlacedSide& side, double wallWantedMm)
{
    const double slack = mesh::tolerance::planeSlackMm, reach = wallWantedMm + lookBeyondMm;
    const PieceFeatures& features = evidence.features[static_cast<std::size_t>(side.piece) - 1];
    const bool lies = liesAlongFace(side.joint.joint);
    // A zone round a slot holds more than the slot: its own surface is told by the solid that made it.
    const mesh::SurfaceTree made(lies ? allOf(side.joint.side(side.above).taken) : mesh::Mesh{});
    std::vector<mesh::Index> others;
    for (const mesh::Index t : trianglesNear(side.mesh, lies ? side.hollow() : side.zones(), reach)) {
        bool face = true, own = true, mark = true;
        for (int k = 0; k < 3; ++k) {
            const mesh::Vec3 p = side.mesh.corner(t, k);
            face = face && std::fabs(side.joint.cut.distance(p)) <= slack;
            own = own && (lies ? made.distance(p) <= slack : features.inBore(side.joint.number, p, slack));
            mark = mark && features.inMark(p, slack);
        }
        if (!face && !own && !mark)
            others.push_back(t);
    }
    const mesh::SurfaceTree tree(side.mesh, others);
    double least = reach;
    for (const JointZone& zone : side.zones())
        least = std::min(least, side.joint.joint.kind == Joint::Kind::Dowel
                                    ? tree.distanceToSegment(zone.from, zone.to).distanceMm - zone.radiusMm
                                    : gapTo(zone, side.mesh, others, tree));
    if (lies && !others.empty())
        for (const mesh::Mesh& solid : closedStretch(side, wallWantedMm))
            least = std::min(least, gapTo(solid, side.mesh, others, tree));
    return least;
}

double pullMm(const Joint& joint)
{
    constexpr double spareMm = 0.05;
    const auto layout = dovetailLayout(joint);
    return layout ? joint.clearanceMm * std::hypot(1, layout->lean) / layout->lean + spareMm : 0;
}

bool catches(const PlacedSide& side)
{
    const mesh::Vec3 off = pullMm(side.joint.joint) * outwardPlane(side.joint.cut, side.above).normal;
    return std::any_of(side.joint.inside.begin(), side.joint.inside.end(), [&](const mesh::Mesh& key) {
        return mesh::meshesIntersect(mesh::transformed(key, mesh::Transform::translation(off)), side.mesh);
    });
}

} // namespace quoin::core
