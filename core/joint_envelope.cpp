// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_envelope.h"

#include "core/joint_bolt.h"
#include "core/joint_clocking.h"
#include "core/joint_dovetail.h"
#include "core/joint_key.h"
#include "core/joint_rules.h"
#include "core/joint_thread.h"
#include "core/key_outline.h"

#include <algorithm>
#include <cmath>

namespace quoin::core {

namespace {

using Kind = JointForm::Kind;
using Side = Result<JointEnvelope>;

/// The seat under a bolt's head is held by as much as this many diameters of material all round, at least.
constexpr double seatDiameters = 0.5;

EnvelopeStep roundStep(const Joint& joint, double fromMm, double toMm, double radiusMm, bool closed = true)
{
    return {{joint.at}, radiusMm, fromMm, toMm, closed};
}

JointEnvelope about(const Joint& joint)
{
    JointEnvelope side;
    side.at = joint.at;
    return side;
}

JointEnvelope dowelSide(const Joint& joint)
{
    const double radius = boreRadiusMm(joint.diameterMm, joint.clearanceMm);
    JointEnvelope side = about(joint);
    side.steps.push_back(roundStep(joint, 0, joint.depthMm + joint.endClearanceMm, radius));
    side.steps.back().roundEnd = true;
    side.mouthRadiusMm = radius;
    return side;
}

/// The material that something grown on a face stands on.
JointEnvelope root(const Joint& joint, double radiusMm)
{
    JointEnvelope side = about(joint);
    side.steps.push_back(roundStep(joint, 0, rootDiameters * joint.diameterMm, radiusMm));
    side.mouthRadiusMm = radiusMm;
    return side;
}

Side threadSideOf(const Joint& joint, bool above)
{
    const auto layout = threadLayout(threadedShapeOf(joint));
    if (!layout)
        return layout.problem();
    if (joint.kind == Kind::Screw && above == joint.carrierAbove)
        return root(joint, layout->footRadiusMm);
    JointEnvelope side = about(joint);
    const double bore =
        std::max({layout->boreMajorRadiusMm, layout->reliefRadiusMm, layout->mouthRadiusMm}) + joint.chordMm;
    side.steps.push_back(roundStep(joint, 0, layout->boreDepthMm, bore));
    side.mouthRadiusMm = bore;
    return side;
}

Side keySideOf(const Joint& joint, bool above)
{
    const auto outline = KeyOutline::of(joint);
    if (!outline)
        return outline.problem();
    const double reach = keyReachMm(joint);
    if (joint.integral && above == joint.carrierAbove)
        return root(joint, reach);
    JointEnvelope side = about(joint);
    side.steps.push_back(roundStep(joint, 0, outline->pocketDepthMm(), reach));
    side.mouthRadiusMm = reach;
    return side;
}

/// From the axis along Joint::angle and across it, frame of the cut's plane.
mesh::Vec2 turned(const Joint& joint, double along, double across)
{
    const double c = std::cos(joint.angle), s = std::sin(joint.angle);
    return joint.at + mesh::Vec2{c * along - s * across, s * along + c * across};
}

/// The slot through which a nut is pushed in. Its closed end asks for a wall, and all of it above and below the nut.
void addSideNut(const Joint& joint, const BoltLayout& l, JointEnvelope& side)
{
    const double flat = l.nutFlatMm, out = std::max(joint.nutOutMm, l.nutCornerMm);
    const double roof = flat; // 45 degrees, at most
    // The nut's own place is closed all round but for the way that it comes.
    EnvelopeStep nut{{turned(joint, -l.nutCornerMm, -flat), turned(joint, l.nutFlatMm, -flat),
                      turned(joint, l.nutFlatMm, flat), turned(joint, -l.nutCornerMm, flat)},
                     0,
                     l.nutFromMm,
                     l.nutToMm + roof};
    const mesh::Vec2 way{std::cos(joint.angle), std::sin(joint.angle)};
    nut.within = HalfPlane{way, dot(way, joint.at) + l.nutFlatMm};
    side.steps.push_back(std::move(nut));
    side.openings.push_back({{turned(joint, -l.nutCornerMm, -flat), turned(joint, out, -flat), turned(joint, out, flat),
                              turned(joint, -l.nutCornerMm, flat)},
                             0,
                             l.nutFromMm,
                             l.nutToMm + roof,
                             false});
}

Side boltSideOf(const Joint& joint, bool above)
{
    const auto layout = boltLayout(withWaysOpen(joint));
    if (!layout)
        return layout.problem();
    // Corners of the polygons that bores are made with stand out by as much as their chord error.
    BoltLayout l = *layout;
    for (double* radius : {&l.boreRadiusMm, &l.mouthRadiusMm, &l.counterboreRadiusMm, &l.insertRadiusMm})
        *radius += joint.chordMm;
    const double seat = seatDiameters * joint.diameterMm;
    JointEnvelope side = about(joint);
    side.mouthRadiusMm = l.mouthRadiusMm;
    const double mouthDepth = l.mouthRadiusMm - std::min(l.boreRadiusMm, l.mouthRadiusMm);
    side.steps.push_back(roundStep(joint, 0, mouthDepth, l.mouthRadiusMm, false));
    const auto throughTo = [&](double depthMm, double outMm, double widthMm) {
        side.steps.push_back(roundStep(joint, 0, depthMm, l.boreRadiusMm, false));
        side.steps.push_back(roundStep(joint, std::max(0.0, depthMm - seat), depthMm, widthMm, false));
        side.openings.push_back(roundStep(joint, depthMm, std::max(outMm, depthMm), widthMm, false));
    };
    if (above == joint.carrierAbove) {
        throughTo(joint.gripMm, joint.headOutMm, l.counterboreRadiusMm);
        return side;
    }
    switch (joint.hold) {
    case JointForm::Hold::FarNut:
        throughTo(joint.depthMm, joint.nutOutMm, l.nutCornerMm);
        break;
    case JointForm::Hold::SideNut:
        side.steps.push_back(roundStep(joint, 0, l.boreEndMm, l.boreRadiusMm));
        addSideNut(joint, l, side);
        break;
    case JointForm::Hold::Insert:
        side.steps.push_back(roundStep(joint, 0, l.boreEndMm, l.insertRadiusMm));
        break;
    }
    return side;
}

/// The key's foot, or its groove: both may end at the skin on the way that the key leaves.
Side dovetailSideOf(const Joint& joint, bool above)
{
    const auto layout = dovetailLayout(joint);
    if (!layout)
        return layout.problem();
    const DovetailLayout& l = *layout;
    const double half = l.slotWidthMm / 2;
    const auto along = [&](double fromMm, double toMm, double depthMm, bool closed) {
        return EnvelopeStep{{turned(joint, fromMm, -half), turned(joint, toMm, -half), turned(joint, toMm, half),
                             turned(joint, fromMm, half)},
                            0,
                            0,
                            depthMm,
                            closed};
    };
    const mesh::Vec2 way{std::cos(joint.angle), std::sin(joint.angle)};
    const HalfPlane behind{way, dot(way, joint.at) + joint.lengthMm};
    JointEnvelope side = about(joint);
    const bool carries = above == joint.carrierAbove;
    side.steps.push_back(
        along(-joint.clearanceMm, joint.lengthMm, carries ? rootDiameters * joint.diameterMm : l.slotDepthMm, true));
    side.steps.back().within = behind;
    side.mouth = side.steps.back().footprint;
    side.mouthRadiusMm = half;
    if (!carries && joint.nutOutMm > joint.lengthMm)
        side.openings.push_back(along(joint.lengthMm, joint.nutOutMm, l.slotDepthMm, false));
    return side;
}

/// Half the slot of a clocking key, the same on either side.
Side clockingSideOf(const Joint& joint)
{
    const auto layout = clockingLayout(joint);
    if (!layout)
        return layout.problem();
    const double half = layout->slotHalfMm;
    const auto along = [&](double fromMm, double toMm, bool closed) {
        return EnvelopeStep{{turned(joint, fromMm, -half), turned(joint, toMm, -half), turned(joint, toMm, half),
                             turned(joint, fromMm, half)},
                            0,
                            0,
                            layout->slotDepthMm,
                            closed};
    };
    const mesh::Vec2 way{std::cos(joint.angle), std::sin(joint.angle)};
    JointEnvelope side = about(joint);
    side.steps.push_back(along(-layout->blindEndMm, joint.lengthMm, true));
    side.steps.back().within = HalfPlane{way, dot(way, joint.at) + joint.lengthMm};
    side.mouth = side.steps.back().footprint;
    side.mouthRadiusMm = half;
    if (joint.nutOutMm > joint.lengthMm)
        side.openings.push_back(along(joint.lengthMm, joint.nutOutMm, false));
    return side;
}

} // namespace

double JointEnvelope::deepestMm() const
{
    double deepest = 0;
    for (const auto* list : {&steps, &openings})
        for (const EnvelopeStep& s : *list)
            deepest = std::max(deepest, s.toMm + (s.roundEnd ? s.radiusMm : 0));
    return deepest;
}

Joint withWaysOpen(Joint joint)
{
    // Anything past the outside will do for a layout: only what is made needs the true ends.
    constexpr double farMm = 1e4;
    if (joint.headOutMm <= joint.gripMm)
        joint.headOutMm = joint.gripMm + farMm;
    if (joint.nutOutMm <= joint.depthMm)
        joint.nutOutMm = joint.depthMm + farMm;
    return joint;
}

Result<JointEnvelope> jointEnvelope(const Joint& joint, bool above)
{
    switch (joint.kind) {
    case Kind::Dowel:
        return dowelSide(joint);
    case Kind::Screw:
    case Kind::Stud:
        return threadSideOf(joint, above);
    case Kind::Key:
        return keySideOf(joint, above);
    case Kind::Dovetail:
        return dovetailSideOf(joint, above);
    case Kind::DrawBolt:
        return boltSideOf(joint, above);
    case Kind::ClockingKey:
        return clockingSideOf(joint);
    }
    return Problem{Reason::BadArgument, "no such kind of joint", {}, {}, "Take another kind."};
}

double mouthRadiusMm(const Joint& joint)
{
    double radius = 0;
    for (const bool above : {false, true})
        if (const auto side = jointEnvelope(joint, above))
            radius = std::max(radius, side->mouthRadiusMm);
    return radius;
}

std::vector<Capsule> envelopeCapsules(const JointEnvelope& envelope, const mesh::Plane& cut, bool above)
{
    std::vector<Capsule> capsules;
    const mesh::PlaneFrame frame = mesh::frameOf(cut);
    const double down = above ? 1 : -1;
    for (const auto* list : {&envelope.steps, &envelope.openings})
        for (const EnvelopeStep& s : *list) {
            // Edge by edge: of a flat outline only what is near the face matters to those who ask.
            for (std::size_t i = 0, j = s.footprint.size() - 1; i < s.footprint.size(); j = i++)
                for (const double depth : {s.fromMm, s.toMm})
                    if (s.footprint.size() > 1)
                        capsules.push_back({frame.space(s.footprint[j], down * depth),
                                            frame.space(s.footprint[i], down * depth), s.radiusMm});
            if (s.footprint.size() == 1)
                capsules.push_back({frame.space(s.footprint[0], down * s.fromMm),
                                    frame.space(s.footprint[0], down * s.toMm), s.radiusMm});
        }
    return capsules;
}

TakenBody::TakenBody(const EnvelopeStep& step, const mesh::Plane& cut, bool above)
    : m_frame(mesh::frameOf(cut)),
      m_footprint(step.footprint),
      m_radius(step.radiusMm),
      m_low(above ? step.fromMm : -step.toMm),
      m_high(above ? step.toMm : -step.fromMm),
      m_round(step.roundEnd && step.footprint.size() == 1),
      m_hasArea(m_footprint.size() > 2 && mesh::signedArea(m_footprint) > 0),
      m_around{}
{
    mesh::Vec2 middle{0, 0};
    for (const mesh::Vec2 p : m_footprint)
        middle = middle + (1.0 / static_cast<double>(m_footprint.size())) * p;
    double reach = 0;
    for (const mesh::Vec2 p : m_footprint)
        reach = std::max(reach, mesh::length(p - middle));
    // From the face's side first, as boreCapsule has it.
    m_around = {m_frame.space(middle, above ? m_low : m_high), m_frame.space(middle, above ? m_high : m_low),
                reach + m_radius};
}

mesh::Vec3 TakenBody::nearest(mesh::Vec3 p) const
{
    const double height = dot(m_frame.normal, p - m_frame.origin);
    const mesh::Vec2 q = m_frame.flat(p);
    // Nearest point of the footprint.
    mesh::Vec2 foot = m_footprint.front();
    double least = mesh::length(q - foot);
    bool inside = m_hasArea;
    for (std::size_t i = 0, j = m_footprint.size() - 1; i < m_footprint.size(); j = i++) {
        const mesh::Vec2 a = m_footprint[j], along = m_footprint[i] - a;
        const double square = dot(along, along);
        inside = inside && mesh::cross(along, q - a) >= 0;
        const mesh::Vec2 on = square > 0 ? a + std::clamp(dot(q - a, along) / square, 0.0, 1.0) * along : a;
        if (const double l = mesh::length(q - on); l < least) {
            least = l;
            foot = on;
        }
    }
    if (inside)
        return m_frame.space(q, std::clamp(height, m_low, m_high));
    const double level = std::clamp(height, m_low, m_high);
    if (m_round) {
        const mesh::Vec3 axis = m_frame.space(foot, level), away = p - axis;
        const double l = mesh::length(away);
        return l <= m_radius ? p : axis + (m_radius / l) * away;
    }
    return m_frame.space(least <= m_radius ? q : foot + (m_radius / least) * (q - foot), level);
}

mesh::Vec3 TakenBody::farthest(mesh::Vec3 direction) const
{
    const mesh::Vec2 across{dot(m_frame.u, direction), dot(m_frame.v, direction)};
    const double up = dot(m_frame.normal, direction);
    mesh::Vec2 foot = m_footprint.front();
    for (const mesh::Vec2 p : m_footprint)
        if (dot(across, p) > dot(across, foot))
            foot = p;
    const double level = up > 0 ? m_high : m_low;
    if (m_round)
        return m_frame.space(foot, level) + m_radius * mesh::normalized(direction);
    const double l = mesh::length(across);
    return m_frame.space(l > 0 ? foot + (m_radius / l) * across : foot, level);
}

std::vector<TakenBody> takenBodies(const JointEnvelope& envelope, const mesh::Plane& cut, bool above)
{
    std::vector<TakenBody> bodies;
    for (const auto* list : {&envelope.steps, &envelope.openings})
        for (const EnvelopeStep& s : *list)
            bodies.emplace_back(s, cut, above);
    return bodies;
}

double gapBetween(const TakenBody& a, const TakenBody& b, double exactBelowMm)
{
    const Capsule &ca = a.around(), &cb = b.around();
    const double around = segmentDistance(ca.from, ca.to, cb.from, cb.to) - ca.radiusMm - cb.radiusMm;
    if ((a.isCapsule() && b.isCapsule()) || around >= exactBelowMm)
        return around;
    constexpr int mostSteps = 500;
    constexpr double closeMm = 0.01, touchMm = 1e-6;
    mesh::Vec3 p = a.nearest(0.5 * (cb.from + cb.to)), q = b.nearest(p);
    double bound = 0;
    for (int i = 0; i < mostSteps; ++i) {
        const double gap = mesh::length(q - p);
        if (gap < touchMm)
            return std::min(around, 0.0);
        const mesh::Vec3 way = (q - p) / gap;
        bound = std::max(bound, dot(way, b.farthest(-way) - a.farthest(way)));
        if (gap - bound < closeMm || bound >= exactBelowMm)
            break;
        p = a.nearest(q);
        q = b.nearest(p);
    }
    return std::max(bound, around);
}

} // namespace quoin::core
