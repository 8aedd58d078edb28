// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/parallel.h"
#include "core/proof_evidence.h"
#include "mesh/mass.h"
#include "mesh/self_intersection.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

namespace quoin::core {

namespace {

/// pieces.json was computed from the same 32-bit coordinates; only the order of summing may differ.
constexpr double listedRelative = 1e-9;

double relativeError(double listed, double measured)
{
    return std::fabs(listed - measured) / std::max(std::fabs(measured), 1e-300);
}

/// A surface that encloses a solid: what every file and the part itself must be.
void proveSolid(const std::string& subject, const mesh::Mesh& mesh, std::size_t dropped, std::vector<Claim>& claims)
{
    const mesh::Topology t = mesh::topologyOf(mesh);
    const auto none = [&](const char* id, const char* text, std::size_t found, const char* unit) {
        claims.push_back(claim(id, subject, text, static_cast<double>(found), "=", 0, unit));
    };
    none("file.closed", "closed: every edge has a triangle on both sides", t.openEdges, "edges");
    none("file.oriented", "all triangles face outwards alike", t.flippedEdges, "edges");
    none("file.manifold", "2-manifold: every edge has two triangles, every corner one fan of them",
         t.nonManifoldEdges + t.nonManifoldVertices, "places");
    none("file.degenerate", "no triangle without area, none twice",
         t.degenerateTriangles + t.duplicateTriangles + dropped, "triangles");
    none("file.crossing", "free of self-intersections, by exact test", mesh::selfIntersections(mesh).size(), "pairs");
    claims.push_back(claim("file.volume", subject, "encloses a volume", mesh::volume(mesh), ">", 0, "mm3"));
}

void proveListed(const PartFile& part, std::vector<Claim>& claims)
{
    const mesh::Vec3 off = mesh::bounds(part.mesh).extents() - part.extentsMm;
    claims.push_back(claim("list.volume", part.file, "volume as listed in pieces.json",
                           relativeError(part.volumeMm3, mesh::volume(part.mesh)), "<=", listedRelative, "relative"));
    claims.push_back(claim("list.area", part.file, "area as listed in pieces.json",
                           relativeError(part.areaMm2, mesh::area(part.mesh)), "<=", listedRelative, "relative"));
    claims.push_back(claim("list.extents", part.file, "extents as listed in pieces.json",
                           std::max({std::fabs(off.x), std::fabs(off.y), std::fabs(off.z)}),
                           "<=", listedRelative * mesh::length(part.extentsMm), "mm"));
    claims.push_back(claim("list.count", part.file, "as many places as copies", part.count, "=",
                           static_cast<double>(part.placements.size()), "copies"));
}

std::vector<Claim> proveFile(const Evidence& evidence, const PartFile& part)
{
    std::vector<Claim> claims;
    const std::string trouble = part.unreadable ? part.unreadable->sentence() : std::string();
    claims.push_back(claim("file.read", part.file, part.unreadable ? trouble : "can be read",
                           static_cast<double>(part.mesh.triangles.size()), ">=", 4, "triangles"));
    if (part.unreadable)
        return claims;
    proveSolid(part.file, part.mesh, part.droppedTriangles, claims);
    proveListed(part, claims);
    if (part.kind != "piece" || evidence.project.islandsApart)
        claims.push_back(claim("file.one-body", part.file, "one body, nothing loose in it",
                               static_cast<double>(mesh::bodies(part.mesh).size()), "=", 1, "bodies"));
    return claims;
}

/// The list against the project.
void proveSet(const Evidence& evidence, Proof& proof)
{
    const Project& project = evidence.project;
    int pieces = 0, loose = 0;
    for (const PartFile& part : evidence.parts)
        (part.kind == "piece" ? pieces : loose) += part.kind == "piece" ? 1 : part.count;
    proof.claims.push_back(claim("set.pieces", "the set", "a file for every piece of the project", pieces, "=",
                                 static_cast<double>(project.pieces.size()), "pieces"));
    const auto wanted =
        std::accumulate(project.layout.joints.begin(), project.layout.joints.end(), std::size_t{0},
                        [](std::size_t sum, const Joint& joint) { return sum + printedPartCount(joint); });
    proof.claims.push_back(claim("set.loose", "the set", "a loose part for every joint that has one", loose, "=",
                                 static_cast<double>(wanted), "parts"));
}

} // namespace

void proveFiles(const Evidence& evidence, Proof& proof)
{
    std::vector<std::vector<Claim>> claims(evidence.parts.size() + 1);
    forEachIndex(claims.size(), [&](std::size_t i) {
        if (i < evidence.parts.size())
            claims[i] = proveFile(evidence, evidence.parts[i]);
        else
            proveSolid("part.ply", *evidence.project.part.mesh, 0, claims[i]);
    });
    for (std::vector<Claim>& some : claims)
        std::move(some.begin(), some.end(), std::back_inserter(proof.claims));
    proveSet(evidence, proof);
}

} // namespace quoin::core
