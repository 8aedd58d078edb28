// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_thread.h"

#include "core/joint_defaults.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace quoin::core {

namespace {

mesh::FacePatch placed(const ThreadSurface& surface, const mesh::Transform& place)
{
    return {mesh::transformed(surface.mesh, place)};
}

JointZone alongAxis(const mesh::Transform& place, double lengthMm, double radiusMm)
{
    return {place.point({0, 0, 0}), place.point({0, 0, lengthMm}), radiusMm};
}

/// Facets may stand out past the radii of the layout by the chord error.
double widest(const ThreadedShape& shape, std::initializer_list<double> radii)
{
    return std::max(radii) + shape.chordMm;
}

} // namespace

ThreadedShape threadedShapeOf(const Joint& joint)
{
    ThreadedShape shape;
    shape.thread = threadOf(joint);
    shape.lengthMm = joint.depthMm;
    shape.clearanceMm = joint.clearanceMm;
    shape.endClearanceMm = joint.endClearanceMm;
    shape.chordMm = joint.chordMm;
    return shape;
}

mesh::Transform threadPlace(const Joint& joint, const mesh::Plane& cut, bool intoAbove)
{
    const mesh::PlaneFrame frame = mesh::frameOf(cut);
    const mesh::Vec3 x = std::cos(joint.angle) * frame.u + std::sin(joint.angle) * frame.v;
    const mesh::Vec3 z = intoAbove ? frame.normal : -frame.normal;
    return mesh::Transform::translation(frame.space(joint.at)) * mesh::Transform::fromColumns(x, mesh::cross(z, x), z);
}

Result<SideShape> threadSide(const Joint& joint, const mesh::Plane& cut, bool above)
{
    const ThreadedShape shape = threadedShapeOf(joint);
    const bool carries = joint.kind == Joint::Kind::Screw && joint.carrierAbove == above;
    // The stud of a screw reaches away from its carrier; bores go into their own side.
    const mesh::Transform place = threadPlace(joint, cut, carries ? !above : above);
    const auto surface = carries ? externalThread(shape) : internalThread(shape);
    if (!surface)
        return surface.problem();
    const ThreadLayout& layout = surface->layout;
    SideShape side;
    side.patches.push_back(placed(*surface, place));
    if (carries) {
        side.proud.push_back(
            alongAxis(place, shape.lengthMm, widest(shape, {layout.footRadiusMm, layout.dimensions.majorMm / 2})));
    } else {
        side.zones.push_back(
            alongAxis(place, layout.boreDepthMm,
                      widest(shape, {layout.mouthRadiusMm, layout.boreMajorRadiusMm, layout.reliefRadiusMm})));
    }
    return side;
}

Result<std::vector<JointPart>> threadParts(const Joint& joint, const mesh::Plane& cut)
{
    if (joint.kind != Joint::Kind::Stud)
        return std::vector<JointPart>{};
    const ThreadedShape half = threadedShapeOf(joint);
    auto solid = studSolid(half, half);
    if (!solid)
        return solid.problem();
    const mesh::Transform place = threadPlace(joint, cut, true);
    const mesh::Transform pose = mesh::Transform::translation({0, 0, half.lengthMm}) * place.rigidInverse();
    return std::vector<JointPart>{{"stud",
                                   fmt::format("stud {} x {:g} mm", designation(half.thread), 2 * half.lengthMm),
                                   mesh::transformed(*solid, place), pose}};
}

} // namespace quoin::core
