// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/design.h"
#include "core/mesh_folder.h"
#include "mesh/context.h"
#include "mesh/result.h"

#include <filesystem>
#include <map>
#include <string>
#include <vector>

/// Designs kept as NAME.quoin.json, with the parts' meshes beside it in NAME.quoin-meshes. See DEVELOPERS.md.
namespace quoin::core {

/// ".quoin.json" put after a name that lacks it ("heron", "heron.json").
std::filesystem::path withDesignSuffix(const std::filesystem::path& file);
/// "heron" of "some/heron.quoin.json"; the whole name of a file that ends otherwise.
std::string designName(const std::filesystem::path& file);

/// Saves a design: meshes first, each only when its file isn't there yet, then the document by rename, so that at every
/// moment either the earlier design or this one stands there whole. Then meshes that the earlier one alone used go.
///
/// BadArgument for a name without .quoin.json, for project.quoin.json (which marks exports) and for a design that could
/// not be read again, with the place; FileExists when something other than a design of this version or an earlier one
/// has the name; FileUnwritable; Cancelled. After a failure the earlier design stands as it was.
/// @param keeper  remembers which meshes are on the disk; the same one for each save of a document
Status saveDesign(const Design& design, const std::filesystem::path& file, MeshKeeper& keeper,
                  const Context& context = {});

/// A part whose mesh can't be had, and what is known about where it came from.
struct LostMesh {
    int part = 0; ///< PartDesign::id
    std::string name;
    std::string sourceFile, sourceSha256;
    Problem problem;
};

/// What was read.
struct OpenedDesign {
    Design design;
    std::filesystem::path file; ///< where to save it again; empty for an export, which must not be written over
    std::vector<Note> notes;
    std::vector<LostMesh> lost; ///< only with OpenOptions::lostMeshes
};

struct OpenOptions {
    /// Meshes to be taken for those that can't be read, by part id: the source model, found and read again. Where it
    /// isn't the mesh that was saved, a note says so, and regions kept clear go (they name its triangles).
    std::map<int, mesh::MeshPtr> instead;
    /// Parts without a mesh are named in OpenedDesign::lost and have a null source; else the first one is the problem.
    bool lostMeshes = false;
};

/// Opens a design, or the export in a folder (or its project.quoin.json): of that the part at its full size, cuts, beds
/// and options. FileMissing, FileUnreadable, FileEmpty, FileTooLarge; FileMalformed with the place; VersionTooNew; what
/// MeshKeeper::load says; Cancelled.
Result<OpenedDesign> openDesign(const std::filesystem::path& file, MeshKeeper& keeper, const OpenOptions& options = {},
                                const Context& context = {});

} // namespace quoin::core
