// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_dowel.h"
#include "core/parallel.h"
#include "core/piece_features.h"
#include "core/proof_evidence.h"
#include "mesh/distance.h"
#include "mesh/mass.h"
#include "mesh/self_intersection.h"
#include "mesh/tolerance.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace quoin::core {

namespace {

/// Walls are measured from points of the axis this far apart; half of it is taken off the outcome, since the distance
/// can't change faster than the point moves.
constexpr double axisStepMm = 0.2;
/// Surfaces farther from a bore than its wall by this much are not looked at: the wall is then "at least".
constexpr double lookBeyondMm = 5;

/// A joint in its place, with the loose part that the list puts there.
struct PlacedJoint {
    std::size_t number = 0; ///< index into the layout's joints
    Joint joint;
    Seam seam;
    mesh::Plane cut;
    mesh::Vec3 middle; ///< of the axis, on the cut
    std::string name;  ///< "joint A1 between 3 and 5"
    std::size_t placements = 0;
    const PartFile* part = nullptr;
    mesh::Mesh mesh; ///< the loose part in its place
};

std::vector<PlacedJoint> jointsOf(const Evidence& evidence)
{
    const Project& project = evidence.project;
    std::vector<PlacedJoint> joints;
    std::vector<int> onSeam(project.seams.size(), 0);
    for (std::size_t i = 0; i < project.layout.joints.size(); ++i) {
        const Joint& joint = project.layout.joints[i];
        const Seam& seam = project.seams[joint.seam];
        PlacedJoint placed;
        placed.number = i;
        placed.joint = joint;
        placed.seam = seam;
        placed.cut = evidence.cut(seam.cut);
        placed.middle = mesh::frameOf(placed.cut).space(joint.at);
        placed.name = fmt::format("dowel {}{} between {} and {}", seam.mark, ++onSeam[joint.seam], seam.pieceBelow,
                                  seam.pieceAbove);
        joints.push_back(std::move(placed));
    }
    return joints;
}

/// Gives each place of a loose part to the joint nearest to it.
void giveOut(const Evidence& evidence, std::vector<PlacedJoint>& joints)
{
    for (const PartFile& part : evidence.parts) {
        if (part.kind == "piece" || part.mesh.empty() || joints.empty())
            continue;
        const mesh::Vec3 centre = mesh::massProperties(part.mesh).centroid;
        for (const mesh::Transform& placement : part.placements) {
            const mesh::Vec3 at = placement.point(centre);
            const auto nearest =
                std::min_element(joints.begin(), joints.end(), [&](const PlacedJoint& a, const PlacedJoint& b) {
                    return mesh::length(a.middle - at) < mesh::length(b.middle - at);
                });
            if (++nearest->placements == 1) {
                nearest->part = &part;
                nearest->mesh = mesh::transformed(part.mesh, placement);
            }
        }
    }
}

/// Largest difference between a loose part in its place and what the joint says it is: radius about the axis, reach
/// to either side.
double sizeError(const PlacedJoint& joint)
{
    double radius = 0, above = -1e300, below = 1e300;
    for (const mesh::Vec3 p : joint.mesh.points) {
        const double height = joint.cut.distance(p);
        above = std::max(above, height);
        below = std::min(below, height);
        radius = std::max(radius, mesh::length(p - joint.middle - height * joint.cut.normal));
    }
    const double depth = joint.joint.depthMm;
    return std::max(
        {std::fabs(radius - joint.joint.diameterMm / 2), std::fabs(above - depth), std::fabs(below + depth)});
}

/// The joint on one of its sides.
struct Side {
    const PlacedJoint& joint;
    bool above;
    int piece;
    const mesh::Mesh& mesh;
    std::string name;

    double boreRadiusMm() const { return joint.joint.diameterMm / 2 + joint.joint.clearanceMm; }
    double boreDepthMm() const { return joint.joint.depthMm + joint.joint.endClearanceMm; }
    mesh::Vec3 inward() const { return (above ? 1 : -1) * joint.cut.normal; }
};

/// Triangles whose boxes come within reach of the bore.
std::vector<mesh::Index> trianglesNear(const Side& side, double reachMm)
{
    mesh::Box3 box;
    box.add(side.joint.middle);
    box.add(side.joint.middle + side.boreDepthMm() * side.inward());
    const mesh::Vec3 reach{reachMm, reachMm, reachMm};
    box = {box.min - reach, box.max + reach};
    std::vector<mesh::Index> found;
    for (mesh::Index t = 0; t < side.mesh.triangles.size(); ++t) {
        mesh::Box3 own;
        for (int k = 0; k < 3; ++k)
            own.add(side.mesh.corner(t, k));
        if (own.min.x <= box.max.x && box.min.x <= own.max.x && own.min.y <= box.max.y && box.min.y <= own.max.y &&
            own.min.z <= box.max.z && box.min.z <= own.max.z)
            found.push_back(t);
    }
    return found;
}

/// Least distance between the loose part and the piece around it: corners of either to the surface of the other,
/// which is where the least is for two prisms with one axis.
double clearanceOf(const Side& side)
{
    const auto near = trianglesNear(side, side.boreRadiusMm() + lookBeyondMm);
    const mesh::SurfaceTree piece(side.mesh, near), loose(side.joint.mesh);
    double least = side.boreRadiusMm() + lookBeyondMm;
    for (const mesh::Vec3 p : side.joint.mesh.points)
        least = std::min(least, piece.distance(p));
    for (const mesh::Index t : near)
        for (int k = 0; k < 3; ++k)
            least = std::min(least, loose.distance(side.mesh.corner(t, k)));
    return least;
}

/// Least distance from the bore to any other surface of its piece but the face that it opens on, and marks in it.
double wallOf(const Evidence& evidence, const Side& side, double wallWantedMm)
{
    const double slack = mesh::tolerance::planeSlackMm, reach = side.boreRadiusMm() + wallWantedMm + lookBeyondMm;
    const PieceFeatures features(evidence.project, side.piece);
    std::vector<mesh::Index> others;
    for (const mesh::Index t : trianglesNear(side, reach)) {
        bool face = true, own = true, mark = true;
        for (int k = 0; k < 3; ++k) {
            const mesh::Vec3 p = side.mesh.corner(t, k);
            face = face && std::fabs(side.joint.cut.distance(p)) <= slack;
            own = own && features.inBore(side.joint.number, p, slack);
            mark = mark && features.inMark(p, slack);
        }
        if (!face && !own && !mark)
            others.push_back(t);
    }
    const mesh::SurfaceTree tree(side.mesh, others);
    double least = reach;
    const int steps = static_cast<int>(std::ceil(side.boreDepthMm() / axisStepMm));
    for (int i = 0; i <= steps; ++i)
        least = std::min(least, tree.distance(side.joint.middle + (side.boreDepthMm() * i / steps) * side.inward()));
    return least - axisStepMm / 2 - side.boreRadiusMm();
}

std::vector<Claim> proveSide(const Evidence& evidence, const Side& side)
{
    std::vector<Claim> claims;
    const double rounding =
        fileRoundingMm(evidence.parts[evidence.fileOf[static_cast<std::size_t>(side.piece) - 1]].mesh) +
        fileRoundingMm(side.joint.part->mesh);
    const double wall = evidence.project.jointOptions.wallMm;
    claims.push_back(claim("joint.free", side.joint.name, "in its place the dowel doesn't meet " + side.name,
                           mesh::meshesIntersect(side.joint.mesh, side.mesh) ? 1 : 0, "=", 0, "contacts"));
    claims.push_back(
        claim("joint.clearance", side.joint.name,
              "least distance between the dowel and its bore in " + side.name + " (float rounding allowed for)",
              clearanceOf(side),
              ">=", std::min(side.joint.joint.clearanceMm, side.joint.joint.endClearanceMm) - rounding, "mm"));
    claims.push_back(claim("joint.wall", side.joint.name,
                           "wall left around the bore in " + side.name +
                               ", to the side and past its end (looked for up to 5 mm more than wanted)",
                           wallOf(evidence, side, wall), ">=", wall, "mm"));
    return claims;
}

std::vector<Claim> proveJoint(const Evidence& evidence, const PlacedJoint& joint)
{
    std::vector<Claim> claims;
    claims.push_back(claim("joint.placed", joint.name, "one loose part has its place here",
                           static_cast<double>(joint.placements), "=", 1, "parts"));
    if (joint.part == nullptr)
        return claims;
    claims.push_back(claim("joint.size", joint.name,
                           fmt::format("{} is {:g} mm thick, reaches {:g} mm into either side, on the axis planned "
                                       "(largest difference)",
                                       joint.part->file, joint.joint.diameterMm, joint.joint.depthMm),
                           sizeError(joint), "<=", mesh::tolerance::surfaceMm, "mm"));
    for (const bool above : {false, true}) {
        const int piece = above ? joint.seam.pieceAbove : joint.seam.pieceBelow;
        if (evidence.meshOf(piece).empty())
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

/// Loose parts against each other: pairs that meet.
void proveLooseApart(const std::vector<PlacedJoint>& joints, Proof& proof)
{
    std::size_t meeting = 0;
    for (std::size_t i = 0; i < joints.size(); ++i)
        for (std::size_t j = i + 1; j < joints.size(); ++j) {
            const auto reach = [](const PlacedJoint& p) {
                return std::hypot(p.joint.depthMm, p.joint.diameterMm) + mesh::tolerance::surfaceMm;
            };
            if (mesh::length(joints[i].middle - joints[j].middle) <= reach(joints[i]) + reach(joints[j]))
                meeting += mesh::meshesIntersect(joints[i].mesh, joints[j].mesh);
        }
    if (!joints.empty())
        proof.claims.push_back(claim("joint.apart", "the set", "no two loose parts meet each other in their places",
                                     static_cast<double>(meeting), "=", 0, "pairs"));
}

} // namespace

void proveJoints(const Evidence& evidence, Proof& proof)
{
    std::vector<PlacedJoint> joints = jointsOf(evidence);
    giveOut(evidence, joints);
    std::vector<std::vector<Claim>> claims(joints.size());
    forEachIndex(joints.size(), [&](std::size_t i) { claims[i] = proveJoint(evidence, joints[i]); });
    for (std::vector<Claim>& some : claims)
        std::move(some.begin(), some.end(), std::back_inserter(proof.claims));
    proveLooseApart(joints, proof);
    proveSeams(evidence, proof);
}

} // namespace quoin::core
