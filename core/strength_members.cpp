// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/hardware.h"
#include "core/joint_bolt.h"
#include "core/joint_clocking.h"
#include "core/joint_dovetail.h"
#include "core/joint_thread.h"
#include "core/key_outline.h"
#include "core/strength.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace quoin::core {

namespace {

using Kind = JointForm::Kind;

/// Loose dowels and keys are printed lying: layers along the axis.
constexpr double lying = std::numbers::pi / 2;
/// Studs are printed upright, for their flanks' sake: layers across the axis.
constexpr double upright = 0;

/// Bearing face of a hexagon nut, at least, as a share of its width across flats: ISO 4032 dw is 0.86 s (M3) to 0.95 s
/// (M20); from memory.
constexpr double nutSeatOfFlats = 0.86;

struct Place {
    const StrengthScene& scene;
    const Seam& seam;
    const MaterialStrength& material;
    const LoadCase& load;

    const Piece* piece(bool above) const { return scene.piece(above ? seam.pieceAbove : seam.pieceBelow); }
    /// Layers of a piece against the axis of what is grown on it.
    double grownOn(bool above) const
    {
        const Piece* carrier = piece(above);
        return carrier != nullptr ? layerAngle(carrier->pose, scene.cutOf(seam).normal) : upright;
    }
};

void setBore(JointMember& m, double bothMm)
{
    m.boreBelowMm = m.boreAboveMm = bothMm;
}

void asDowel(const Joint& joint, JointMember& m)
{
    // Its flat takes a twentieth of the section: left out, well within what printed strengths vary.
    if (joint.rod != JointForm::Rod::Printed)
        m.material = findStrength(joint.rod == JointForm::Rod::Wood ? "beech" : "steel");
    m.layerAngle = lying;
    setBore(m, joint.diameterMm + 2 * joint.clearanceMm);
}

/// Sizes as the thread is made, or a member without thread when it can't be made.
void asThread(const Joint& joint, const Place& place, JointMember& m)
{
    const bool stud = joint.kind == Kind::Stud;
    m.layerAngle = stud ? upright : place.grownOn(joint.carrierAbove);
    const Result<ThreadLayout> layout = threadLayout(threadedShapeOf(joint));
    if (!layout)
        return;
    const ThreadDimensions& d = layout->dimensions;
    // The bore is the screw's profile set off square to it: the flanks, seen along a radius, by c / sin a.
    const double lead = std::atan(d.leadMm / (std::numbers::pi * d.minorMm));
    const double apart = joint.clearanceMm / std::cos(lead) / std::sin(d.flankHalfAngle);
    m.thread = {d.majorMm,
                d.pitchDiameterMm,
                std::min(d.minorMm, 2 * layout->neckRadiusMm),
                2 * layout->boreMinorRadiusMm,
                d.pitchDiameterMm + 2 * apart,
                d.pitchMm,
                d.leadMm,
                d.flankHalfAngle};
    m.engagementMm = layout->engagedLengthMm();
    const double bore = 2 * std::max({layout->mouthRadiusMm, layout->boreMajorRadiusMm, layout->reliefRadiusMm});
    if (stud || joint.carrierAbove)
        m.boreBelowMm = bore;
    if (stud || !joint.carrierAbove)
        m.boreAboveMm = bore;
}

double edgeMm(const mesh::Loop& loop, std::size_t edge)
{
    return length(loop[(edge + 1) % loop.size()] - loop[edge]);
}

/// Side of the square key (core/joint_strength.h) that presses its wall as much by the same torque.
double crossTurnSideMm(const mesh::Loop& end)
{
    // The flank of one arm, from its outer to its inner edge. Pressure rises with the distance r from the axis up to R:
    // T = 4 p t (R^3 - r^3) / (3 R), for a square T = p t a^2 / 3.
    const double outer = end[3].x, inner = end[4].x;
    return 2 * std::sqrt((outer * outer * outer - inner * inner * inner) / outer);
}

/// What the section of a key bears, from its own outlines: edge 2i of these is the broken corner i, edge 2i + 1 the
/// rest of the edge to the next corner. Flats are taken at the thin end.
void setKeySection(const Joint& joint, const KeyOutline& outline, JointMember& m)
{
    const mesh::Loop face = outline.keyAt(0), end = outline.keyAt(joint.depthMm);
    const double d = joint.diameterMm;
    m.sectionMm2 = std::abs(mesh::signedArea(face));
    const auto roundModulus = [](double diameterMm) { return std::numbers::pi * std::pow(diameterMm, 3) / 16; };
    switch (joint.section) {
    case JointForm::Section::Square:
        m.widthMm = m.heightMm = m.turnSideMm = edgeMm(end, 1);
        // The round bar in it (Roark, table 10.1): less than the square with broken edges.
        m.torsionModulusMm3 = roundModulus(2 * face[1].x);
        break;
    case JointForm::Section::D: {
        // Turned, half its flat h bears: T = p t h^2 / 3. The round bar in it touches the flat and the arc.
        const double flat = edgeMm(end, 0);
        m.widthMm = m.heightMm = flat;
        m.turnSideMm = flat / 2;
        m.torsionModulusMm3 = roundModulus(face[0].x + d / 2);
        break;
    }
    case JointForm::Section::Cross:
        // Two arms bear a push, whichever way it goes; one bar right through bears the torque: less than the cross.
        m.widthMm = m.heightMm = 2 * (end[3].x - end[4].x);
        m.turnSideMm = crossTurnSideMm(end);
        m.torsionModulusMm3 = rectangleTorsionModulusMm3(2 * face[1].x, 2 * keyArmShare * d);
        break;
    }
}

/// A key that can't be made bears nothing.
void asKey(const Joint& joint, const Place& place, JointMember& m)
{
    m.layerAngle = joint.integral ? place.grownOn(joint.carrierAbove) : lying;
    const auto outline = KeyOutline::of(joint);
    if (!outline)
        return;
    setKeySection(joint, *outline, m);
    mesh::Loop taken = outline->mouth();
    const double c = std::cos(joint.angle), s = std::sin(joint.angle);
    for (mesh::Vec2& p : taken)
        p = joint.at + mesh::Vec2{c * p.x - s * p.y, s * p.x + c * p.y};
    if (!joint.integral || joint.carrierAbove)
        m.takenBelow = taken;
    if (!joint.integral || !joint.carrierAbove)
        m.takenAbove = taken;
}

/// A dovetail that can't be made bears nothing.
void asDovetail(const Joint& joint, const Place& place, JointMember& m)
{
    m.layerAngle = place.grownOn(joint.carrierAbove);
    m.slideAngle = joint.angle;
    const mesh::Vec2 way{std::cos(joint.angle), std::sin(joint.angle)}, across{-way.y, way.x};
    // The pull acts in the middle of its length.
    m.at = joint.at + joint.lengthMm / 2 * way;
    const auto layout = dovetailLayout(joint);
    if (!layout)
        return;
    const double lead = layout->leadMm;
    m.widthMm = m.heightMm = joint.lengthMm - 2 * lead;               // its flank lies along the slide
    m.sectionMm2 = layout->neckMm * joint.lengthMm - 2 * lead * lead; // corners of the plan cut off
    // The groove, as wide everywhere as where it is widest, from its blind end to past the key's end.
    const double half = layout->slotWidthMm / 2;
    const mesh::Vec2 from = joint.at - joint.clearanceMm * way, to = joint.at + (joint.lengthMm + half) * way;
    mesh::Loop& groove = joint.carrierAbove ? m.takenBelow : m.takenAbove;
    groove = {from - half * across, to - half * across, to + half * across, from + half * across};
}

/// A clocking key that can't be made bears nothing.
void asClockingKey(const Joint& joint, JointMember& m)
{
    m.layerAngle = lying;
    m.slideAngle = joint.angle;
    const mesh::Vec2 way{std::cos(joint.angle), std::sin(joint.angle)}, across{-way.y, way.x};
    m.at = joint.at + joint.lengthMm / 2 * way;
    const auto layout = clockingLayout(joint);
    if (!layout)
        return;
    const double length = joint.lengthMm - 2 * layout->leadMm;
    m.widthMm = m.heightMm = length; // its flank lies along the slide
    m.depthMm = joint.depthMm - layout->breakMm;
    m.sectionMm2 = joint.diameterMm * length;
    const double half = layout->slotHalfMm;
    const mesh::Vec2 from = joint.at - layout->blindEndMm * way, to = joint.at + joint.nutOutMm * way;
    m.takenBelow = m.takenAbove = {from - half * across, to - half * across, to + half * across, from + half * across};
}

/// A bolt that can't be made bears nothing.
void asBolt(const Joint& joint, const Place& place, JointMember& m)
{
    const double d = joint.diameterMm;
    m.boltClass = boltClass(place.load.boltClass, d);
    m.material = findStrength("steel");
    m.depthMm = std::min(joint.depthMm, joint.gripMm);
    const auto layout = boltLayout(joint);
    const auto thread = metricThread(d);
    const auto washer = plainWasher(d);
    if (!layout || !thread || !washer)
        return;
    m.stressAreaMm2 = thread->stressAreaMm2;
    m.headMm = washer->d2;
    m.headHoleMm = 2 * layout->boreRadiusMm;
    m.headWallMm = joint.gripMm;
    // The widest opening of either side stands for all of it.
    double& headSide = joint.carrierAbove ? m.boreAboveMm : m.boreBelowMm;
    double& nutSide = joint.carrierAbove ? m.boreBelowMm : m.boreAboveMm;
    headSide = 2 * std::max(layout->counterboreRadiusMm, layout->mouthRadiusMm);
    nutSide = 2 * std::max(layout->nutCornerMm, layout->mouthRadiusMm);
    if (joint.hold == JointForm::Hold::Insert) {
        m.insertMm = 2 * layout->insertRadiusMm;
        m.insertLengthMm = heatSetInsert(d)->lengthMm;
        nutSide = 2 * layout->mouthRadiusMm;
    } else {
        m.nutMm = nutSeatOfFlats * hexagonNut(d)->sMin;
        m.nutHoleMm = 2 * layout->boreRadiusMm;
        m.nutWallMm = layout->nutFromMm;
    }
}

JointMember memberOf(const Joint& joint, const Place& place)
{
    JointMember m;
    m.at = joint.at;
    m.diameterMm = joint.diameterMm;
    m.depthMm = joint.depthMm;
    m.material = &place.material;
    switch (joint.kind) {
    case Kind::Dowel:
        m.kind = JointMember::Kind::Dowel;
        asDowel(joint, m);
        break;
    case Kind::Screw:
        m.kind = JointMember::Kind::Screw;
        asThread(joint, place, m);
        break;
    case Kind::Stud:
        m.kind = JointMember::Kind::Stud;
        asThread(joint, place, m);
        break;
    case Kind::Key:
        m.kind = JointMember::Kind::Key;
        asKey(joint, place, m);
        break;
    case Kind::Dovetail:
        m.kind = JointMember::Kind::Dovetail;
        asDovetail(joint, place, m);
        break;
    case Kind::DrawBolt:
        m.kind = JointMember::Kind::DrawBolt;
        asBolt(joint, place, m);
        break;
    case Kind::ClockingKey:
        m.kind = JointMember::Kind::ClockingKey;
        asClockingKey(joint, m);
        break;
    }
    return m;
}

} // namespace

double layerAngle(const Pose& pose, mesh::Vec3 direction)
{
    const mesh::Vec3 printed = pose.printFromAssembled.direction(direction);
    const double length = mesh::length(printed);
    return length > 0 ? std::acos(std::clamp(std::abs(printed.z) / length, 0.0, 1.0)) : 0;
}

std::vector<JointMember> membersOf(const StrengthScene& scene, std::size_t seam, const LoadCase& load)
{
    std::vector<JointMember> members;
    const MaterialStrength* material = findStrength(scene.material);
    if (material == nullptr)
        return members;
    const Place place{scene, scene.seams.at(seam), *material, load};
    for (const Joint& joint : scene.joints)
        if (joint.seam == seam)
            members.push_back(memberOf(joint, place));
    return members;
}

} // namespace quoin::core
