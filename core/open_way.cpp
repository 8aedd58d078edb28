// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/open_way.h"

#include "core/joint_bolt.h"
#include "core/joint_clocking.h"
#include "core/joint_dovetail.h"
#include "core/joint_envelope.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace quoin::core {

namespace {

using mesh::Vec3;

constexpr int linesRound = 12;
/// A way goes on past the skin by this, so that nothing is left standing before it.
constexpr double pastSkinMm = 0.5;
/// Lines across a slot, and how far it goes on: a corner of the skin may lie between two of them.
constexpr int linesAcross = 17;
constexpr double cornersPerSpacing = 1.5;
/// A line starts this far inside its piece: a start on a surface would be met at once.
constexpr double startMm = 1e-6;

/// A round or flat bundle of parallel lines, from a place in a piece to the outside.
struct Way {
    int piece;
    std::vector<Vec3> starts;
    Vec3 direction;
    double needMm; ///< free length outside
    const char* what;
};

struct Found {
    double leastMm = 1e300, mostMm = 0; ///< to the skin, from the starts
    std::string fault;
};

/// Follows the lines of a way.
Found followed(const JointScene& scene, const Way& way)
{
    Found found;
    for (const Vec3 start : way.starts) {
        const auto hit = scene.room.whole(way.piece).firstHit(start, way.direction, startMm);
        if (!hit)
            continue; // it starts outside: the room at the seat tells that
        found.leastMm = std::min(found.leastMm, *hit);
        found.mostMm = std::max(found.mostMm, *hit);
    }
    if (found.leastMm > found.mostMm)
        found.leastMm = found.mostMm = 0;
    const double free = found.mostMm + pastSkinMm + way.needMm;
    for (const Vec3 start : way.starts) {
        const auto own = scene.room.whole(way.piece).firstHit(start, way.direction, startMm);
        for (const Piece& piece : scene.pieces) {
            const bool again = piece.number == way.piece;
            const double from = again && own ? *own + pastSkinMm : startMm;
            const auto hit = scene.room.whole(piece.number).firstHit(start, way.direction, from);
            if (!hit || *hit > free)
                continue;
            found.fault = fmt::format("the way of its {} is barred by piece {}{}, {:.0f} mm from its seat; it needs "
                                      "{:.0f} mm free outside: turn it round, move it, or take another kind",
                                      way.what, piece.number, again ? " itself" : "", *hit, way.needMm);
            return found;
        }
    }
    return found;
}

std::vector<Vec3> ring(const mesh::PlaneFrame& frame, mesh::Vec2 at, double height, double radiusMm)
{
    std::vector<Vec3> places{frame.space(at, height)};
    for (int i = 0; i < linesRound; ++i) {
        const double angle = 2 * std::numbers::pi * i / linesRound;
        places.push_back(frame.space(at + radiusMm * mesh::Vec2{std::cos(angle), std::sin(angle)}, height));
    }
    return places;
}

/// Lines along a slot or a groove: over its section, square to the joint's angle.
std::vector<Vec3> slotLines(const mesh::PlaneFrame& frame, const Joint& joint, double halfMm, double fromMm,
                            double toMm, double down)
{
    std::vector<Vec3> places;
    const mesh::Vec2 across{-std::sin(joint.angle), std::cos(joint.angle)};
    for (const double depth : {fromMm, 0.5 * (fromMm + toMm), toMm})
        for (int i = 0; i < linesAcross; ++i)
            places.push_back(frame.space(joint.at + halfMm * (2.0 * i / (linesAcross - 1) - 1) * across, down * depth));
    return places;
}

/// How far a slot goes on past the skin that its lines meet.
double pastSlotMm(double halfMm)
{
    return pastSkinMm + cornersPerSpacing * 2 * halfMm / (linesAcross - 1);
}

/// The groove of a dovetail, from its blind end on.
OpenWays grooveWay(const JointScene& scene, const Joint& joint)
{
    OpenWays ways;
    const auto layout = dovetailLayout(joint);
    if (!layout)
        return ways;
    constexpr double belowFaceMm = 0.3;
    const Seam& seam = scene.seamOf(joint);
    const mesh::Plane& cut = scene.cutOf(joint);
    const Found found = followed(scene, {joint.carrierAbove ? seam.pieceBelow : seam.pieceAbove,
                                         slotLines(mesh::frameOf(cut), joint, layout->slotWidthMm / 2, belowFaceMm,
                                                   layout->slotDepthMm, joint.carrierAbove ? -1 : 1),
                                         dovetailWay(joint, cut), joint.lengthMm, "key"});
    ways.nutOutMm = found.mostMm + pastSlotMm(layout->slotWidthMm / 2);
    ways.fault = found.fault;
    if (ways.fault.empty() && ways.nutOutMm <= joint.lengthMm)
        ways.fault = fmt::format("its key of {:.1f} mm reaches past the skin, {:.1f} mm on: make it shorter, or start "
                                 "farther in",
                                 joint.lengthMm, found.mostMm);
    return ways;
}

/// The slot of a clocking key, half in either piece.
OpenWays slotWay(const JointScene& scene, const Joint& joint)
{
    OpenWays ways;
    const auto layout = clockingLayout(joint);
    if (!layout)
        return ways;
    constexpr double belowFaceMm = 0.3;
    const Seam& seam = scene.seamOf(joint);
    const mesh::Plane& cut = scene.cutOf(joint);
    double least = 1e300;
    for (const bool above : {false, true}) {
        const Found found = followed(scene, {above ? seam.pieceAbove : seam.pieceBelow,
                                             slotLines(mesh::frameOf(cut), joint, layout->slotHalfMm, belowFaceMm,
                                                       layout->slotDepthMm, above ? 1 : -1),
                                             dovetailWay(joint, cut), joint.lengthMm, "key"});
        least = std::min(least, found.leastMm);
        ways.nutOutMm = std::max(ways.nutOutMm, found.mostMm + pastSlotMm(layout->slotHalfMm));
        ways.nutMostMm = std::max(ways.nutMostMm, found.mostMm);
        if (ways.fault.empty())
            ways.fault = found.fault;
    }
    ways.nutSkinMm = least;
    if (ways.fault.empty() && least < joint.lengthMm)
        ways.fault = fmt::format("its bar of {:.1f} mm stands out of the skin by {:.1f} mm: make it shorter, or start "
                                 "farther in",
                                 joint.lengthMm, std::max(joint.lengthMm - least, 0.1));
    return ways;
}

} // namespace

OpenWays openWays(const JointScene& scene, const Joint& joint)
{
    if (joint.kind == JointForm::Kind::Dovetail)
        return grooveWay(scene, joint);
    if (joint.kind == JointForm::Kind::ClockingKey)
        return slotWay(scene, joint);
    OpenWays ways;
    if (joint.kind != JointForm::Kind::DrawBolt)
        return ways;
    const auto layout = boltLayout(withWaysOpen(joint));
    if (!layout)
        return ways; // sizeFault has it
    const Seam& seam = scene.seamOf(joint);
    const mesh::PlaneFrame frame = mesh::frameOf(scene.cutOf(joint));
    const double headUp = joint.carrierAbove ? 1 : -1;
    const double needed = layout->lengthMm + handRoomMm;
    const Found head = followed(scene, {joint.carrierAbove ? seam.pieceAbove : seam.pieceBelow,
                                        ring(frame, joint.at, headUp * joint.gripMm, layout->counterboreRadiusMm),
                                        headUp * frame.normal, needed, "head"});
    ways.headSkinMm = joint.gripMm + head.leastMm;
    ways.headOutMm = joint.gripMm + head.mostMm + pastSkinMm;
    ways.fault = head.fault;
    if (ways.fault.empty() && head.mostMm > deepestHeadMm)
        ways.fault = fmt::format("its head would lie {:.0f} mm deep, more than a key reaches ({:g} mm): sink it less",
                                 head.mostMm, deepestHeadMm);
    const int other = joint.carrierAbove ? seam.pieceBelow : seam.pieceAbove;
    Found nut;
    if (joint.hold == JointForm::Hold::FarNut) {
        nut = followed(scene, {other, ring(frame, joint.at, -headUp * joint.depthMm, layout->nutCornerMm),
                               -headUp * frame.normal, handRoomMm, "nut"});
        ways.nutSkinMm = joint.depthMm + nut.leastMm;
        ways.nutOutMm = joint.depthMm + nut.mostMm + pastSkinMm;
    } else if (joint.hold == JointForm::Hold::SideNut) {
        const Vec3 side = std::cos(joint.angle) * frame.u + std::sin(joint.angle) * frame.v;
        nut = followed(scene,
                       {other, slotLines(frame, joint, layout->nutFlatMm, layout->nutFromMm, layout->nutToMm, -headUp),
                        side, handRoomMm + layout->nutCornerMm, "nut"});
        ways.nutOutMm = std::max(nut.mostMm, layout->nutCornerMm) + pastSlotMm(layout->nutFlatMm);
    }
    if (ways.fault.empty())
        ways.fault = nut.fault;
    return ways;
}

Joint withWays(const JointScene& scene, Joint joint)
{
    if (!opensOutside(joint))
        return joint;
    const OpenWays ways = openWays(scene, joint);
    joint.headOutMm = ways.headOutMm;
    joint.nutOutMm = ways.nutOutMm;
    return joint;
}

} // namespace quoin::core
