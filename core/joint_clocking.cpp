// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_clocking.h"

#include "core/joint_dovetail.h"
#include "core/joint_dowel.h"
#include "core/profile_stack.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace quoin::core {

namespace {

using mesh::Loop;
using mesh::Vec2;
using mesh::Vec3;

/// Smallest width that prints as a bar, mm; half its height as shares of the width; its length in widths, at least.
constexpr double smallestWidthMm = 3;
constexpr double leastDepthShare = 0.25, mostDepthShare = 1.5;
constexpr double leastLengthWidths = 1;
/// Broken edges and lead-in, as shares of the width, at most (mm).
constexpr double breakShare = 0.1, largestBreakMm = 0.6;
constexpr double leadShare = 0.15, largestLeadMm = 1.5;
/// The slot's solid starts so far outside the face, never flush, mm.
constexpr double outsideFaceMm = 0.3;

Problem refused(const Joint& joint, const std::string& what, const std::string& remedy)
{
    return {Reason::BadArgument, fmt::format("a clocking key {:g} mm wide {}", joint.diameterMm, what), "", "", remedy};
}

/// A rectangle with its corners cut off, about the origin.
Loop section(double halfX, double halfY, double cut)
{
    return {{halfX, cut - halfY},  {halfX, halfY - cut},  {halfX - cut, halfY},  {cut - halfX, halfY},
            {-halfX, halfY - cut}, {-halfX, cut - halfY}, {cut - halfX, -halfY}, {halfX - cut, -halfY}};
}

/// Square to the way: x across, y along `up`.
mesh::PlaneFrame acrossFrame(const Joint& joint, const mesh::Plane& cut, Vec3 up)
{
    const Vec3 way = dovetailWay(joint, cut);
    return {mesh::frameOf(cut).space(joint.at), mesh::cross(up, way), up, way};
}

} // namespace

double ClockingLayout::play(double leverMm) const
{
    // Either piece can go by a clearance against the bar.
    return leverMm > 0 ? std::atan(2 * clearanceMm / leverMm) : 0;
}

Result<ClockingLayout> clockingLayout(const Joint& joint)
{
    for (const double x : {joint.diameterMm, joint.depthMm, joint.lengthMm, joint.clearanceMm, joint.endClearanceMm,
                           joint.angle, joint.at.x, joint.at.y})
        if (!std::isfinite(x))
            return refused(joint, "has a size that is no number", "Give all sizes in mm.");
    if (joint.diameterMm < smallestWidthMm)
        return refused(joint, "is too narrow", fmt::format("Make it {:g} mm or wider.", smallestWidthMm));
    if (joint.clearanceMm < 0 || joint.endClearanceMm < 0)
        return refused(joint, "has a negative clearance", "Give 0 or more.");
    const double least = leastDepthShare * joint.diameterMm, most = mostDepthShare * joint.diameterMm;
    if (joint.depthMm < least || joint.depthMm > most)
        return refused(joint, fmt::format("can't reach {:g} mm into either side", joint.depthMm),
                       fmt::format("Let it reach {:g} to {:g} mm.", least, most));
    if (joint.lengthMm < leastLengthWidths * joint.diameterMm)
        return refused(joint, fmt::format("can't be only {:g} mm long", joint.lengthMm),
                       fmt::format("Make it {:g} mm or longer.", leastLengthWidths * joint.diameterMm));
    ClockingLayout l;
    l.clearanceMm = joint.clearanceMm;
    l.slotHalfMm = joint.diameterMm / 2 + joint.clearanceMm;
    l.slotDepthMm = joint.depthMm + joint.clearanceMm;
    l.blindEndMm = std::max(joint.endClearanceMm, joint.clearanceMm);
    l.breakMm = std::min(breakShare * std::min(joint.diameterMm, 2 * joint.depthMm), largestBreakMm);
    l.leadMm = std::min(leadShare * joint.diameterMm, largestLeadMm);
    return l;
}

Result<SideShape> clockingSide(const Joint& joint, const mesh::Plane& cut, bool above)
{
    const auto layout = clockingLayout(joint);
    if (!layout)
        return layout.problem();
    const double out = joint.nutOutMm;
    if (!(out > joint.lengthMm) || !std::isfinite(out))
        return refused(joint, fmt::format("has a slot that ends at {:g} mm, inside the piece", out),
                       fmt::format("Let it go on past the skin, beyond {:g} mm.", joint.lengthMm));
    const Vec3 in = -outwardPlane(cut, above).normal, way = dovetailWay(joint, cut);
    const double half = layout->slotHalfMm, depth = layout->slotDepthMm;
    const Loop slot{{-half, -outsideFaceMm}, {half, -outsideFaceMm}, {half, depth}, {-half, depth}};
    SideShape side;
    side.taken.push_back(closedStack({{-layout->blindEndMm, slot}, {out, slot}}, acrossFrame(joint, cut, in)));
    const Vec3 middle = mesh::frameOf(cut).space(joint.at) + depth / 2 * in;
    side.openings.push_back({middle - layout->blindEndMm * way, middle + out * way, std::hypot(half, depth / 2)});
    return side;
}

Result<std::vector<JointPart>> clockingParts(const Joint& joint, const mesh::Plane& cut)
{
    const auto layout = clockingLayout(joint);
    if (!layout)
        return layout.problem();
    const double halfX = joint.diameterMm / 2, halfY = joint.depthMm;
    const Loop bar = section(halfX, halfY, layout->breakMm);
    const Loop end = scaledBy(bar, 1 - layout->leadMm / std::max(halfX, halfY));
    const mesh::PlaneFrame frame = acrossFrame(joint, cut, cut.normal);
    const ProfileStack stack{
        {0, end}, {layout->leadMm, bar}, {joint.lengthMm - layout->leadMm, bar}, {joint.lengthMm, end}};
    // Along x, the flank that looks to -u down.
    const mesh::Transform turn =
        mesh::Transform::fromColumns(frame.normal, mesh::cross(frame.u, frame.normal), frame.u).rigidInverse();
    return std::vector<JointPart>{
        {"clocking key",
         fmt::format("clocking key {:g} x {:g} x {:g} mm", joint.diameterMm, 2 * joint.depthMm, joint.lengthMm),
         closedStack(stack, frame),
         mesh::Transform::translation({-joint.lengthMm / 2, 0, halfX}) * turn *
             mesh::Transform::translation(-frame.origin)}};
}

} // namespace quoin::core
