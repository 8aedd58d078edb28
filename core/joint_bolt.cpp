// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_bolt.h"

#include "core/bolt_layout.h"
#include "core/hardware.h"
#include "core/joint_dowel.h"
#include "core/profile_stack.h"
#include "mesh/primitives.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace quoin::core {

namespace {

using mesh::Loop;
using mesh::Vec2;
using mesh::Vec3;
using std::numbers::pi;

/// A solid that goes through a face starts so far outside of it, never flush.
constexpr double outsideFaceMm = 0.3;
/// Slots at the corners of a nut's pocket: half their width along a wall, and their depth, mm.
constexpr double reliefHalfMm = 0.4;
constexpr double reliefDepthMm = boltCornerReliefMm;
/// Half the flat strip of a side slot's roof, as a share of the bore's radius: the bore cuts it away.
constexpr double roofShare = 0.6;

/// Turns what is told along depths into what shapes are made of.
class Side {
public:
    Side(const Joint& joint, const mesh::Plane& cut, bool above)
        : m_joint(joint), m_cut(cut), m_above(above), m_own(mesh::frameOf(outwardPlane(cut, above)))
    {
    }

    Loop circle(double radiusMm) const { return circleRound(radiusMm, mesh::sidesForChord(radiusMm, m_joint.chordMm)); }
    /// With as many corners as the circle of another radius: both are ends of one wall.
    Loop circle(double radiusMm, double otherMm) const
    {
        return circleRound(radiusMm, mesh::sidesForChord(otherMm, m_joint.chordMm));
    }
    /// An outline about the axis, x along the joint's angle, in the frame of this side.
    Loop seen(Loop outline) const
    {
        const double c = std::cos(m_joint.angle), s = std::sin(m_joint.angle);
        for (Vec2& p : outline)
            p = {c * p.x - s * p.y, s * p.x + c * p.y};
        return seenFromSide(outline, m_joint.at, m_cut, m_above);
    }
    /// Levels by their depths, downwards, as a closed body.
    mesh::Mesh body(const ProfileStack& byDepth) const
    {
        ProfileStack stack;
        for (auto level = byDepth.rbegin(); level != byDepth.rend(); ++level)
            stack.push_back({-level->heightMm, seen(level->outline)});
        return closedStack(stack, m_own);
    }
    mesh::Recess recess(const ProfileStack& byDepth) const
    {
        mesh::Recess recess;
        for (const ProfileLevel& level : byDepth)
            recess.levels.push_back({level.heightMm, {seen(level.outline)}});
        return recess;
    }
    Vec3 axisAt(double depthMm) const { return mesh::frameOf(m_cut).space(m_joint.at) - depthMm * m_own.normal; }
    /// Along Joint::angle.
    Vec3 sideways() const
    {
        const mesh::PlaneFrame frame = mesh::frameOf(m_cut);
        return std::cos(m_joint.angle) * frame.u + std::sin(m_joint.angle) * frame.v;
    }
    /// From a frame with its axis along z, x along Joint::angle, to a depth on this side, z inwards.
    mesh::Transform place(double depthMm) const
    {
        const Vec3 in = -m_own.normal;
        return mesh::Transform::translation(axisAt(depthMm)) *
               mesh::Transform::fromColumns(sideways(), mesh::cross(in, sideways()), in);
    }
    JointZone zone(double fromMm, double toMm, double radiusMm) const
    {
        return {axisAt(fromMm), axisAt(toMm), radiusMm};
    }

private:
    const Joint& m_joint;
    const mesh::Plane& m_cut;
    bool m_above;
    mesh::PlaneFrame m_own;
};

/// The zones of a bore with a chamfered mouth.
void addBoreZones(SideShape& shape, const Side& side, double radiusMm, double depthMm)
{
    shape.mouths.push_back(
        side.zone(0, boltMouthChamferMm, reachOf(side.circle(radiusMm + boltMouthChamferMm, radiusMm))));
    shape.zones.push_back(side.zone(0, depthMm, reachOf(side.circle(radiusMm))));
}

/// A chamfered bore from outside the face down to where something wider begins.
ProfileStack throughBore(const Side& side, const BoltLayout& layout, double toMm)
{
    const double start = layout.boreRadiusMm + boltMouthChamferMm + outsideFaceMm;
    const Loop bore = side.circle(layout.boreRadiusMm);
    return {{-outsideFaceMm, side.circle(start, layout.boreRadiusMm)}, {boltMouthChamferMm, bore}, {toMm, bore}};
}

SideShape headSide(const Joint& joint, const Side& side, const BoltLayout& layout)
{
    ProfileStack stack = throughBore(side, layout, joint.gripMm);
    const Loop counterbore = side.circle(layout.counterboreRadiusMm);
    stack.push_back({joint.gripMm, counterbore});
    stack.push_back({joint.headOutMm, counterbore});
    SideShape shape;
    shape.taken.push_back(side.body(stack));
    addBoreZones(shape, side, layout.boreRadiusMm, joint.gripMm);
    shape.openings.push_back(side.zone(joint.gripMm, joint.headOutMm, reachOf(counterbore)));
    return shape;
}

/// A hexagon, corners along x, with a slot at each corner.
Loop relievedHexagon(double flatMm)
{
    const double side = 2 * flatMm * std::tan(pi / 6), corner = flatMm / std::cos(pi / 6);
    const auto cornerAt = [&](int k) { return Vec2{corner * std::cos(k * pi / 3), corner * std::sin(k * pi / 3)}; };
    Loop loop;
    for (int k = 0; k < 6; ++k) {
        const Vec2 p = cornerAt(k);
        const Vec2 before = p + (reliefHalfMm / side) * (cornerAt(k + 5) - p);
        const Vec2 after = p + (reliefHalfMm / side) * (cornerAt(k + 1) - p);
        const Vec2 out = (reliefDepthMm / corner) * p;
        loop.insert(loop.end(), {before, before + out, after + out, after});
    }
    return loop;
}

SideShape farNutSide(const Joint& joint, const Side& side, const BoltLayout& layout)
{
    ProfileStack stack = throughBore(side, layout, joint.depthMm);
    const Loop pocket = relievedHexagon(layout.nutFlatMm);
    stack.push_back({joint.depthMm, pocket});
    stack.push_back({joint.nutOutMm, pocket});
    SideShape shape;
    shape.taken.push_back(side.body(stack));
    addBoreZones(shape, side, layout.boreRadiusMm, joint.depthMm);
    shape.openings.push_back(side.zone(joint.depthMm, joint.nutOutMm, reachOf(pocket)));
    return shape;
}

SideShape sideNutSide(const Joint& joint, const Side& side, const BoltLayout& layout)
{
    const Loop bore = side.circle(layout.boreRadiusMm);
    const Loop mouth = side.circle(layout.boreRadiusMm + boltMouthChamferMm, layout.boreRadiusMm);
    SideShape shape;
    shape.recesses.push_back(side.recess({{0, mouth}, {boltMouthChamferMm, bore}, {layout.boreEndMm, bore}}));
    addBoreZones(shape, side, layout.boreRadiusMm, layout.boreEndMm);
    const double flat = layout.nutFlatMm, back = flat * std::tan(pi / 6), roof = flat - roofShare * layout.boreRadiusMm;
    const Loop slot{
        {joint.nutOutMm, -flat}, {joint.nutOutMm, flat}, {-back, flat}, {-layout.nutCornerMm, 0}, {-back, -flat}};
    const double top = layout.nutToMm + roof;
    shape.taken.push_back(side.body(
        {{layout.nutFromMm, slot}, {layout.nutToMm, slot}, {top, movedEdges(slot, {0, -roof, -roof, -roof, -roof})}}));
    const Vec3 middle = side.axisAt((layout.nutFromMm + top) / 2);
    shape.openings.push_back({middle - layout.nutCornerMm * side.sideways(), middle + joint.nutOutMm * side.sideways(),
                              std::hypot(flat, (top - layout.nutFromMm) / 2)});
    return shape;
}

SideShape insertSide(const Joint& joint, const Side& side, const BoltLayout& layout)
{
    const double radius = layout.insertRadiusMm, end = insertEndRadiusMm(joint, layout);
    const double cone = layout.nutToMm + insertMeltMm;
    const auto circle = [&](double r) { return side.circle(r, radius); };
    const Loop mouth = circle(radius + boltMouthChamferMm);
    SideShape shape;
    shape.recesses.push_back(side.recess({{0, mouth},
                                          {boltMouthChamferMm, circle(radius)},
                                          {cone, circle(radius)},
                                          {cone + radius - end, circle(end)},
                                          {layout.boreEndMm, circle(end)}}));
    addBoreZones(shape, side, radius, layout.boreEndMm);
    return shape;
}

/// A circle as a polygon in it, for what goes into bores.
Loop discOf(double radiusMm, double chordMm)
{
    const int sides = mesh::sidesForChord(radiusMm, chordMm);
    return scaledBy(circleRound(radiusMm, sides), std::cos(pi / sides));
}

/// A flat body with a round hole.
mesh::Mesh pierced(const Loop& outline, double holeMm, double heightMm, double chordMm)
{
    Loop hole = discOf(holeMm / 2, chordMm);
    std::reverse(hole.begin(), hole.end());
    return mesh::prism({outline, hole}, heightMm);
}

} // namespace

Result<std::vector<mesh::Mesh>> boltInPlace(const Joint& joint, const mesh::Plane& cut)
{
    const auto layout = boltLayout(joint);
    if (!layout)
        return layout.problem();
    const double d = joint.diameterMm, chord = joint.chordMm, loose = joint.clearanceMm;
    const SocketHeadScrew screw = socketHeadScrew(d).value();
    const PlainWasher washer = plainWasher(d).value();
    const Side head(joint, cut, joint.carrierAbove), other(joint, cut, !joint.carrierAbove);
    const double under = joint.gripMm + washer.h + loose;
    const Loop shank = discOf(d / 2, chord), cap = discOf(screw.dk / 2, chord);
    std::vector<mesh::Mesh> solids{
        head.body({{under - layout->lengthMm, shank}, {under, shank}, {under, cap}, {under + screw.k, cap}}),
        mesh::transformed(pierced(discOf(washer.d2 / 2, chord), washer.d1, washer.h, chord),
                          head.place(joint.gripMm + loose))};
    if (joint.hold == JointForm::Hold::Insert)
        return solids;
    const HexagonNut nut = hexagonNut(d).value();
    solids.push_back(
        mesh::transformed(pierced(circleRound(nut.s / 2, 6), d, nut.m, chord), other.place(joint.depthMm + loose)));
    return solids;
}

Result<double> boltLengthMm(const Joint& joint)
{
    const auto layout = boltLayout(joint);
    if (!layout)
        return layout.problem();
    return layout->lengthMm;
}

Result<SideShape> boltSide(const Joint& joint, const mesh::Plane& cut, bool above)
{
    const auto layout = boltLayout(joint);
    if (!layout)
        return layout.problem();
    const Side side(joint, cut, above);
    if (above == joint.carrierAbove)
        return headSide(joint, side, *layout);
    switch (joint.hold) {
    case JointForm::Hold::FarNut:
        return farNutSide(joint, side, *layout);
    case JointForm::Hold::SideNut:
        return sideNutSide(joint, side, *layout);
    case JointForm::Hold::Insert:
        break;
    }
    return insertSide(joint, side, *layout);
}

} // namespace quoin::core
