// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/context.h"
#include "mesh/mesh.h"
#include "mesh/result.h"

#include <filesystem>
#include <map>
#include <set>
#include <string>
#include <vector>

/// What core/plate_source.cpp makes pieces from; for core/plate_source*.cpp only.
namespace quoin::core {

/// A line of a parts list.
struct PlateLine {
    std::string part, material, kind, name, file;
    int number = 0, count = 1;
    bool standsFlat = true;
    std::vector<int> neighbours;
    std::set<std::string> marks; ///< of its joints
    mesh::Mesh mesh;
};

/// Everything of one part.
struct PartLines {
    std::string name;
    int quantity = 1;
    std::vector<PlateLine> lines;
    std::map<int, int> step; ///< of the assembly, from 1, by piece number
};

/// The part of an export: pieces.json, the meshes that it names, and the order of assembly in project.quoin.json. What
/// is wrong with a file, with its name and place.
Result<PartLines> partInExport(const std::filesystem::path& folder, const Context& context);

/// How often the demo makes each part, by name; empty in any other folder.
std::map<std::string, int> demoQuantities(const std::filesystem::path& folder);

} // namespace quoin::core
