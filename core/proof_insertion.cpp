// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/proof_insertion.h"

#include "core/assembly.h"
#include "core/assembly_ways.h"
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
                const Vec3 at = mesh::frameOf(evidence.cut(project.seams[own.seam].cut)).space(own.at);
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

/// How far a part comes out of the bore on one side before it meets it; all of `wayMm` when it is free.
double clearWay(const mesh::Mesh& piece, const mesh::Mesh& body, const Motion& off, double wayMm)
{
    const mesh::SweptBody moving(body, off.sweep()), standing(near(piece, body, off, wayMm), off.sweep());
    const auto hit = mesh::firstContact(moving, standing, restSlackMm, wayMm);
    return hit ? hit->wayMm : wayMm;
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
        // Out of the piece below it goes as the piece above would.
        const Motion own = wayOff(joint, evidence.cut(seam.cut)), off = above ? own.reversed() : own;
        const double wayMm = joint.depthMm;
        const double clear = sane(body) && sane(piece) ? clearWay(piece, body, off, wayMm) : 0;
        claims.push_back(
            claim("assembly.insert", placed.part->file,
                  fmt::format("on seam {} it {} {} without meeting it, swept over its whole reach (way that is clear)",
                              seam.mark, off.kind == Motion::Kind::Helix ? "turns into" : "goes into",
                              evidence.nameOf(number)),
                  clear, ">=", wayMm, "mm"));
    }
    return claims;
}

} // namespace

void proveInsertion(const Evidence& evidence, Proof& proof)
{
    const std::vector<Placed> placed = placedParts(evidence);
    std::vector<std::vector<Claim>> claims(placed.size());
    forEachIndex(placed.size(), [&](std::size_t i) { claims[i] = claimsOf(evidence, placed[i]); });
    for (std::vector<Claim>& some : claims)
        std::move(some.begin(), some.end(), std::back_inserter(proof.claims));
}

} // namespace quoin::core
