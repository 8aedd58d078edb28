// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/proof_evidence.h"
#include "core/witness_shape.h"
#include "mesh/distance.h"
#include "mesh/segment_distance.h"
#include "mesh/tolerance.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <utility>
#include <vector>

namespace quoin::core {

namespace {

/// The groove may be so much shallower than planned where the skin is hollow, deeper where it bulges; shares of the
/// depth.
constexpr double leastDepthShare = 0.6, mostDepthShare = 1.25;

bool inGroove(const std::vector<JointZone>& zones, mesh::Vec3 p)
{
    return std::any_of(zones.begin(), zones.end(),
                       [&](const JointZone& z) { return inZone(z, p, mesh::tolerance::planeSlackMm); });
}

/// The outline of a piece's face in a cut, as edges that belong to one triangle of the face only.
std::vector<std::pair<mesh::Vec3, mesh::Vec3>> outlineOf(const mesh::Mesh& piece, const mesh::Plane& cut)
{
    std::map<std::pair<mesh::Index, mesh::Index>, int> uses;
    for (mesh::Index t = 0; t < piece.triangles.size(); ++t) {
        const auto flat = [&](int k) {
            return std::fabs(cut.distance(piece.corner(t, k))) <= mesh::tolerance::planeSlackMm;
        };
        if (flat(0) && flat(1) && flat(2))
            for (std::size_t k = 0; k < 3; ++k)
                ++uses[std::minmax({piece.triangles[t][k], piece.triangles[t][(k + 1) % 3]})];
    }
    std::vector<std::pair<mesh::Vec3, mesh::Vec3>> edges;
    for (const auto& [edge, count] : uses)
        if (count == 1)
            edges.emplace_back(piece.points[edge.first], piece.points[edge.second]);
    return edges;
}

/// Farthest that the corners of one outline in the groove lie from another; infinite where there are none.
double apart(const std::vector<std::pair<mesh::Vec3, mesh::Vec3>>& some,
             const std::vector<std::pair<mesh::Vec3, mesh::Vec3>>& others, const std::vector<JointZone>& zones)
{
    double worst = -1;
    for (const auto& [a, b] : some)
        for (const mesh::Vec3 p : {a, b}) {
            if (!inGroove(zones, p))
                continue;
            double nearest = std::numeric_limits<double>::infinity();
            for (const auto& [c, d] : others)
                nearest = std::min(nearest, mesh::segmentGap(p, p, c, d).distanceMm);
            worst = std::max(worst, nearest);
        }
    return worst < 0 ? std::numeric_limits<double>::infinity() : worst;
}

/// How deep the groove is below the part's own skin, at the shallowest stretch and at its deepest place.
std::pair<double, double> depths(const mesh::Mesh& piece, const Witness& witness, bool above,
                                 const mesh::SurfaceTree& part)
{
    const std::vector<JointZone> zones = witnessZones(witness);
    std::vector<double> deepest(zones.size(), 0);
    for (const mesh::Vec3 p : piece.points)
        for (std::size_t i = 0; i < zones.size(); ++i)
            if (inZone(zones[i], p, mesh::tolerance::planeSlackMm))
                deepest[i] = std::max(deepest[i], part.distance(p));
    const auto from = above ? deepest.begin() + static_cast<std::ptrdiff_t>(witness.crossing) : deepest.begin();
    const auto to = above ? deepest.end() : deepest.begin() + static_cast<std::ptrdiff_t>(witness.crossing);
    if (from == to)
        return {0, 0};
    return {*std::min_element(from, to), *std::max_element(from, to)};
}

void prove(const Evidence& evidence, const Witness& witness, const mesh::SurfaceTree& part, Proof& proof)
{
    const Seam& seam = evidence.project.seams[witness.seam];
    const std::string name = fmt::format("witness line {} of {} and {}", seam.mark, seam.pieceBelow, seam.pieceAbove);
    const mesh::Mesh &below = evidence.meshOf(seam.pieceBelow), &above = evidence.meshOf(seam.pieceAbove);
    const std::vector<JointZone> zones = witnessZones(witness);
    const auto a = outlineOf(below, evidence.cut(seam.cut)), b = outlineOf(above, evidence.cut(seam.cut));
    proof.claims.push_back(claim("witness.meets", name,
                                 "its grooves in both pieces meet: corners of the one face's outline there lie on that "
                                 "of the other (largest difference)",
                                 std::max(apart(a, b, zones), apart(b, a, zones)), "<=", mesh::tolerance::surfaceMm,
                                 "mm"));
    for (const bool isAbove : {false, true}) {
        const auto [least, most] = depths(isAbove ? above : below, witness, isAbove, part);
        const std::string piece = evidence.nameOf(isAbove ? seam.pieceAbove : seam.pieceBelow);
        proof.claims.push_back(claim("witness.depth", name,
                                     fmt::format("it is a groove in {} along its whole length, {:g} mm deep on the "
                                                 "whole (at the shallowest stretch)",
                                                 piece, witness.depthMm),
                                     least, ">=", leastDepthShare * witness.depthMm, "mm"));
        proof.claims.push_back(claim("witness.deepest", name, fmt::format("no deeper in {} than planned", piece), most,
                                     "<=", mostDepthShare * witness.depthMm, "mm"));
    }
}

} // namespace

void proveWitnesses(const Evidence& evidence, Proof& proof)
{
    if (evidence.project.layout.witnesses.empty())
        return;
    const mesh::SurfaceTree part(*evidence.project.part.mesh);
    for (const Witness& witness : evidence.project.layout.witnesses)
        prove(evidence, witness, part, proof);
}

} // namespace quoin::core
