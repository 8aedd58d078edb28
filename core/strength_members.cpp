// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/strength.h"
#include "core/thread_mesh.h"

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

// Metal fasteners by their nominal diameter d: bounds on the safe side over M3 to M20.
/// Seat of a socket head, ISO 4762 dk: 1.5 d (M12 and up) to 1.83 d (M3); from memory.
constexpr double headOfSize = 1.5;
/// Clearance hole, ISO 273 medium: 1.09 d to 1.14 d; from memory.
constexpr double holeOfSize = 1.14;
/// Seat of a hexagon nut, ISO 4032 dw: 1.38 d to 1.53 d; from memory.
constexpr double nutOfSize = 1.38;
/// Outside of a heat-set insert: 1.2 d to 1.6 d (common practice, no source).
constexpr double insertOfSize = 1.2;

/// Width of a cross's arms, at least, and of a dovetail's neck, at least, as shares of the diameter.
constexpr double crossArmShare = 0.25, dovetailNeckShare = 0.5;

struct Place {
    const Project& project;
    const Seam& seam;
    const MaterialStrength& material;
    const LoadCase& load;

    const Piece* piece(bool above) const
    {
        const int number = above ? seam.pieceAbove : seam.pieceBelow;
        const auto found = std::find_if(project.pieces.begin(), project.pieces.end(),
                                        [number](const Piece& p) { return p.number == number; });
        return found != project.pieces.end() ? &*found : nullptr;
    }
    /// Layers of a piece against the axis of what is grown on it.
    double grownOn(bool above) const
    {
        const mesh::Plane& plane = project.plan.nodes.at(static_cast<std::size_t>(seam.cut)).plane;
        const Piece* carrier = piece(above);
        return carrier != nullptr ? layerAngle(carrier->pose, plane.normal) : upright;
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
    ThreadedShape shape;
    shape.thread = {joint.thread.trapezoidal ? Thread::Profile::Trapezoidal : Thread::Profile::Printable,
                    joint.diameterMm, joint.thread.pitchMm, joint.thread.starts, joint.thread.leftHand};
    shape.lengthMm = joint.depthMm;
    shape.clearanceMm = joint.clearanceMm;
    shape.endClearanceMm = std::max(joint.endClearanceMm, joint.clearanceMm);
    shape.chordMm = joint.chordMm;
    const Result<ThreadLayout> layout = threadLayout(shape);
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
    const double bore = 2 * std::max(layout->mouthRadiusMm, layout->boreMajorRadiusMm);
    if (stud || joint.carrierAbove)
        m.boreBelowMm = bore;
    if (stud || !joint.carrierAbove)
        m.boreAboveMm = bore;
}

void asKey(const Joint& joint, const Place& place, JointMember& m)
{
    const double d = joint.diameterMm;
    m.layerAngle = joint.integral ? place.grownOn(joint.carrierAbove) : lying;
    if (joint.section == JointForm::Section::Cross) {
        const double arm = crossArmShare * d;
        m.widthMm = m.heightMm = (d - arm) / 2; // the side of one arm
        m.sectionMm2 = (2 * d - arm) * arm;
        m.torsionModulusMm3 = (2 * d - arm) * arm * arm / 3; // thin strips (Roark, table 10.1)
    } else {
        // The square in the circle; a D holds more than that.
        m.widthMm = m.heightMm = d / std::numbers::sqrt2;
        m.sectionMm2 = d * d / 2;
        m.torsionModulusMm3 = rectangleTorsionModulusMm3(m.widthMm, m.widthMm);
    }
    const double bore = d + 2 * joint.clearanceMm;
    if (!joint.integral || joint.carrierAbove)
        m.boreBelowMm = bore;
    if (!joint.integral || !joint.carrierAbove)
        m.boreAboveMm = bore;
}

void asDovetail(const Joint& joint, const Place& place, JointMember& m)
{
    m.layerAngle = place.grownOn(joint.carrierAbove);
    m.slideAngle = joint.angle;
    m.widthMm = joint.lengthMm;
    m.heightMm = joint.lengthMm; // its flank lies along the slide
    m.sectionMm2 = dovetailNeckShare * joint.diameterMm * joint.lengthMm;
    // The pull acts in the middle of its length.
    m.at = joint.at + joint.lengthMm / 2 * mesh::Vec2{std::cos(joint.angle), std::sin(joint.angle)};
}

void asBolt(const Joint& joint, const Place& place, JointMember& m)
{
    const double d = joint.diameterMm;
    const auto thread = metricThread(d);
    m.stressAreaMm2 = thread ? thread->stressAreaMm2 : 0;
    m.boltClass = boltClass(place.load.boltClass, d);
    m.material = findStrength("steel");
    m.depthMm = std::min(joint.depthMm, joint.gripMm);
    m.headMm = headOfSize * d;
    m.headHoleMm = holeOfSize * d;
    m.headWallMm = joint.gripMm;
    setBore(m, holeOfSize * d);
    if (joint.hold == JointForm::Hold::Insert) {
        m.insertMm = insertOfSize * d;
        m.insertLengthMm = joint.depthMm;
        (joint.carrierAbove ? m.boreBelowMm : m.boreAboveMm) = 1.6 * d; // the widest that inserts ask for
    } else {
        m.nutMm = nutOfSize * d;
        m.nutHoleMm = holeOfSize * d;
        m.nutWallMm = joint.depthMm;
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

std::vector<JointMember> membersOf(const Project& project, std::size_t seam, const LoadCase& load)
{
    std::vector<JointMember> members;
    const MaterialStrength* material = findStrength(project.part.material);
    if (material == nullptr)
        return members;
    const Place place{project, project.seams.at(seam), *material, load};
    for (const Joint& joint : project.layout.joints)
        if (joint.seam == seam)
            members.push_back(memberOf(joint, place));
    return members;
}

} // namespace quoin::core
