// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/proof_insertion.h"

#include "core/assembly.h"
#include "core/assembly_ways.h"
#include "core/joint_bolt.h"
#include "core/joint_dovetail.h"
#include "core/parallel.h"
#include "mesh/sweep.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

namespace quoin::core {

namespace {

using mesh::Vec3;

/// Beyond what a part sweeps, the surface of a piece is looked at this far round it, mm.
constexpr double aroundMm = 1;

/// A loose part in its place, and its joint.
struct Placed {
    const PartFile* part;
    mesh::Transform placement;
    std::size_t joint;
};

std::vector<Placed> placedParts(const Evidence& evidence)
{
    const Project& project = evidence.project;
    std::vector<Placed> placed;
    for (const PartFile& part : evidence.parts) {
        if (part.kind == "piece" || part.mesh.empty())
            continue;
        const Vec3 middle = mesh::bounds(part.mesh).centre();
        for (const mesh::Transform& placement : part.placements) {
            double nearest = std::numeric_limits<double>::infinity();
            std::optional<std::size_t> joint;
            for (std::size_t j = 0; j < project.layout.joints.size(); ++j) {
                const Joint& own = project.layout.joints[j];
                if (part.kind != kindName(own.kind) || printedPartCount(own) == 0)
                    continue;
                const Vec3 at = jointMiddle(own, evidence.cut(project.seams[own.seam].cut));
                if (const double d = mesh::length(at - placement.point(middle)); d < nearest) {
                    nearest = d;
                    joint = j;
                }
            }
            if (joint)
                placed.push_back({&part, placement, *joint});
        }
    }
    return placed;
}

/// The part of a piece that a body may meet as it goes `wayMm` along a motion.
mesh::Mesh near(const mesh::Mesh& piece, const mesh::Mesh& body, const Motion& motion, double wayMm)
{
    double low = 1e300, high = -1e300, radius = 0;
    for (const Vec3 p : body.points) {
        const double height = mesh::dot(p - motion.point, motion.direction);
        low = std::min(low, height);
        high = std::max(high, height);
        radius = std::max(radius, mesh::length(p - motion.point - height * motion.direction));
    }
    mesh::Box3 box;
    box.add(motion.point + low * motion.direction);
    box.add(motion.point + (high + wayMm) * motion.direction);
    const Vec3 reach{radius + aroundMm, radius + aroundMm, radius + aroundMm};
    box = {box.min - reach, box.max + reach};
    std::vector<mesh::Index> found;
    for (mesh::Index t = 0; t < piece.triangles.size(); ++t) {
        mesh::Box3 own;
        for (int k = 0; k < 3; ++k)
            own.add(piece.corner(t, k));
        if (own.min.x <= box.max.x && box.min.x <= own.max.x && own.min.y <= box.max.y && box.min.y <= own.max.y &&
            own.min.z <= box.max.z && box.min.z <= own.max.z)
            found.push_back(t);
    }
    return mesh::subset(piece, found);
}

/// How a clocking key comes out.
Motion outOfSlot(const Joint& joint, const mesh::Plane& cut)
{
    return {Motion::Kind::Straight, jointMiddle(joint, cut), dovetailWay(joint, cut), 0, 0};
}

bool sane(const mesh::Mesh& mesh)
{
    constexpr double farthestMm = 1e5; // anything further out was damaged
    return std::all_of(mesh.points.begin(), mesh.points.end(), [](Vec3 p) {
        return std::fabs(p.x) <= farthestMm && std::fabs(p.y) <= farthestMm && std::fabs(p.z) <= farthestMm;
    });
}

std::vector<Claim> claimsOf(const Evidence& evidence, const Placed& placed)
{
    const Joint& joint = evidence.project.layout.joints[placed.joint];
    const Seam& seam = evidence.project.seams[joint.seam];
    const mesh::Mesh body = mesh::transformed(placed.part->mesh, placed.placement);
    std::vector<Claim> claims;
    for (const bool above : {false, true}) {
        const int number = above ? seam.pieceAbove : seam.pieceBelow;
        const mesh::Mesh& piece = evidence.meshOf(number);
        if (piece.empty())
            continue;
        const bool sideways = joint.kind == Joint::Kind::ClockingKey;
        // Out of the piece below it goes as the piece above would.
        const Motion own = wayOff(joint, evidence.cut(seam.cut));
        const Motion off = sideways ? outOfSlot(joint, evidence.cut(seam.cut)) : above ? own.reversed() : own;
        const double wayMm = sideways ? joint.nutOutMm : joint.depthMm;
        const double clear = sane(body) && sane(piece) ? clearWayMm(piece, body, off, wayMm) : 0;
        claims.push_back(
            claim("assembly.insert", placed.part->file,
                  fmt::format("on seam {} it {} {} without meeting it, swept over its whole reach (way that is clear)",
                              seam.mark, off.kind == Motion::Kind::Helix ? "turns into" : "goes into",
                              evidence.nameOf(number)),
                  clear, ">=", wayMm, "mm"));
    }
    return claims;
}

/// Something that comes in from outside when its pieces are together.
struct Late {
    mesh::Mesh body; ///< in its place
    Motion out;
    double wayMm;
    std::string what;
};

Motion straight(Vec3 from, Vec3 way)
{
    return {Motion::Kind::Straight, from, way, 0, 0};
}

std::vector<Late> lateOf(const Joint& joint, const mesh::Plane& cut)
{
    std::vector<Late> late;
    const Vec3 middle = jointMiddle(joint, cut);
    if (joint.kind == Joint::Kind::ClockingKey) {
        if (auto parts = printedParts(joint, cut); parts && !parts->empty())
            late.push_back({std::move(parts->front().inPlace), outOfSlot(joint, cut), joint.nutOutMm, "clocking key"});
        return late;
    }
    auto solids = boltInPlace(joint, cut);
    const auto length = boltLengthMm(joint);
    if (joint.kind != Joint::Kind::DrawBolt || !solids || !length)
        return late;
    // Screw, washer, nut, as boltInPlace has them.
    const Motion head = straight(middle, (joint.carrierAbove ? 1.0 : -1.0) * cut.normal);
    late.push_back({std::move((*solids)[0]), head, joint.headOutMm + *length, "screw"});
    late.push_back({std::move((*solids)[1]), head, joint.headOutMm, "washer"});
    if (solids->size() > 2) {
        const bool aside = joint.hold == JointForm::Hold::SideNut;
        late.push_back({std::move((*solids)[2]), aside ? straight(middle, dovetailWay(joint, cut)) : head.reversed(),
                        joint.nutOutMm, "nut"});
    }
    return late;
}

} // namespace

double clearWayMm(const mesh::Mesh& piece, const mesh::Mesh& body, const Motion& off, double wayMm)
{
    const mesh::SweptBody moving(body, off.sweep()), standing(near(piece, body, off, wayMm), off.sweep());
    const auto hit = mesh::firstContact(moving, standing, restSlackMm, wayMm);
    return hit ? hit->wayMm : wayMm;
}

void proveAccess(const Evidence& evidence, const AssemblyStep& step, const std::string& subject, Proof& proof)
{
    std::vector<int> pieces = step.moving;
    pieces.insert(pieces.end(), step.onto.begin(), step.onto.end());
    for (const std::size_t j : step.joints) {
        const Joint& joint = evidence.project.layout.joints[j];
        if (!goesInLast(joint))
            continue;
        const Seam& seam = evidence.project.seams[joint.seam];
        for (const Late& late : lateOf(joint, evidence.cut(seam.cut))) {
            double clear = late.wayMm;
            for (const int piece : pieces)
                if (const mesh::Mesh& mesh = evidence.meshOf(piece); !mesh.empty())
                    clear = std::min(clear, sane(mesh) ? clearWayMm(mesh, late.body, late.out, late.wayMm) : 0);
            proof.claims.push_back(claim("assembly.access", subject,
                                         fmt::format("the {} on seam {} comes in from outside past all that is there "
                                                     "by then, swept over its whole way (way that is clear)",
                                                     late.what, seam.mark),
                                         clear, ">=", late.wayMm, "mm"));
        }
    }
}

void proveInsertion(const Evidence& evidence, Proof& proof)
{
    const std::vector<Placed> placed = placedParts(evidence);
    std::vector<std::vector<Claim>> claims(placed.size());
    forEachIndex(placed.size(), [&](std::size_t i) { claims[i] = claimsOf(evidence, placed[i]); });
    for (std::vector<Claim>& some : claims)
        std::move(some.begin(), some.end(), std::back_inserter(proof.claims));
}

} // namespace quoin::core
