// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_rules.h"

#include "core/joint_dowel.h"
#include "core/joint_envelope.h"
#include "core/joint_size.h"
#include "core/mark.h"
#include "core/open_way.h"
#include "mesh/region.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

namespace quoin::core {

namespace {

using Kind = JointForm::Kind;

/// Less than this is rounding, not a broken rule.
constexpr double roundingMm = 1e-3;
/// Wall between a bore and the letters of a mark; the layout keeps twice that when it places marks.
constexpr double markWallMm = 1.2;
/// Walls thicker than this need not be known exactly.
constexpr double exactWallMm = 20;

/// Faults found so far, as one text.
class Findings {
public:
    void add(const std::string& text, bool impossible)
    {
        m_text += (m_text.empty() ? "" : "; ") + text;
        m_impossible = m_impossible || impossible;
    }
    std::optional<JointFault> fault(std::size_t joint) const
    {
        return m_text.empty() ? std::nullopt : std::optional(JointFault{joint, m_text, m_impossible});
    }

private:
    std::string m_text;
    bool m_impossible = false;
};

/// What goes into the face, in words.
const char* mouthName(const Joint& joint)
{
    switch (joint.kind) {
    case Kind::Screw:
        return "thread";
    case Kind::Key:
        return "pocket";
    case Kind::Dovetail:
        return "groove";
    case Kind::ClockingKey:
        return "slot";
    case Kind::Dowel:
    case Kind::Stud:
    case Kind::DrawBolt:
        break;
    }
    return "bore";
}

/// Whether the mouth stays on the seam.
bool checkFace(const JointScene& scene, const Joint& joint, Findings& findings)
{
    const Seam& seam = scene.seamOf(joint);
    const double edge = mesh::distanceToOutline(seam.region, joint.at);
    const double radius = mouthRadiusMm(joint);
    if (!mesh::contains(seam.region, joint.at))
        findings.add(fmt::format("its middle lies {:.1f} mm off the face between pieces {} and {}: move it onto the "
                                 "face",
                                 edge, seam.pieceBelow, seam.pieceAbove),
                     true);
    else if (liesAlongFace(joint)) {
        if (mouthOnSeam(scene, joint))
            return true;
        findings.add(fmt::format("its {} of {:.1f} by {:.1f} mm leaves the face between pieces {} and {} elsewhere "
                                 "than at its open end: move it inwards, or take a smaller one",
                                 mouthName(joint), joint.lengthMm, 2 * radius, seam.pieceBelow, seam.pieceAbove),
                     true);
    } else if (edge < radius)
        findings.add(fmt::format("its {} of {:.1f} mm radius leaves the face between pieces {} and {} by {:.1f} mm: "
                                 "move it inwards, or take a thinner one",
                                 mouthName(joint), radius, seam.pieceBelow, seam.pieceAbove,
                                 std::max(radius - edge, 0.1)),
                     true);
    else
        return true;
    return false;
}

std::string depthWords(double depthMm)
{
    return depthMm < 0.05 ? "at the face" : fmt::format("at {:.1f} mm depth", depthMm);
}

/// What would hold at this place: a smaller one, or a shallower one.
std::string remedy(const JointScene& scene, const Joint& joint)
{
    const auto holds = [&](const Joint& other) {
        return sizeFault(other).empty() && jointSpare(scene, other, 0).spareMm >= 0;
    };
    std::vector<std::string> ways;
    const std::vector<double> sizes = sizeSeries(joint);
    for (auto d = sizes.rbegin(); d != sizes.rend(); ++d)
        if (*d < joint.diameterMm && holds(resized(joint, *d))) {
            ways.push_back(fmt::format("one of {:g} mm has room here", *d));
            break;
        }
    Joint shallower = joint;
    double low = leastDepthMm(joint), high = joint.depthMm;
    shallower.depthMm = low;
    if (low < high && holds(shallower)) {
        while (high - low > 0.1) {
            shallower.depthMm = 0.5 * (low + high);
            (holds(shallower) ? low : high) = shallower.depthMm;
        }
        ways.push_back(fmt::format("this one would have it {:.1f} mm deep", std::floor(low * 10) / 10));
    }
    std::string text = "; move it away from that side";
    for (const std::string& way : ways)
        text += ", or " + way;
    return text;
}

/// "radius 4, clearance 0.25, mouth 0.15, 2.4 mm wall"
std::string needWords(const JointScene& scene, const Joint& joint, const JointSpare& least)
{
    if (joint.kind == Kind::Dowel)
        return fmt::format("radius {:g}, clearance {:g}, mouth {:g}, {:g} mm wall", joint.diameterMm / 2,
                           joint.clearanceMm, boreMouthMm, scene.wallMm);
    return fmt::format("radius {:.1f}, {:g} mm wall", least.stepRadiusMm, scene.wallMm);
}

void checkRoom(const JointScene& scene, const Joint& joint, Findings& findings)
{
    const JointSpare least = jointSpare(scene, joint, 0);
    if (least.spareMm >= -roundingMm)
        return;
    const std::string where = least.stepFromMm > 0.05
                                  ? fmt::format("from {:.1f} to {:.1f} mm deep", least.stepFromMm, least.stepToMm)
                                  : fmt::format("down to {:.1f} mm deep", least.stepToMm);
    findings.add((least.through ? fmt::format("its {} breaks through the surface of piece {} {}: ", mouthName(joint),
                                              least.piece, depthWords(least.depthMm))
                                : std::string()) +
                     fmt::format("needs {:.1f} mm {} {} ({}); in piece {} there are {:.1f} mm {}: {:.2f} mm too little",
                                 least.needMm, least.isRound ? "around its axis" : "beside it", where,
                                 needWords(scene, joint, least), least.piece, least.needMm + least.spareMm,
                                 depthWords(least.depthMm), -least.spareMm) +
                     remedy(scene, joint),
                 least.through);
}

void checkOthers(const JointScene& scene, const std::vector<Joint>& joints, std::size_t which, Findings& findings)
{
    const Joint joint = withWays(scene, joints[which]);
    for (std::size_t i = 0; i < joints.size(); ++i) {
        if (i == which)
            continue;
        const std::string name = jointName(scene.seams, joints, i);
        if (const std::string clash = clashOf(scene, joint, joints[i]); !clash.empty())
            findings.add(fmt::format("can't be put in beside {} {}: {}", kindName(joints[i].kind), name, clash), false);
        const double wall = wallBetween(scene.seams, scene.plan, joint, joints[i]);
        if (wall >= scene.wallMm - roundingMm)
            continue;
        if (wall <= 0)
            findings.add(fmt::format("its {} runs into that of {} {} by {:.1f} mm: move one of them by {:.1f} mm",
                                     mouthName(joint), kindName(joints[i].kind), name, std::max(-wall, 0.1),
                                     scene.wallMm - wall),
                         true);
        else
            findings.add(fmt::format("{:.1f} mm too close to {} {}: {:.1f} mm of wall is left between them, "
                                     "{:g} mm is wanted",
                                     scene.wallMm - wall, kindName(joints[i].kind), name, wall, scene.wallMm),
                         false);
    }
}

/// Least distance on the face between a letter and what a joint opens there, both sides, mm.
double letterGap(const JointScene& scene, const Joint& joint, const mesh::Recess& letter, bool above)
{
    const mesh::Plane& cut = scene.cutOf(joint);
    const mesh::PlaneFrame own = mesh::frameOf(outwardPlane(cut, above));
    const auto side = jointEnvelope(joint, above);
    if (!side)
        return 1e300;
    const mesh::Region& outline = letter.levels.front().outline;
    if (mesh::contains(outline, own.flat(mesh::frameOf(cut).space(joint.at))))
        return -side->mouthRadiusMm;
    double least = 1e300;
    for (const mesh::Loop& loop : outline)
        for (std::size_t i = 0, j = loop.size() - 1; i < loop.size(); j = i++) {
            const mesh::Vec3 a = own.space(loop[j]), b = own.space(loop[i]);
            for (const Capsule& c : envelopeCapsules(*side, cut, above))
                least = std::min(least, segmentDistance(a, b, c.from, c.to) - c.radiusMm);
            if (side->mouth.size() > 2)
                for (const TakenBody& body : takenBodies(*side, cut, above))
                    least = std::min(least, mesh::length(a - body.nearest(a)));
        }
    return least;
}

void checkMarks(const JointScene& scene, const Joint& joint, const std::vector<Mark>& marks, Findings& findings)
{
    for (const Mark& mark : marks) {
        if (mark.seam != joint.seam)
            continue;
        double least = 1e300;
        for (const bool above : {false, true})
            for (const mesh::Recess& letter : markRecesses(mark, scene.cutOf(joint), above))
                least = std::min(least, letterGap(scene, joint, letter, above));
        if (least < markWallMm)
            findings.add(fmt::format("{:.1f} mm too near to the number {} on the face", markWallMm - least,
                                     scene.seamOf(joint).mark),
                         false);
    }
}

} // namespace

double boreRadiusMm(double diameterMm, double clearanceMm)
{
    return diameterMm / 2 + clearanceMm + boreMouthMm;
}

double radiusNeededMm(double diameterMm, double clearanceMm, double wallMm)
{
    return boreRadiusMm(diameterMm, clearanceMm) + wallMm;
}

Capsule boreCapsule(const Joint& joint, const mesh::Plane& cut, bool above)
{
    const mesh::PlaneFrame frame = mesh::frameOf(cut);
    const double end = (above ? 1 : -1) * (joint.depthMm + joint.endClearanceMm);
    return {frame.space(joint.at), frame.space(joint.at, end), boreRadiusMm(joint.diameterMm, joint.clearanceMm)};
}

double wallBetween(const std::vector<Seam>& seams, const CutPlan& plan, const Joint& a, const Joint& b)
{
    double wall = std::numeric_limits<double>::infinity();
    const Seam &sa = seams[a.seam], &sb = seams[b.seam];
    for (const bool aboveA : {false, true})
        for (const bool aboveB : {false, true}) {
            if ((aboveA ? sa.pieceAbove : sa.pieceBelow) != (aboveB ? sb.pieceAbove : sb.pieceBelow))
                continue;
            const auto bodies = [&](const Joint& joint, const Seam& seam, bool above) {
                const auto side = jointEnvelope(joint, above);
                return side ? takenBodies(*side, plan.nodes[static_cast<std::size_t>(seam.cut)].plane, above)
                            : std::vector<TakenBody>{};
            };
            const std::vector<TakenBody> ofA = bodies(a, sa, aboveA), ofB = bodies(b, sb, aboveB);
            for (const TakenBody& bodyA : ofA)
                for (const TakenBody& bodyB : ofB)
                    wall = std::min(wall, gapBetween(bodyA, bodyB, exactWallMm));
        }
    return wall;
}

std::string jointName(const std::vector<Seam>& seams, const std::vector<Joint>& joints, std::size_t joint)
{
    const auto end = joints.begin() + static_cast<std::ptrdiff_t>(joint) + 1;
    const auto number =
        std::count_if(joints.begin(), end, [&](const Joint& j) { return j.seam == joints[joint].seam; });
    return fmt::format("{}{}", seams[joints[joint].seam].mark, number);
}

std::string sizeFault(double diameterMm, double depthMm)
{
    // Written so that what is no number fails too.
    if (!(diameterMm >= thinnestDowelMm && diameterMm <= thickestDowelMm))
        return fmt::format("a diameter of {:g} mm can't be made: {:g} to {:g} mm", diameterMm, thinnestDowelMm,
                           thickestDowelMm);
    const double least = std::max(shallowestDowelMm, leastReachDiameters * diameterMm);
    if (!(depthMm >= least && depthMm <= deepestDowelMm))
        return fmt::format("a depth of {:g} mm can't be made at {:g} mm diameter: {:g} to {:g} mm", depthMm, diameterMm,
                           least, deepestDowelMm);
    return {};
}

bool mouthOnSeam(const JointScene& scene, const Joint& joint)
{
    const Seam& seam = scene.seamOf(joint);
    const auto side = jointEnvelope(joint, false);
    if (!side)
        return false;
    if (side->mouth.empty())
        return mesh::contains(seam.region, joint.at) &&
               mesh::distanceToOutline(seam.region, joint.at) >= mouthRadiusMm(joint);
    constexpr double roundingMm2 = 1e-2;
    return mesh::area(mesh::difference({side->mouth}, seam.region)) < roundingMm2;
}

JointSpare jointSpare(const JointScene& scene, const Joint& joint, double enoughMm)
{
    const Seam& seam = scene.seamOf(joint);
    JointSpare least{enoughMm};
    for (const bool above : {false, true}) {
        const int piece = above ? seam.pieceAbove : seam.pieceBelow;
        const auto side = jointEnvelope(joint, above);
        if (!side)
            return {-1e300, 0, 0, piece, true};
        for (const EnvelopeStep& step : side->steps) {
            const double need = step.radiusMm + scene.wallMm;
            SkinShadow::Gap gap{};
            if (step.roundEnd) {
                const JointRoom::Gap ball = scene.room.freeRadius(piece, seam.cut, joint.at, step.toMm);
                gap = {ball.radiusMm, ball.depthMm};
            } else {
                const double to = step.toMm + (step.closed ? scene.wallMm : 0);
                gap = scene.room.skinGap(piece, seam.cut, {step.footprint, step.fromMm, to, step.within},
                                         need + least.spareMm);
            }
            if (gap.acrossMm - need < least.spareMm)
                least = {gap.acrossMm - need,          need,        gap.depthMm, piece,
                         gap.acrossMm < step.radiusMm, step.fromMm, step.toMm,   step.radiusMm,
                         step.footprint.size() == 1};
        }
    }
    return least;
}

std::string clashOf(const JointScene& scene, const Joint& a, const Joint& b)
{
    const auto pieces = [&](const Joint& joint) {
        const Seam& seam = scene.seamOf(joint);
        return std::minmax(seam.pieceBelow, seam.pieceAbove);
    };
    if (pieces(a) != pieces(b) || goesInLast(a) || goesInLast(b))
        return {};
    for (const Joint* joint : {&a, &b})
        if (joint->kind == Kind::Screw || joint->kind == Kind::Stud)
            return fmt::format("both join pieces {} and {}, and one of these has to turn about the {}; leave one of "
                               "them out, or take draw bolts",
                               pieces(a).first, pieces(a).second, kindName(joint->kind));
    const bool slides = a.kind == Kind::Dovetail, otherSlides = b.kind == Kind::Dovetail;
    if (slides != otherSlides)
        return fmt::format("both join pieces {} and {}: the dovetail slides in along the face, the {} goes straight "
                           "into it; leave one of them out",
                           pieces(a).first, pieces(a).second, kindName(slides ? b.kind : a.kind));
    return {};
}

std::optional<JointFault> jointFault(const JointScene& scene, const std::vector<Joint>& joints, std::size_t which,
                                     const std::vector<Mark>& marks)
{
    const Joint& joint = joints[which];
    Findings findings;
    if (const std::string size = sizeFault(joint); !size.empty())
        return JointFault{which, size, true};
    if (checkFace(scene, joint, findings)) {
        checkRoom(scene, joint, findings);
        if (opensOutside(joint))
            if (const std::string barred = openWays(scene, joint).fault; !barred.empty())
                findings.add(barred, true);
    }
    checkOthers(scene, joints, which, findings);
    checkMarks(scene, joint, marks, findings);
    return findings.fault(which);
}

} // namespace quoin::core
