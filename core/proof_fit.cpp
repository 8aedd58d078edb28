// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/bed_fit.h"
#include "core/parallel.h"
#include "core/proof_evidence.h"
#include "mesh/mass.h"
#include "mesh/tolerance.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace quoin::core {

namespace {

/// A matrix counts as rigid when no entry of its Gram matrix, nor its determinant, is off by more.
constexpr double rigidError = 1e-9;
/// Share of the area that a piece was planned to stand on that must lie on the plate in the file: bores and marks may
/// have been sunk into it since.
constexpr double leastBaseShare = 0.5;

double distanceFromRigid(const mesh::Transform& t)
{
    const auto& m = t.m;
    double off = std::fabs(t.determinant() - 1);
    for (std::size_t i = 0; i < 3; ++i)
        for (std::size_t j = 0; j < 3; ++j) {
            double product = 0;
            for (std::size_t row = 0; row < 3; ++row)
                product += m[4 * row + i] * m[4 * row + j];
            off = std::max(off, std::fabs(product - (i == j ? 1 : 0)));
        }
    for (std::size_t k = 0; k < 4; ++k)
        off = std::max(off, std::fabs(m[12 + k] - (k == 3 ? 1 : 0)));
    return off;
}

/// Area of the triangles that lie on the plate, as flat as the fit took for flat.
double areaOnPlate(const mesh::Mesh& mesh)
{
    double sum = 0;
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        bool down = true;
        for (int k = 0; k < 3; ++k)
            down = down && std::fabs(mesh.corner(t, k).z) <= 2 * mesh::tolerance::flatMm;
        if (down)
            sum += mesh::triangleArea(mesh, t);
    }
    return sum;
}

/// Largest distance between where the list and the project put the corners of the piece's box.
double poseError(const PartFile& part, const Piece& piece)
{
    const mesh::Box3 box = mesh::bounds(part.mesh);
    const mesh::Transform back = piece.pose.printFromAssembled * part.placements.front();
    double worst = 0;
    for (int corner = 0; corner < 8; ++corner) {
        const mesh::Vec3 p{(corner & 1) != 0 ? box.max.x : box.min.x, (corner & 2) != 0 ? box.max.y : box.min.y,
                           (corner & 4) != 0 ? box.max.z : box.min.z};
        worst = std::max(worst, mesh::length(back.point(p) - p));
    }
    return worst;
}

void proveOnBed(const Evidence& evidence, const PartFile& part, std::vector<Claim>& claims)
{
    const auto& beds = evidence.project.beds;
    const auto bed = std::find_if(beds.begin(), beds.end(), [&](const Bed& b) { return b.name == part.bed; });
    if (bed == beds.end()) {
        claims.push_back(
            claim("fit.bed", part.file, "its bed \"" + part.bed + "\" is one of the project's", 0, "=", 1, "beds"));
        return;
    }
    const double margin = evidence.project.marginMm, rounding = fileRoundingMm(part.mesh);
    double room = roomLeftMm(part.mesh, *bed, margin);
    if (part.kind != "piece" && room < 0)
        // Small parts may be turned on the plate by whoever prints them.
        if (const auto pose = fitOnBeds(part.mesh, {*bed}, {margin, true}))
            room = pose->slackMm;
    claims.push_back(claim("fit.room", part.file,
                           fmt::format("fits the bed {} with {:g} mm kept free (least room left; float rounding "
                                       "allowed for)",
                                       bed->name, margin),
                           room, ">=", -rounding, "mm"));
}

void provePose(const Evidence& evidence, const PartFile& part, std::vector<Claim>& claims)
{
    const double low = mesh::bounds(part.mesh).min.z, rounding = fileRoundingMm(part.mesh);
    claims.push_back(claim("fit.plate", part.file, "stands on the plate (lowest point from z = 0)", std::fabs(low),
                           "<=", rounding, "mm"));
    if (part.kind != "piece")
        return;
    const Piece& piece = evidence.project.pieces[static_cast<std::size_t>(part.number) - 1];
    const double size = mesh::length(mesh::bounds(part.mesh).extents());
    claims.push_back(claim("fit.pose", part.file, "the list and the project put it in the same place",
                           poseError(part, piece), "<=", rounding + 1e-9 * size, "mm"));
    if (piece.pose.standsFlat)
        claims.push_back(
            claim("fit.base", part.file,
                  "the flat face planned as its base lies on the plate (bores and marks opening on it taken off)",
                  areaOnPlate(part.mesh), ">=", leastBaseShare * piece.pose.baseAreaMm2, "mm2"));
}

} // namespace

void proveFit(const Evidence& evidence, Proof& proof)
{
    std::vector<std::vector<Claim>> claims(evidence.parts.size());
    forEachIndex(claims.size(), [&](std::size_t i) {
        const PartFile& part = evidence.parts[i];
        double off = 0;
        for (const mesh::Transform& placement : part.placements)
            off = std::max(off, std::isfinite(distanceFromRigid(placement)) ? distanceFromRigid(placement) : 1e300);
        claims[i].push_back(claim("fit.rigid", part.file,
                                  "the way from print to place is a rigid motion (orthonormal, determinant +1)", off,
                                  "<=", rigidError, ""));
        if (part.mesh.empty())
            return;
        proveOnBed(evidence, part, claims[i]);
        provePose(evidence, part, claims[i]);
    });
    for (std::vector<Claim>& some : claims)
        std::move(some.begin(), some.end(), std::back_inserter(proof.claims));
}

} // namespace quoin::core
