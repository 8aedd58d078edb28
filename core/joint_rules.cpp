// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_rules.h"

#include "core/joint_dowel.h"
#include "core/mark.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

namespace quoin::core {

namespace {

/// Less than this is rounding, not a broken rule.
constexpr double roundingMm = 1e-3;
/// Wall between a bore and the letters of a mark; the layout keeps twice that when it places marks.
constexpr double markWallMm = 1.2;

const mesh::Plane& cutOf(const JointScene& scene, const Joint& joint)
{
    return scene.plan.nodes[static_cast<std::size_t>(scene.seams[joint.seam].cut)].plane;
}

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

/// Whether the mouth stays on the seam.
bool checkFace(const Joint& joint, const Seam& seam, Findings& findings)
{
    const double edge = mesh::distanceToOutline(seam.region, joint.at);
    const double radius = boreRadiusMm(joint.diameterMm, joint.clearanceMm);
    if (!mesh::contains(seam.region, joint.at))
        findings.add(fmt::format("its middle lies {:.1f} mm off the face between pieces {} and {}: move it onto the "
                                 "face",
                                 edge, seam.pieceBelow, seam.pieceAbove),
                     true);
    else if (edge < radius)
        findings.add(fmt::format("its bore of {:.1f} mm radius leaves the face between pieces {} and {} by {:.1f} mm: "
                                 "move it inwards, or take a thinner one",
                                 radius, seam.pieceBelow, seam.pieceAbove, std::max(radius - edge, 0.1)),
                     true);
    else
        return true;
    return false;
}

std::string depthWords(double depthMm)
{
    return depthMm < 0.05 ? "at the face" : fmt::format("at {:.1f} mm depth", depthMm);
}

/// What would hold at this place in a piece: a thinner dowel, or a shallower one.
std::string remedy(const JointScene& scene, const Joint& joint, int piece, double freeRadius)
{
    const Seam& seam = scene.seams[joint.seam];
    std::vector<std::string> ways;
    double thinner = 0;
    for (const double d : dowelSeriesMm)
        if (d < joint.diameterMm && radiusNeededMm(d, joint.clearanceMm, scene.wallMm) <= freeRadius)
            thinner = d;
    if (thinner > 0)
        ways.push_back(fmt::format("one of {:g} mm has room here", thinner));
    const double need = radiusNeededMm(joint.diameterMm, joint.clearanceMm, scene.wallMm);
    const auto holds = [&](double depth) {
        return scene.room.freeRadius(piece, seam.cut, joint.at, depth + joint.endClearanceMm).radiusMm >= need;
    };
    double low = std::max(shallowestDowelMm, leastReachDiameters * joint.diameterMm), high = joint.depthMm;
    if (low < high && holds(low)) {
        while (high - low > 0.1) {
            const double middle = 0.5 * (low + high);
            (holds(middle) ? low : high) = middle;
        }
        ways.push_back(fmt::format("this one would have it {:.1f} mm deep", std::floor(low * 10) / 10));
    }
    std::string text = "; move it away from that side";
    for (const std::string& way : ways)
        text += ", or " + way;
    return text;
}

void checkRoom(const JointScene& scene, const Joint& joint, Findings& findings)
{
    const Seam& seam = scene.seams[joint.seam];
    const double need = radiusNeededMm(joint.diameterMm, joint.clearanceMm, scene.wallMm);
    const double bore = boreRadiusMm(joint.diameterMm, joint.clearanceMm);
    const double depth = joint.depthMm + joint.endClearanceMm;
    JointRoom::Gap worst{1e300, 0};
    int piece = 0;
    for (const int p : {seam.pieceBelow, seam.pieceAbove})
        if (const auto gap = scene.room.freeRadius(p, seam.cut, joint.at, depth); gap.radiusMm < worst.radiusMm) {
            worst = gap;
            piece = p;
        }
    if (worst.radiusMm >= need - roundingMm)
        return;
    const bool through = worst.radiusMm < bore;
    findings.add(
        (through ? fmt::format("its bore breaks through the surface of piece {} {}: ", piece, depthWords(worst.depthMm))
                 : std::string()) +
            fmt::format("needs {:.1f} mm around its axis down to {:.1f} mm deep (radius {:g}, clearance {:g}, mouth "
                        "{:g}, {:g} mm wall); in piece {} there are {:.1f} mm {}: {:.2f} mm too little",
                        need, depth, joint.diameterMm / 2, joint.clearanceMm, boreMouthMm, scene.wallMm, piece,
                        worst.radiusMm, depthWords(worst.depthMm), need - worst.radiusMm) +
            remedy(scene, joint, piece, worst.radiusMm),
        through);
}

void checkOthers(const JointScene& scene, const std::vector<Joint>& joints, std::size_t which, Findings& findings)
{
    const Joint& joint = joints[which];
    for (std::size_t i = 0; i < joints.size(); ++i) {
        if (i == which)
            continue;
        const double wall = wallBetween(scene.seams, scene.plan, joint, joints[i]);
        if (wall >= scene.wallMm - roundingMm)
            continue;
        const std::string name = jointName(scene.seams, joints, i);
        if (wall <= 0)
            findings.add(fmt::format("its bore runs into that of dowel {} by {:.1f} mm: move one of them by {:.1f} mm",
                                     name, -wall, scene.wallMm - wall),
                         true);
        else
            findings.add(fmt::format("{:.1f} mm too close to dowel {}: {:.1f} mm of wall is left between the bores, "
                                     "{:g} mm is wanted",
                                     scene.wallMm - wall, name, wall, scene.wallMm),
                         false);
    }
}

void checkMarks(const JointScene& scene, const Joint& joint, const std::vector<Mark>& marks, Findings& findings)
{
    const Seam& seam = scene.seams[joint.seam];
    const double radius = boreRadiusMm(joint.diameterMm, joint.clearanceMm) + markWallMm;
    for (const Mark& mark : marks) {
        if (mark.seam != joint.seam)
            continue;
        const mesh::Plane& cut = cutOf(scene, joint);
        double least = 1e300;
        for (const bool above : {false, true}) {
            const mesh::Vec2 middle = mesh::frameOf(outwardPlane(cut, above)).flat(mesh::frameOf(cut).space(joint.at));
            for (const mesh::Recess& letter : markRecesses(mark, cut, above)) {
                const mesh::Region& outline = letter.levels.front().outline;
                least = std::min(least, mesh::contains(outline, middle) ? 0 : mesh::distanceToOutline(outline, middle));
            }
        }
        if (least < radius)
            findings.add(fmt::format("{:.1f} mm too near to the number {} on the face", radius - least, seam.mark),
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
            const Capsule ca = boreCapsule(a, plan.nodes[static_cast<std::size_t>(sa.cut)].plane, aboveA);
            const Capsule cb = boreCapsule(b, plan.nodes[static_cast<std::size_t>(sb.cut)].plane, aboveB);
            wall = std::min(wall, segmentDistance(ca.from, ca.to, cb.from, cb.to) - ca.radiusMm - cb.radiusMm);
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

std::optional<JointFault> jointFault(const JointScene& scene, const std::vector<Joint>& joints, std::size_t which,
                                     const std::vector<Mark>& marks)
{
    const Joint& joint = joints[which];
    Findings findings;
    if (const std::string size = sizeFault(joint.diameterMm, joint.depthMm); !size.empty())
        return JointFault{which, size, true};
    if (checkFace(joint, scene.seams[joint.seam], findings))
        checkRoom(scene, joint, findings);
    checkOthers(scene, joints, which, findings);
    checkMarks(scene, joint, marks, findings);
    return findings.fault(which);
}

} // namespace quoin::core
