// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/proof_evidence.h"
#include "core/witness_shape.h"
#include "mesh/distance.h"
#include "mesh/tolerance.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

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

/// Corners of a piece in the cut's plane and in the groove: its notch in the face's outline.
std::vector<mesh::Vec3> notch(const mesh::Mesh& piece, const mesh::Plane& cut, const std::vector<JointZone>& zones)
{
    std::vector<mesh::Vec3> corners;
    for (const mesh::Vec3 p : piece.points)
        if (std::fabs(cut.distance(p)) <= mesh::tolerance::planeSlackMm && inGroove(zones, p))
            corners.push_back(p);
    return corners;
}

/// Farthest from any corner of the one to the nearest of the other; infinite where one has none.
double apart(const std::vector<mesh::Vec3>& some, const std::vector<mesh::Vec3>& others)
{
    double worst = some.empty() ? std::numeric_limits<double>::infinity() : 0;
    for (const mesh::Vec3 a : some) {
        double nearest = std::numeric_limits<double>::infinity();
        for (const mesh::Vec3 b : others)
            nearest = std::min(nearest, mesh::length(a - b));
        worst = std::max(worst, nearest);
    }
    return worst;
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
    const auto a = notch(below, evidence.cut(seam.cut), zones), b = notch(above, evidence.cut(seam.cut), zones);
    proof.claims.push_back(claim("witness.meets", name,
                                 "its grooves in both pieces meet in the seam, corner by corner (largest difference)",
                                 std::max(apart(a, b), apart(b, a)), "<=", mesh::tolerance::surfaceMm, "mm"));
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
