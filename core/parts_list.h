// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint_shape.h"
#include "core/project.h"
#include "mesh/mesh.h"

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

namespace quoin::core {

struct ProjectEstimate;

/// One line of the parts list: something to print, so many times. Schema: DEVELOPERS.md, "pieces.json".
struct ListedPart {
    int number = 0;
    std::string kind; ///< "piece", or what JointPart::kind says
    std::string name; ///< "heron-neck 3"
    std::string file; ///< relative to the export folder: "pieces/03-heron-neck.stl"
    int count = 1;
    mesh::Mesh mesh; ///< as written: print pose, 32-bit coordinates
    std::string bed;
    std::vector<int> neighbours;     ///< piece numbers
    std::vector<std::size_t> joints; ///< indices into the layout's joints
    bool standsFlat = true;
    /// Where each copy belongs: takes a point of the file to its place in the scaled part's own frame.
    std::vector<mesh::Transform> assembledFromPrint;
};

/// The parts list of a project: pieces first, then loose joint parts, alike ones in one line. Every mesh is made
/// ready for printing (mesh/print_ready.h).
/// @param jointed  the pieces with their joints sunk in, assembled frame, in order
Result<std::vector<ListedPart>> partsList(const Project& project, const std::vector<mesh::Mesh>& jointed);

/// What there is to buy for the joints, alike things together.
std::vector<BoughtPart> boughtList(const Project& project);

/// @param estimate  of these parts, or null: what printing each takes, for those that it holds
nlohmann::json partsJson(const Project& project, const std::vector<ListedPart>& parts,
                         const ProjectEstimate* estimate = nullptr);
/// The same for a spreadsheet: RFC 4180, one header line, units in the names of the columns.
std::string partsCsv(const Project& project, const std::vector<ListedPart>& parts,
                     const ProjectEstimate* estimate = nullptr);

/// A name fit for a file: lower-case letters, digits and hyphens.
std::string fileNameFrom(const std::string& name);

} // namespace quoin::core
