// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/thread_profile.h"
#include "mesh/mesh.h"

#include <vector>

namespace quoin::core {

/// A right-hand thread that ends at cones and cylinders: the radius is a function of angle and height,
///     r(theta, z) = min or max of profile(z - rate (theta - phase)) and envelope(z),
/// piecewise linear in (theta, z), since both parts are. What turns a thread off (a lead-in cone, a neck) is part of
/// the envelope with the minimum; an entry chamfer or a relief with the maximum.
struct HelicalSurface {
    ThreadProfile profile;
    int starts = 1;
    double rateMm = 1; ///< way along z a radian: lead / 2 pi
    double phase = 0;  ///< radians: the profile's s = 0 crosses z = 0 here
    /// (z, r), z ascending; its ends are those of the surface. No corner may lie between the smallest and the largest
    /// radius of the profile, and no slope may equal one of the profile's.
    std::vector<mesh::Vec2> envelope;
    bool smaller = true; ///< minimum (a stud) or maximum (a bore)

    double radiusAt(double theta, double z) const;
    double envelopeAt(double z) const;
};

/// The surface as triangles, normals away from the axis. Points 0 to rim - 1 lie on the low end, rim to 2 rim - 1 on
/// the high end, both counter-clockwise seen from +z.
struct HelicalMesh {
    mesh::Mesh mesh;
    std::size_t rim = 0;
};

/// Every crease of r(theta, z) is a straight line in (theta, z) and becomes a row of mesh edges; columns stand at every
/// angle where creases meet and at most stepRadians apart. All points lie on the surface (at their own theta, z, r),
/// so a facet is off by its chords only. Facets of different columns' gaps lie in different wedges about the axis and
/// those of one gap are stacked along it: the mesh doesn't meet itself.
/// @param mergeMm  points of a column closer than this are one: no needles finer than a file can hold. A crease is then
///        missed by at most this.
HelicalMesh meshed(const HelicalSurface& surface, double stepRadians, double mergeMm);

/// The mirror image in y = 0 (a left-hand thread), normals still away from the axis and rims counter-clockwise.
HelicalMesh mirrored(HelicalMesh made);

/// Turns every triangle over.
void turnOver(mesh::Mesh& mesh);

} // namespace quoin::core
