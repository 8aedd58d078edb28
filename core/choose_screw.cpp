// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/choose_screw.h"

#include "core/assembly.h"
#include "core/joint_size.h"
#include "core/section_forces.h"
#include "core/thread.h"
#include "core/turning.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

namespace quoin::core {

namespace {

using Kind = JointForm::Kind;

/// Nominal diameter as a share of the face's width (common practice, no source: leaves a wall of a third all round).
constexpr double screwShare = 0.42;
/// Reach in diameters, best first.
constexpr std::array<double, 3> screwReaches{0.9, 0.75, 0.6};

/// How much the face of one side looks up while its piece is printed: 1 up, -1 down.
double upward(const JointGround& ground, std::size_t seamIndex, bool above)
{
    const Seam& seam = ground.seam(seamIndex);
    const Piece& piece = ground.scene().pieces[static_cast<std::size_t>(above ? seam.pieceAbove : seam.pieceBelow) - 1];
    const mesh::Vec3 normal = ground.scene().plan.nodes[static_cast<std::size_t>(seam.cut)].plane.normal;
    return piece.pose.printFromAssembled.direction(above ? -normal : normal).z;
}

/// Whether a piece that has a pose keeps its place on the bed with something standing out of it by so much, whichever
/// way that points; pieces without a pose are not judged.
bool hasBedRoom(const JointGround& ground, std::size_t seamIndex, bool above, double outMm)
{
    const Seam& seam = ground.seam(seamIndex);
    const Pose& pose =
        ground.scene().pieces[static_cast<std::size_t>(above ? seam.pieceAbove : seam.pieceBelow) - 1].pose;
    return pose.extentsMm.z <= 0 || pose.slackMm >= outMm;
}

Joint screwAt(const JointGround& ground, std::size_t seam, Kind kind, mesh::Vec2 at, double diameterMm,
              bool carrierAbove)
{
    JointForm form;
    form.kind = kind;
    form.at = at;
    form.carrierAbove = carrierAbove;
    return resized(ground.jointOf(seam, form), diameterMm);
}

std::string wordsFor(const JointGround& ground, const Joint& joint, double widthMm)
{
    const Seam& seam = ground.scene().seamOf(joint);
    const int carrier = joint.carrierAbove ? seam.pieceAbove : seam.pieceBelow;
    const int other = joint.carrierAbove ? seam.pieceBelow : seam.pieceAbove;
    const std::string where = joint.kind == Kind::Stud
                                  ? fmt::format("loose, {:g} mm into each side", joint.depthMm)
                                  : fmt::format("{:g} mm from piece {} into piece {}", joint.depthMm, carrier, other);
    return fmt::format("1 {} of {:g} mm, pitch {:g}, {}: the face is {:.0f} mm across and piece {} can turn",
                       kindName(joint.kind), joint.diameterMm, joint.thread.pitchMm, where, widthMm, carrier);
}

} // namespace

std::vector<mesh::Vec2> middlePlaces(const Seam& seam)
{
    std::vector<mesh::Vec2> places{sectionProperties(seam.region).centroid, placeOn(seam.region)};
    // The one with more room first, unless they are as good as each other: then the centroid.
    constexpr double muchBetter = 1.1;
    const auto room = [&](mesh::Vec2 p) {
        return mesh::contains(seam.region, p) ? mesh::distanceToOutline(seam.region, p) : 0;
    };
    if (room(places[1]) > muchBetter * room(places[0]))
        std::swap(places[0], places[1]);
    return places;
}

Chosen centreScrew(const JointGround& ground, std::size_t seamIndex, Kind kind, bool onBedsOnly)
{
    const Seam& seam = ground.seam(seamIndex);
    const JointScene& scene = ground.scene();
    const TurnObstacle obstacle = turnObstacleOf(scene.pieces, scene.seams, scene.plan, seamIndex);
    if (obstacle.certain)
        return {{}, obstacle.text};
    const double width = largestCircleMm(seam.region);
    double wanted = screwShare * width;
    if (const auto asked = ground.largestAsked(seamIndex))
        wanted = std::min(wanted, *asked);
    const bool first = upward(ground, seamIndex, true) >= upward(ground, seamIndex, false);
    const std::vector<mesh::Vec2> places = middlePlaces(seam);
    const std::vector<double> sizes = sizeSeries(screwAt(ground, seamIndex, kind, {0, 0}, 8, true));
    const auto largestThatFits = [&](bool onBeds, double leastMm) -> std::optional<Chosen> {
        for (auto d = sizes.rbegin(); d != sizes.rend(); ++d)
            for (const double reach : screwReaches)
                for (const bool above : {first, !first})
                    for (const mesh::Vec2 at : places) {
                        if (*d > wanted || *d < leastMm)
                            continue;
                        Joint joint = screwAt(ground, seamIndex, kind, at, *d, above);
                        joint.depthMm = std::max(std::round(reach * *d), std::ceil(leastDepthMm(joint)));
                        if (onBeds && !hasBedRoom(ground, seamIndex, above, joint.depthMm))
                            continue;
                        if (!ground.fits(joint))
                            continue;
                        if (obstacle)
                            if (auto swept = turnObstacle(
                                    assemblyInput(scene.pieces, scene.plan, scene.seams, ground.joints()), joint))
                                return Chosen{{}, *std::move(swept)};
                        return Chosen{{joint}, wordsFor(ground, joint, width)};
                    }
        return std::nullopt;
    };
    if (onBedsOnly) {
        if (auto chosen = largestThatFits(true, 0))
            return *std::move(chosen);
    } else {
        // A screw grows on its piece: asked for, it is better on the side that keeps its place on the bed, as long as
        // that doesn't cost half of it. Where neither does, the piece is posed anew and may fit after all.
        if (kind == Kind::Screw)
            if (auto chosen = largestThatFits(true, wanted / 2))
                return *std::move(chosen);
        if (auto chosen = largestThatFits(false, 0))
            return *std::move(chosen);
    }
    return {{},
            fmt::format("no {} of {:g} to {:g} mm has its walls in the middle of the face", kindName(kind),
                        sizes.front(), std::max(sizes.front(), std::floor(wanted)))};
}

} // namespace quoin::core
