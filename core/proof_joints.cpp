// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/parallel.h"
#include "core/piece_features.h"
#include "core/proof_placed.h"
#include "mesh/distance.h"
#include "mesh/mass.h"
#include "mesh/self_intersection.h"
#include "mesh/tolerance.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

namespace quoin::core {

namespace {

PlacedJoint placedJoint(const Evidence& evidence, std::size_t number, int onSeam)
{
    const Joint& joint = evidence.project.layout.joints[number];
    const Seam& seam = evidence.project.seams[joint.seam];
    PlacedJoint placed;
    placed.number = number;
    placed.joint = joint;
    placed.seam = seam;
    placed.cut = evidence.cut(seam.cut);
    placed.middle = jointMiddle(joint, placed.cut);
    placed.name = fmt::format("{} {}{} between {} and {}", kindName(joint.kind), seam.mark, onSeam, seam.pieceBelow,
                              seam.pieceAbove);
    auto below = sideShape(joint, placed.cut, false), above = sideShape(joint, placed.cut, true);
    auto printed = printedParts(joint, placed.cut);
    auto bought = boughtInPlace(joint, placed.cut);
    if (!below || !above || !printed || !bought) {
        placed.unmade = !below     ? below.problem()
                        : !above   ? above.problem()
                        : !printed ? printed.problem()
                                   : bought.problem();
        return placed;
    }
    placed.below = std::move(*below);
    placed.above = std::move(*above);
    for (JointPart& part : *printed)
        placed.planned.push_back(std::move(part.inPlace));
    placed.inside = std::move(*bought);
    return placed;
}

std::vector<PlacedJoint> jointsOf(const Evidence& evidence)
{
    const Project& project = evidence.project;
    std::vector<int> onSeam(project.seams.size(), 0), number;
    for (const Joint& joint : project.layout.joints)
        number.push_back(++onSeam[joint.seam]);
    std::vector<PlacedJoint> joints(number.size());
    forEachIndex(joints.size(), [&](std::size_t i) { joints[i] = placedJoint(evidence, i, number[i]); });
    return joints;
}

/// Gives each place of a loose part to the joint of its kind that is nearest to it.
void giveOut(const Evidence& evidence, std::vector<PlacedJoint>& joints)
{
    for (const PartFile& part : evidence.parts) {
        if (part.kind == "piece" || part.mesh.empty())
            continue;
        const mesh::Vec3 centre = mesh::massProperties(part.mesh).centroid;
        for (const mesh::Transform& placement : part.placements) {
            const mesh::Vec3 at = placement.point(centre);
            PlacedJoint* nearest = nullptr;
            for (PlacedJoint& joint : joints)
                if (part.kind == kindName(joint.joint.kind) && printedPartCount(joint.joint) > 0 &&
                    (nearest == nullptr || mesh::length(joint.middle - at) < mesh::length(nearest->middle - at)))
                    nearest = &joint;
            if (nearest != nullptr && ++nearest->placements == 1) {
                nearest->part = &part;
                nearest->inside.push_back(mesh::transformed(part.mesh, placement));
            }
        }
    }
}

/// The triangles of a piece that lie in what stands out of its face.
mesh::Mesh proudPart(const mesh::Mesh& piece, const std::vector<JointZone>& proud)
{
    const double slack = mesh::tolerance::planeSlackMm;
    std::vector<mesh::Index> use;
    for (mesh::Index t = 0; t < piece.triangles.size(); ++t) {
        bool all = true, any = false;
        for (int k = 0; k < 3; ++k) {
            const mesh::Vec3 p = piece.corner(t, k);
            const auto in = [&](double by) {
                return std::any_of(proud.begin(), proud.end(), [&](const JointZone& z) { return inZone(z, p, by); });
            };
            all = all && in(slack);
            // Not what lies in the face about it.
            any = any || std::any_of(proud.begin(), proud.end(), [&](const JointZone& z) {
                      const mesh::Vec3 way = mesh::normalized(z.to - z.from);
                      return mesh::dot(p - z.from, way) > slack;
                  });
        }
        if (all && any)
            use.push_back(t);
    }
    return mesh::subset(piece, use);
}

void addProud(const Evidence& evidence, std::vector<PlacedJoint>& joints)
{
    for (PlacedJoint& joint : joints)
        if (const auto carrier = joint.carrier()) {
            mesh::Mesh proud = proudPart(evidence.meshOf(joint.piece(*carrier)), joint.side(*carrier).proud);
            if (!proud.empty())
                joint.inside.push_back(std::move(proud));
            for (const mesh::FacePatch& patch : joint.side(*carrier).patches)
                joint.planned.push_back(patch.surface);
        }
}

/// Largest distance between what is there and what is planned, corners of either to the surface of the other.
double shapeError(const PlacedJoint& joint)
{
    const mesh::Mesh there = allOf(joint.inside), planned = allOf(joint.planned);
    const mesh::SurfaceTree a(there), b(planned);
    double worst = 0;
    for (const mesh::Vec3 p : planned.points)
        worst = std::max(worst, a.distance(p));
    for (const mesh::Vec3 p : there.points)
        worst = std::max(worst, b.distance(p));
    return worst;
}

/// Largest difference between a dowel in its place and what the joint says it is: radius about the axis, reach to
/// either side. Independent of how dowels are made.
double dowelError(const PlacedJoint& joint)
{
    double radius = 0, above = -1e300, below = 1e300;
    for (const mesh::Mesh& mesh : joint.inside)
        for (const mesh::Vec3 p : mesh.points) {
            const double height = joint.cut.distance(p);
            above = std::max(above, height);
            below = std::min(below, height);
            radius = std::max(radius, mesh::length(p - joint.middle - height * joint.cut.normal));
        }
    const double depth = joint.joint.depthMm;
    return std::max(
        {std::fabs(radius - joint.joint.diameterMm / 2), std::fabs(above - depth), std::fabs(below + depth)});
}

double roundingOf(const Evidence& evidence, const PlacedSide& side)
{
    const auto fileOf = [&](int piece) { return evidence.parts[evidence.fileOf[static_cast<std::size_t>(piece) - 1]]; };
    double rounding = fileRoundingMm(fileOf(side.piece).mesh);
    if (side.joint.part != nullptr)
        rounding += fileRoundingMm(side.joint.part->mesh);
    if (const auto carrier = side.joint.carrier())
        rounding += fileRoundingMm(fileOf(side.joint.piece(*carrier)).mesh);
    return rounding;
}

std::vector<Claim> proveSide(const Evidence& evidence, const PlacedSide& side)
{
    std::vector<Claim> claims;
    const Joint& joint = side.joint.joint;
    const std::string what = fmt::format("the {}", joint.kind == Joint::Kind::Screw ? "thread" : kindName(joint.kind));
    const bool meets = std::any_of(side.joint.inside.begin(), side.joint.inside.end(),
                                   [&](const mesh::Mesh& inside) { return mesh::meshesIntersect(inside, side.mesh); });
    claims.push_back(claim("joint.free", side.joint.name, "in its place " + what + " doesn't meet " + side.name,
                           meets ? 1 : 0, "=", 0, "contacts"));
    claims.push_back(claim(
        "joint.clearance", side.joint.name,
        "least distance between " + what + " and its bore in " + side.name + " (float rounding allowed for)",
        clearanceOf(side), ">=", std::min(joint.clearanceMm, joint.endClearanceMm) - roundingOf(evidence, side), "mm"));
    const double wall = evidence.project.jointOptions.wallMm;
    claims.push_back(claim("joint.wall", side.joint.name,
                           "wall left around the bore in " + side.name +
                               ", to the side and past its end (looked for up to 5 mm more than wanted)",
                           wallOf(evidence, side, wall), ">=", wall, "mm"));
    if (joint.kind == Joint::Kind::Dovetail)
        claims.push_back(claim(
            "joint.hold", side.joint.name,
            fmt::format("pulled {:.2f} mm straight off the face, its flanks catch in {}", pullMm(joint), side.name),
            catches(side) ? 1 : 0, "=", 1, "contacts"));
    return claims;
}

void proveShape(const PlacedJoint& joint, std::vector<Claim>& claims)
{
    if (printedPartCount(joint.joint) > 0 && joint.joint.kind == Joint::Kind::Dowel)
        claims.push_back(claim("joint.size", joint.name,
                               fmt::format("{} is {:g} mm thick, reaches {:g} mm into either side, on the axis planned "
                                           "(largest difference)",
                                           joint.part->file, joint.joint.diameterMm, joint.joint.depthMm),
                               dowelError(joint), "<=", mesh::tolerance::surfaceMm, "mm"));
    else if (!joint.planned.empty())
        claims.push_back(claim("joint.size", joint.name,
                               fmt::format("{} has the shape planned, in the place planned (largest difference)",
                                           joint.part != nullptr ? joint.part->file : "what stands out of the face"),
                               joint.inside.empty() ? std::numeric_limits<double>::infinity() : shapeError(joint),
                               "<=", mesh::tolerance::surfaceMm, "mm"));
}

std::vector<Claim> proveJoint(const Evidence& evidence, const PlacedJoint& joint)
{
    std::vector<Claim> claims;
    if (joint.unmade) {
        claims.push_back(claim("joint.made", joint.name, joint.unmade->sentence(), 0, "=", 1, "joints"));
        return claims;
    }
    if (printedPartCount(joint.joint) > 0) {
        claims.push_back(claim("joint.placed", joint.name, "one loose part has its place here",
                               static_cast<double>(joint.placements), "=", 1, "parts"));
        if (joint.part == nullptr)
            return claims;
    }
    proveShape(joint, claims);
    for (const bool above : {false, true}) {
        const int piece = joint.piece(above);
        // What is grown on a piece has no bore there.
        if (evidence.meshOf(piece).empty() || joint.carrier() == above)
            continue;
        const auto some = proveSide(evidence, {joint, above, piece, evidence.meshOf(piece), evidence.nameOf(piece)});
        claims.insert(claims.end(), some.begin(), some.end());
    }
    return claims;
}

void proveSeams(const Evidence& evidence, Proof& proof)
{
    const Project& project = evidence.project;
    for (std::size_t s = 0; s < project.seams.size(); ++s) {
        const auto joints = std::count_if(project.layout.joints.begin(), project.layout.joints.end(),
                                          [&](const Joint& j) { return j.seam == s; });
        const auto report = std::find_if(project.layout.reports.begin(), project.layout.reports.end(),
                                         [&](const SeamReport& r) { return r.seam == s; });
        const bool butt = report != project.layout.reports.end() && report->butt;
        const Seam& seam = project.seams[s];
        proof.claims.push_back(claim("seam.joint",
                                     fmt::format("seam {} of {} and {}", seam.mark, seam.pieceBelow, seam.pieceAbove),
                                     "has a joint, or is reported as a plain face" +
                                         (report != project.layout.reports.end() ? ": " + report->text : std::string()),
                                     static_cast<double>(joints) + (butt ? 1 : 0), ">=", 1, "joints"));
    }
}

bool meet(const std::vector<mesh::Mesh>& a, const std::vector<mesh::Mesh>& b)
{
    return std::any_of(a.begin(), a.end(), [&](const mesh::Mesh& x) {
        return std::any_of(b.begin(), b.end(), [&](const mesh::Mesh& y) { return mesh::meshesIntersect(x, y); });
    });
}

/// What is in the bores against each other: pairs that meet.
void proveLooseApart(const std::vector<PlacedJoint>& joints, Proof& proof)
{
    std::size_t meeting = 0;
    for (std::size_t i = 0; i < joints.size(); ++i)
        for (std::size_t j = i + 1; j < joints.size(); ++j) {
            const auto reach = [](const PlacedJoint& p) {
                return std::hypot(std::max({p.joint.depthMm, p.joint.gripMm, p.joint.lengthMm}), p.joint.diameterMm) +
                       mesh::tolerance::surfaceMm;
            };
            if (mesh::length(joints[i].middle - joints[j].middle) <= reach(joints[i]) + reach(joints[j]))
                meeting += meet(joints[i].inside, joints[j].inside);
        }
    if (!joints.empty())
        proof.claims.push_back(claim("joint.apart", "the set",
                                     "no two of the parts in bores meet each other in their places",
                                     static_cast<double>(meeting), "=", 0, "pairs"));
}

} // namespace

void proveJoints(const Evidence& evidence, Proof& proof)
{
    std::vector<PlacedJoint> joints = jointsOf(evidence);
    giveOut(evidence, joints);
    addProud(evidence, joints);
    std::vector<std::vector<Claim>> claims(joints.size());
    forEachIndex(joints.size(), [&](std::size_t i) { claims[i] = proveJoint(evidence, joints[i]); });
    for (std::vector<Claim>& some : claims)
        std::move(some.begin(), some.end(), std::back_inserter(proof.claims));
    proveLooseApart(joints, proof);
    proveSeams(evidence, proof);
}

} // namespace quoin::core
