// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/design.h"
#include "core/material_filament.h"
#include "core/parts_list.h"
#include "core/print_log.h"
#include "core/print_totals.h"
#include "core/recipe_book.h"
#include "core/scaling_table.h"
#include "mesh/context.h"

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

/// Estimates of everything that there is to print: what the window, the command line and exports call alike.
namespace quoin::core {

/// What the maker has and wants, besides the pieces.
struct PrintSetup {
    RecipeBook recipes;
    FilamentShelf filaments;
    PrintLog log;
    std::string recipe;        ///< by name; empty: usualRecipe
    std::string material;      ///< in place of each part's own; empty: each its own
    std::string machine;       ///< in place of each part's own; empty: each its own
    double machinePerHour = 0; ///< wear and room, in the currency of the prices
    double pricePerKwh = 0.30; ///< common practice, no source: euros for a household
};

/// The maker's recipes, filaments and log from their files. What each of them says when it is damaged.
Result<PrintSetup> loadPrintSetup();

/// A part with what there is to print for one set of it.
struct PartToPrint {
    std::string name, material, machine;
    int quantity = 1; ///< sets
    std::vector<ListedPart> list;
    /// For what scaling did to it: the part at its small size, and the factor; none when that isn't known.
    mesh::MeshPtr small;
    double scale = 1;
};

/// All pieces and loose parts of the parts, each estimated once. A piece that can't be (too thin for a layer) is left
/// out with a note that names it.
/// @param progressFrom, progressTo  fractions to report between
/// @return BadArgument for a recipe or material that there isn't; Cancelled
Result<ProjectEstimate> estimateParts(const std::vector<PartToPrint>& parts, const PrintSetup& setup,
                                      const Context& context = {}, double progressFrom = 0, double progressTo = 1);

/// What scaling did to a part, its small self printed in one piece by the same recipe beside the estimate of its
/// pieces. @param estimate  of the part; others in it are not counted
Result<std::vector<ScalingRow>> scalingOf(const PartToPrint& part, const ProjectEstimate& estimate,
                                          const PrintSetup& setup, const Context& context = {});

/// The same for all parts together when they have one scale: surfaces, weights, hours and money added up, the extents
/// those of the largest part. No rows when scales differ.
Result<std::vector<ScalingRow>> scalingOfAll(const std::vector<PartToPrint>& parts, const ProjectEstimate& estimate,
                                             const PrintSetup& setup, const Context& context = {});

/// What an export in a folder has to print, from its files: pieces.json, the meshes that it names, project.quoin.json
/// and part.ply. FileMalformed names the place in the list; what reading a model says.
Result<PartToPrint> partFromExport(const std::filesystem::path& folder, const Context& context = {});

/// A bare model as it stands, printed in one piece. What readModel says.
Result<PartToPrint> partFromModel(const std::filesystem::path& file, const mesh::ReadOptions& options = {},
                                  const Context& context = {});

/// A part of a design, worked out and jointed as an export would write it.
Result<PartToPrint> partFromDesign(const Design& design, const PartDesign& part, const Context& context = {});

} // namespace quoin::core
