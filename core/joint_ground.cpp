// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_ground.h"

#include "core/joint_size.h"
#include "core/open_way.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace quoin::core {

namespace {

/// What lies past a feature's wall by this is still seen.
constexpr double reachSpareMm = 2;
/// The largest printed thread and its wall reach no deeper into a piece than this; no more is asked about on a face
/// than it is wide.
constexpr double chosenReachMm = 260;
constexpr double reachOfWidth = 1.1;
/// Dowels of the series have their room in this.
constexpr double dowelReachMm = 70;
/// Longest reach of what stands by hand.
constexpr double handReachMm = 2000;

/// How far from a cut's plane anything may be asked about.
double reachFor(const std::vector<Seam>& seams, const JointOptions& options, const SeamChoices& choices)
{
    double reach = dowelReachMm;
    for (std::size_t i = 0; i < seams.size(); ++i) {
        reach = std::max(reach, std::min(chosenReachMm, reachOfWidth * std::sqrt(seams[i].areaMm2)));
        if (const FaceChoice* choice = choices.of(i))
            for (const Joint& joint : jointsByHand(i, *choice, choices.clearances(i, options)))
                for (const bool above : {false, true})
                    if (const auto side = jointEnvelope(joint, above))
                        reach = std::max(reach, std::min(handReachMm, side->deepestMm()));
    }
    return reach + options.wallMm + reachSpareMm;
}

} // namespace

JointGround::JointGround(const std::vector<Piece>& pieces, const std::vector<Seam>& seams, const CutPlan& plan,
                         const JointOptions& options, const SeamChoices& choices)
    : m_options(options),
      m_choices(choices),
      m_room(std::make_shared<const JointRoom>(pieces, plan, reachFor(seams, options, choices))),
      m_scene{pieces, seams, plan, *m_room, options.wallMm}
{
}

Joint JointGround::jointOf(std::size_t seam, const JointForm& form) const
{
    return {form, seam, m_choices.clearances(seam, m_options).of(fitProcessOf(form)), boreEndClearanceMm,
            m_options.chordMm};
}

std::optional<double> JointGround::largestAsked(std::size_t seam) const
{
    const FaceChoice* choice = m_choices.of(seam);
    return choice != nullptr ? choice->diameterMm : std::nullopt;
}

bool JointGround::clear(const Joint& joint) const
{
    const Seam& seam = m_scene.seamOf(joint);
    for (const bool above : {false, true}) {
        const auto taken = m_taken.find(above ? seam.pieceAbove : seam.pieceBelow);
        if (taken == m_taken.end() || taken->second.bodies.empty())
            continue;
        const auto side = jointEnvelope(joint, above);
        if (!side)
            return false;
        for (const TakenBody& own : takenBodies(*side, m_scene.cutOf(joint), above))
            for (const TakenBody& other : taken->second.bodies)
                if (gapBetween(own, other, 2 * m_options.wallMm) < m_options.wallMm)
                    return false;
    }
    const auto between = m_between.find(std::minmax({seam.pieceBelow, seam.pieceAbove}));
    return between == m_between.end() ||
           std::all_of(between->second.begin(), between->second.end(),
                       [&](std::size_t other) { return clashOf(m_scene, joint, m_joints[other]).empty(); });
}

bool JointGround::fits(const Joint& joint) const
{
    if (!sizeFault(joint).empty() || !mouthOnSeam(m_scene, joint))
        return false;
    if (!liesAlongFace(joint) &&
        mesh::distanceToOutline(m_scene.seamOf(joint).region, joint.at) < mouthRadiusMm(joint) + m_options.wallMm)
        return false;
    if (jointSpare(m_scene, joint, 0).spareMm < 0)
        return false;
    const OpenWays ways = openWays(m_scene, joint);
    Joint open = joint;
    open.headOutMm = ways.headOutMm;
    open.nutOutMm = ways.nutOutMm;
    return ways.fault.empty() && clear(open);
}

void JointGround::put(const Joint& joint)
{
    const Joint open = withWays(m_scene, joint);
    const Seam& seam = m_scene.seamOf(open);
    m_between[std::minmax({seam.pieceBelow, seam.pieceAbove})].push_back(m_joints.size());
    m_joints.push_back(open);
    for (const bool above : {false, true}) {
        const auto side = jointEnvelope(open, above);
        if (!side)
            continue;
        Taken& taken = m_taken[above ? seam.pieceAbove : seam.pieceBelow];
        for (TakenBody& body : takenBodies(*side, m_scene.cutOf(open), above))
            taken.bodies.push_back(std::move(body));
        for (const Capsule& capsule : envelopeCapsules(*side, m_scene.cutOf(open), above))
            taken.capsules.push_back(capsule);
    }
}

std::vector<Capsule> JointGround::takenAround(std::size_t seam) const
{
    std::vector<Capsule> capsules;
    for (const int piece : {m_scene.seams[seam].pieceBelow, m_scene.seams[seam].pieceAbove})
        if (const auto taken = m_taken.find(piece); taken != m_taken.end())
            capsules.insert(capsules.end(), taken->second.capsules.begin(), taken->second.capsules.end());
    return capsules;
}

double JointGround::takenGap(std::size_t seam, mesh::Vec3 p) const
{
    double gap = std::numeric_limits<double>::infinity();
    for (const int piece : {m_scene.seams[seam].pieceBelow, m_scene.seams[seam].pieceAbove})
        if (const auto taken = m_taken.find(piece); taken != m_taken.end())
            for (const TakenBody& body : taken->second.bodies)
                gap = std::min(gap, mesh::length(p - body.nearest(p)));
    return gap;
}

std::vector<Joint> JointGround::sorted() const
{
    std::vector<Joint> joints = m_joints;
    std::stable_sort(joints.begin(), joints.end(), [](const Joint& a, const Joint& b) { return a.seam < b.seam; });
    return joints;
}

double spreadOf(const std::vector<Joint>& joints)
{
    double spread = 0;
    for (const Joint& a : joints)
        for (const Joint& b : joints)
            spread = std::max(spread, mesh::length(a.at - b.at));
    return spread;
}

std::vector<mesh::Vec2> farApart(const std::vector<mesh::Vec2>& places, std::size_t count, double leastMm)
{
    constexpr double sameMm = 1e-9;
    double best = 0;
    std::vector<mesh::Vec2> chosen;
    for (std::size_t i = 0; i < places.size(); ++i)
        for (std::size_t j = i + 1; j < places.size(); ++j)
            if (const double l = mesh::length(places[i] - places[j]); l > best + sameMm) {
                best = l;
                chosen = {places[i], places[j]};
            }
    if (best < leastMm)
        return {};
    while (chosen.size() < count) {
        double farthest = 0;
        mesh::Vec2 next{0, 0};
        for (const mesh::Vec2 p : places) {
            double nearest = 1e300;
            for (const mesh::Vec2 c : chosen)
                nearest = std::min(nearest, mesh::length(p - c));
            if (nearest > farthest + sameMm) {
                farthest = nearest;
                next = p;
            }
        }
        if (farthest < leastMm)
            break;
        chosen.push_back(next);
    }
    return chosen;
}

} // namespace quoin::core
