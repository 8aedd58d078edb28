// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_dovetail.h"

#include "core/joint_dowel.h"
#include "core/profile_stack.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace quoin::core {

namespace {

using mesh::Loop;
using mesh::Vec2;
using mesh::Vec3;

/// Flanks: 30 degrees from upright at most, and no narrower a neck than this share of the width.
constexpr double mostLean = 0.57735;
constexpr double neckShare = 0.5;
/// Height of the upright land and of the broken edge above it, as shares of the key's height, at most (mm).
constexpr double landShare = 0.1;
constexpr double largestLandMm = 1;
constexpr double edgeShare = 0.1;
constexpr double largestEdgeMm = 1;
/// Lead-in in plan, as a share of the neck, at most (mm).
constexpr double leadShare = 0.2;
constexpr double largestLeadMm = 3;
/// Chamfer of the groove's lips, mm; of the width on either side.
constexpr double lipMm = 0.4;
/// A foot this much (times the clearance) smaller than the lips' chamfer keeps the clearance: (sqrt 2 - 1 / cos 30) /
/// (1 + tan 30) rounded up.
constexpr double footShare = 0.5;
/// The groove's solid starts so far outside the face, never flush, mm.
constexpr double outsideFaceMm = 0.3;
/// Smallest sizes, mm; the height as shares of the width.
constexpr double smallestWidthMm = 6;
constexpr double leastHeightShare = 0.2;
constexpr double mostHeightShare = 1.5;
/// A side of the key must overlap its groove by so many times the clearance, at least.
constexpr double leastHold = 2;

Problem refused(const Joint& joint, const std::string& what, const std::string& remedy)
{
    return {Reason::BadArgument, fmt::format("a dovetail {:g} mm wide {}", joint.diameterMm, what), "", "", remedy};
}

Status numbersMakeSense(const Joint& joint)
{
    for (const double x : {joint.diameterMm, joint.depthMm, joint.lengthMm, joint.clearanceMm, joint.endClearanceMm,
                           joint.angle, joint.at.x, joint.at.y})
        if (!std::isfinite(x))
            return refused(joint, "has a size that is no number", "Give all sizes in mm.");
    if (joint.diameterMm < smallestWidthMm)
        return refused(joint, "is too narrow", fmt::format("Make it {:g} mm or wider.", smallestWidthMm));
    if (joint.clearanceMm < 0 || joint.endClearanceMm < 0)
        return refused(joint, "has a negative clearance", "Give 0 or more.");
    const double least = leastHeightShare * joint.diameterMm, most = mostHeightShare * joint.diameterMm;
    if (joint.depthMm < least || joint.depthMm > most)
        return refused(joint, fmt::format("can't be {:g} mm high", joint.depthMm),
                       fmt::format("Make it {:g} to {:g} mm high.", least, most));
    if (joint.lengthMm < joint.diameterMm)
        return refused(joint, fmt::format("can't be only {:g} mm long", joint.lengthMm),
                       fmt::format("Make it {:g} mm or longer.", joint.diameterMm));
    return Done{};
}

/// Half the width of the key at a height up to the land.
double halfWidth(const DovetailLayout& l, double heightMm)
{
    return l.neckMm / 2 + l.lean * std::min(heightMm, l.landFromMm);
}

/// Half the width of the groove at a depth below its lips.
double halfSlot(const Joint& joint, const DovetailLayout& l, double depthMm)
{
    return std::min(l.neckMm / 2 + l.lean * depthMm + joint.clearanceMm * std::hypot(1, l.lean),
                    joint.diameterMm / 2 + joint.clearanceMm);
}

/// The key seen from above: a rectangle with its corners cut off, x along the way, about Joint::at.
Loop plan(const Joint& joint, const DovetailLayout& l, double halfMm, double shorterMm = 0)
{
    const double from = shorterMm, to = joint.lengthMm - shorterMm, cut = l.leadMm;
    return {{from, halfMm - cut}, {from, cut - halfMm}, {from + cut, -halfMm}, {to - cut, -halfMm},
            {to, cut - halfMm},   {to, halfMm - cut},   {to - cut, halfMm},    {from + cut, halfMm}};
}

Loop turned(Loop loop, double angle)
{
    const double c = std::cos(angle), s = std::sin(angle);
    for (Vec2& p : loop)
        p = {c * p.x - s * p.y, s * p.x + c * p.y};
    return loop;
}

/// A cylinder along the way that holds everything up to a height over the face and a width.
JointZone zoneAlong(const Joint& joint, const mesh::Plane& cut, const Vec3& up, double fromMm, double toMm,
                    double halfMm, double heightMm)
{
    const Vec3 middle = mesh::frameOf(cut).space(joint.at) + heightMm / 2 * up;
    const Vec3 way = dovetailWay(joint, cut);
    return {middle + fromMm * way, middle + toMm * way, std::hypot(halfMm, heightMm / 2)};
}

SideShape key(const Joint& joint, const DovetailLayout& l, const mesh::Plane& cut, bool above)
{
    const double edge = joint.depthMm - l.landToMm;
    // The foot stands along the flanks only: the blind end of the groove has no chamfer for it.
    ProfileStack stack{{0, plan(joint, l, halfWidth(l, l.footMm) + l.footMm)},
                       {l.footMm, plan(joint, l, halfWidth(l, l.footMm))},
                       {l.landFromMm, plan(joint, l, halfWidth(l, l.landFromMm))},
                       {l.landToMm, plan(joint, l, halfWidth(l, l.landToMm))},
                       {joint.depthMm, plan(joint, l, halfWidth(l, l.landToMm) - edge, edge)}};
    if (l.footMm == 0)
        stack.erase(stack.begin());
    for (ProfileLevel& level : stack)
        level.outline = seenFromSide(turned(level.outline, joint.angle), joint.at, cut, above);
    const mesh::Plane face = outwardPlane(cut, above);
    SideShape side;
    side.patches.push_back({openStack(stack, mesh::frameOf(face))});
    const Vec3 foot = mesh::frameOf(cut).space(joint.at) + joint.lengthMm / 2 * dovetailWay(joint, cut);
    const double half = std::max(halfWidth(l, l.landToMm), halfWidth(l, l.footMm) + l.footMm);
    side.proud.push_back({foot, foot + joint.depthMm * face.normal, std::hypot(joint.lengthMm / 2, half)});
    return side;
}

SideShape groove(const Joint& joint, const DovetailLayout& l, const mesh::Plane& cut, bool above, double outMm)
{
    // Half a section: half widths by depth. Where the flank's parallel meets the land's.
    const double wide = joint.diameterMm / 2 + joint.clearanceMm;
    const double corner = (wide - halfSlot(joint, l, 0)) / l.lean;
    const double lip = halfSlot(joint, l, lipMm);
    const std::vector<Vec2> half{
        {-outsideFaceMm, lip + lipMm + outsideFaceMm}, {lipMm, lip}, {corner, wide}, {l.slotDepthMm, wide}};
    const Vec3 in = -outwardPlane(cut, above).normal, way = dovetailWay(joint, cut);
    // A frame square to the way: x across, y into the material.
    const mesh::PlaneFrame across{mesh::frameOf(cut).space(joint.at), mesh::cross(in, way), in, way};
    Loop section;
    for (const auto& [depth, width] : half)
        section.push_back({width, depth});
    for (auto p = half.rbegin(); p != half.rend(); ++p)
        section.push_back({-p->y, p->x});
    SideShape side;
    side.taken.push_back(closedStack({{-joint.clearanceMm, section}, {outMm, section}}, across));
    side.openings.push_back(
        zoneAlong(joint, cut, in, -joint.clearanceMm, outMm, std::max(wide, lip + lipMm), l.slotDepthMm));
    return side;
}

} // namespace

Result<DovetailLayout> dovetailLayout(const Joint& joint)
{
    if (const Status s = numbersMakeSense(joint); !s)
        return s.problem();
    DovetailLayout l;
    l.landToMm = joint.depthMm - std::min(edgeShare * joint.depthMm, largestEdgeMm);
    l.landFromMm = l.landToMm - std::min(landShare * joint.depthMm, largestLandMm);
    l.lean = std::min(mostLean, (1 - neckShare) * joint.diameterMm / 2 / l.landFromMm);
    l.neckMm = joint.diameterMm - 2 * l.lean * l.landFromMm;
    l.footMm = std::max(0.0, lipMm - footShare * joint.clearanceMm);
    l.leadMm = std::min(leadShare * l.neckMm, largestLeadMm);
    l.slotDepthMm = joint.depthMm + std::max(joint.endClearanceMm, joint.clearanceMm);
    l.slotWidthMm = 2 * std::max(joint.diameterMm / 2 + joint.clearanceMm, halfSlot(joint, l, lipMm) + lipMm);
    const double overlap = joint.diameterMm / 2 - halfSlot(joint, l, lipMm);
    if (overlap < leastHold * joint.clearanceMm || overlap <= lipMm)
        return refused(joint,
                       fmt::format("and {:g} mm high holds by only {:.2f} mm a side at a clearance of {:g} mm",
                                   joint.depthMm, overlap, joint.clearanceMm),
                       "Make it wider or higher, or give less clearance.");
    return l;
}

mesh::Vec3 dovetailWay(const Joint& joint, const mesh::Plane& cut)
{
    const mesh::PlaneFrame frame = mesh::frameOf(cut);
    return std::cos(joint.angle) * frame.u + std::sin(joint.angle) * frame.v;
}

Result<SideShape> dovetailSide(const Joint& joint, const mesh::Plane& cut, bool above, double outMm)
{
    const auto layout = dovetailLayout(joint);
    if (!layout)
        return layout.problem();
    if (!(outMm > joint.lengthMm) || !std::isfinite(outMm))
        return refused(joint, fmt::format("has a groove that ends at {:g} mm, inside the piece", outMm),
                       fmt::format("Let it go on past the skin, beyond {:g} mm.", joint.lengthMm));
    return above == joint.carrierAbove ? key(joint, *layout, cut, above) : groove(joint, *layout, cut, above, outMm);
}

} // namespace quoin::core
