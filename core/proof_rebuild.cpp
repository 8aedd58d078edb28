// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_layout.h"
#include "core/jointed_pieces.h"
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
#include <limits>

namespace quoin::core {

namespace {

/// Points spread over a surface in proportion to area, and corners of it (all, or evenly spaced when there are more).
constexpr std::size_t surfaceSamples = 20'000;
constexpr std::size_t mostCorners = 200'000;
/// Points are tried in runs of this many, a run to a thread.
constexpr std::size_t samplesARun = 512;

bool overlap(const mesh::Box3& a, const mesh::Box3& b)
{
    return a.min.x <= b.max.x && b.min.x <= a.max.x && a.min.y <= b.max.y && b.min.y <= a.max.y && a.min.z <= b.max.z &&
           b.min.z <= a.max.z;
}

/// Whether a piece's path really leads from the root of the plan to a leaf.
bool leadsToLeaf(const Path& path, const CutPlan& plan)
{
    int node = plan.empty() ? -1 : 0;
    for (const Step& step : path) {
        if (step.node != node)
            return false;
        const CutPlan::Node& cut = plan.nodes[static_cast<std::size_t>(node)];
        node = step.above ? cut.above : cut.below;
    }
    return node == -1;
}

void proveSides(const Evidence& evidence, Proof& proof)
{
    for (const Piece& piece : evidence.project.pieces) {
        const std::string name = evidence.nameOf(piece.number);
        proof.claims.push_back(claim("piece.path", name, "its turns lead from the first cut to a leaf of the plan",
                                     leadsToLeaf(piece.path, evidence.project.plan) ? 1 : 0, "=", 1, ""));
        if (evidence.meshOf(piece.number).empty())
            continue;
        const PieceFeatures& features = evidence.features[static_cast<std::size_t>(piece.number) - 1];
        for (std::size_t i = 0; i < piece.path.size(); ++i) {
            const Step& step = piece.path[i];
            double past = -1e300;
            for (const mesh::Vec3 p : evidence.meshOf(piece.number).points)
                if (!features.proud(p, mesh::tolerance::planeSlackMm, i))
                    past = std::max(past, (step.above ? -1 : 1) * evidence.cut(step.node).distance(p));
            proof.claims.push_back(claim(
                "piece.side", name,
                fmt::format(
                    "stays {} cut {} (farthest reach past the plane). Pieces whose ways part at a cut lie "
                    "on different sides of it, so they can't overlap by more than twice the limit; studs and keys that "
                    "stand out of a face are held against what they stand in among the joints",
                    step.above ? "above" : "below", step.node + 1),
                past, "<=", mesh::tolerance::planeSlackMm, "mm"));
        }
    }
}

/// Pieces of one leaf have no cut between them, so they are tried against each other.
void proveIslandsApart(const Evidence& evidence, Proof& proof)
{
    const auto& pieces = evidence.project.pieces;
    for (std::size_t i = 0; i < pieces.size(); ++i)
        for (std::size_t j = i + 1; j < pieces.size(); ++j) {
            const mesh::Mesh &a = evidence.assembled[i], &b = evidence.assembled[j];
            if (pieces[i].path != pieces[j].path || a.empty() || b.empty())
                continue;
            const bool meet = overlap(mesh::bounds(a), mesh::bounds(b)) && mesh::meshesIntersect(a, b);
            proof.claims.push_back(
                claim("piece.apart", evidence.nameOf(pieces[i].number),
                      "doesn't meet " + evidence.nameOf(pieces[j].number) + ", an island of the same part of the plan",
                      meet ? 1 : 0, "=", 0, "contacts"));
        }
}

void proveVolume(const Evidence& evidence, Proof& proof)
{
    const Project& project = evidence.project;
    const auto sunk = sunkVolumeMm3(project.seams, project.plan, project.layout);
    const auto taken = takenVolumeMm3(*project.part.mesh, project.seams, project.plan, project.layout);
    double sum = sunk && taken ? *sunk + *taken : std::numeric_limits<double>::quiet_NaN(), allowed = 0;
    for (const std::size_t place : evidence.fileOf) {
        if (place == Evidence::noFile)
            continue;
        const mesh::Mesh& mesh = evidence.parts[place].mesh;
        sum += mesh::volume(mesh);
        if (!mesh.empty())
            allowed += mesh::area(mesh) * fileRoundingMm(mesh);
    }
    const double whole = mesh::volume(*project.part.mesh);
    proof.claims.push_back(
        claim("set.volume", "the set",
              fmt::format("the pieces and what joints and marks took out of them (less what they added) ({:.1f} mm3) "
                          "add up to the part "
                          "({:.1f} mm3); the limit is what rounding to 32-bit files can do: area times four steps",
                          sum, whole),
              std::fabs(sum - whole) / whole, "<=", allowed / whole + mesh::tolerance::cutVolumeRelative, "relative"));
}

/// Points of a surface: spread by area, and corners.
std::vector<mesh::Vec3> samplesOf(const mesh::Mesh& mesh, std::size_t count, std::size_t corners)
{
    std::vector<mesh::Vec3> points;
    for (const mesh::SurfacePoint& p : mesh::sampledSurface(mesh, count, 1))
        points.push_back(p.point);
    const std::size_t stride = std::max<std::size_t>(1, mesh.points.size() / std::max<std::size_t>(corners, 1));
    for (std::size_t i = 0; i < mesh.points.size(); i += stride)
        points.push_back(mesh.points[i]);
    return points;
}

/// The largest of f over points, on all cores.
template <class F>
double largestOver(const std::vector<mesh::Vec3>& points, const F& f)
{
    const std::size_t runs = (points.size() + samplesARun - 1) / samplesARun;
    std::vector<double> worst(runs, 0);
    forEachIndex(runs, [&](std::size_t run) {
        for (std::size_t i = run * samplesARun; i < std::min(points.size(), (run + 1) * samplesARun); ++i)
            worst[run] = std::max(worst[run], f(points[i]));
    });
    return worst.empty() ? 0 : *std::max_element(worst.begin(), worst.end());
}

void proveSurfaceCovered(const Evidence& evidence, Proof& proof)
{
    mesh::Mesh all;
    for (const mesh::Mesh& piece : evidence.assembled)
        all = mesh::joined(all, piece);
    const mesh::SurfaceTree tree(all);
    const auto points = samplesOf(*evidence.project.part.mesh, surfaceSamples, mostCorners);
    const std::vector<PieceFeatures>& features = evidence.features;
    const auto open = [&](mesh::Vec3 p) {
        return std::any_of(features.begin(), features.end(),
                           [&](const PieceFeatures& f) { return f.inOpening(p, mesh::tolerance::planeSlackMm); });
    };
    const double worst = largestOver(points, [&](mesh::Vec3 p) { return open(p) ? 0 : tree.distance(p); });
    proof.claims.push_back(claim("set.surface", "the set",
                                 fmt::format("the pieces' surfaces rebuild the part's, but where joints open to the "
                                             "outside (farthest of {} points of the part)",
                                             points.size()),
                                 worst, "<=", mesh::tolerance::surfaceMm, "mm"));
}

/// Nothing that the part hasn't got, but for cut faces, bores and marks.
void proveSkin(const Evidence& evidence, Proof& proof)
{
    const mesh::SurfaceTree tree(*evidence.project.part.mesh);
    const double slack = mesh::tolerance::planeSlackMm;
    const std::size_t each = std::max<std::size_t>(1, evidence.assembled.size());
    for (const Piece& piece : evidence.project.pieces) {
        const mesh::Mesh& mesh = evidence.meshOf(piece.number);
        if (mesh.empty())
            continue;
        const PieceFeatures& features = evidence.features[static_cast<std::size_t>(piece.number) - 1];
        const auto points = samplesOf(mesh, std::max<std::size_t>(surfaceSamples / each, 1000),
                                      std::max<std::size_t>(mostCorners / each, 10'000));
        const double worst = largestOver(points, [&](mesh::Vec3 p) {
            if (features.onCut(p, slack) || features.inBore(p, slack) || features.inMark(p, slack) ||
                features.proud(p, slack))
                return 0.0;
            return tree.distance(p);
        });
        proof.claims.push_back(
            claim("piece.skin", evidence.nameOf(piece.number),
                  fmt::format("its skin is the part's, cut faces, bores and marks aside (farthest of {} points)",
                              points.size()),
                  worst, "<=", mesh::tolerance::surfaceMm, "mm"));
    }
}

} // namespace

void proveRebuild(const Evidence& evidence, Proof& proof)
{
    proveSides(evidence, proof);
    proveIslandsApart(evidence, proof);
    proveVolume(evidence, proof);
    proveSurfaceCovered(evidence, proof);
    proveSkin(evidence, proof);
}

} // namespace quoin::core
