// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/piece_features.h"
#include "core/proof.h"
#include "mesh/topology.h"

#include <array>
#include <optional>
#include <string>
#include <vector>

/// For core/proof*.cpp only: what an export folder holds, as read back, and the groups of claims made about it.
namespace quoin::core {

/// One line of pieces.json with the file that it names.
struct PartFile {
    int number = 0;
    std::string kind; ///< "piece" or of a loose part
    std::string file; ///< as listed
    int count = 0;
    double volumeMm3 = 0, areaMm2 = 0; ///< as listed
    mesh::Vec3 extentsMm{0, 0, 0};     ///< as listed
    std::string bed;
    bool standsFlat = false;
    std::vector<mesh::Transform> placements;
    mesh::Mesh mesh; ///< as read, print pose; empty when the file can't be read
    std::size_t droppedTriangles = 0;
    std::optional<Problem> unreadable;
};

/// Everything the proof has to go by.
struct Evidence {
    Project project;                     ///< from project.quoin.json; project.part.mesh from part.ply
    std::vector<PartFile> parts;         ///< from pieces.json and the STL files
    std::vector<std::size_t> fileOf;     ///< for piece number n (at n - 1) its place in `parts`, or noFile
    std::vector<mesh::Mesh> assembled;   ///< for piece number n (at n - 1) its mesh in the part's frame; may be empty
    std::vector<PieceFeatures> features; ///< of piece number n (at n - 1), as the project says
    static constexpr std::size_t noFile = static_cast<std::size_t>(-1);

    const mesh::Plane& cut(int node) const { return project.plan.nodes[static_cast<std::size_t>(node)].plane; }
    /// Name for claims: the file of a piece, or "piece 3" when it has none.
    std::string nameOf(int piece) const;
    const mesh::Mesh& meshOf(int piece) const { return assembled[static_cast<std::size_t>(piece) - 1]; }
};

/// Reads a folder. A Problem when project.quoin.json, pieces.json or part.ply can't be read; a part file that can't
/// is left to the claims.
Result<Evidence> readEvidence(const std::filesystem::path& folder, const Context& context);

/// A claim, held against its limit. Anything not finite doesn't hold.
Claim claim(std::string id, std::string subject, std::string text, double measured, std::string relation, double limit,
            std::string unit);

/// What rounding to a 32-bit file may move a point by, mm: corners go to the nearest step of the largest coordinate,
/// and mesh/print_ready.h closes edges of up to three.
double fileRoundingMm(const mesh::Mesh& inPrintPose);

// The groups. Each adds its claims in a fixed order.
void proveFiles(const Evidence& evidence, Proof& proof);
void proveFit(const Evidence& evidence, Proof& proof);
void proveRebuild(const Evidence& evidence, Proof& proof);
void proveJoints(const Evidence& evidence, Proof& proof);
void proveWitnesses(const Evidence& evidence, Proof& proof);
void proveAssembly(const Evidence& evidence, Proof& proof);
void estimateStrength(const Evidence& evidence, Proof& proof);
/// The last of them: tells of the strength, too.
void addCautions(const Evidence& evidence, Proof& proof);

} // namespace quoin::core
