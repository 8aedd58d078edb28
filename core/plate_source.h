// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/parts_list.h"
#include "core/plate_piece.h"
#include "mesh/context.h"
#include "mesh/mesh.h"
#include "mesh/result.h"

#include <filesystem>
#include <functional>
#include <map>
#include <string>
#include <vector>

/// What is to be printed, from exports and from parts lists in memory.
namespace quoin::core {

/// Figures of a mesh in its print pose; the first is what it is printed with, others are for comparison. The numbers
/// are fractions to report progress between.
using FiguresOf = std::function<Result<std::vector<PieceFigures>>(const mesh::Mesh&, const std::string& material,
                                                                  const Context&, double from, double to)>;

/// Grams and hours from volume and surface alone: walls of 1.6 mm over the surface, 15 % of the rest, 45 g an hour
/// (common practice, no source: large nozzles lay 40 to 55 g an hour), give or take a third. For when no better is at
/// hand.
PieceFigures roughFigures(const mesh::Mesh& mesh, const std::string& material);

struct PlateSourceOptions {
    FiguresOf figures; ///< none: roughFigures
    std::map<std::string, int>
        quantities;               ///< how often each part is made, by name; others: as the demo's list says, else once
    std::filesystem::path coupon; ///< folder of a fit coupon to print first; empty: none
    std::vector<std::string> first; ///< ids or names of pieces wanted first
    bool testPair = true;           ///< the two smallest pieces that share a joint, and its loose parts, are a test fit
};

/// An export (its pieces.json and what it names), or a folder of exports, one a part.
/// FileMissing when there is none; what is wrong with a file, with its name and place; BadArgument for a quantity or
/// a wish that names nothing there; Cancelled.
Result<PlateJob> plateJobOf(const std::filesystem::path& folder, const PlateSourceOptions& options,
                            const Context& context = {});

/// One part, not exported: its project and parts list.
struct ListedProject {
    const Project* project = nullptr;
    const std::vector<ListedPart>* parts = nullptr;
    int quantity = 1;
};
Result<PlateJob> plateJobOf(const std::vector<ListedProject>& projects, const PlateSourceOptions& options,
                            const Context& context = {});

} // namespace quoin::core
