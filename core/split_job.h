// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/cut_terms.h"
#include "core/design.h"
#include "core/project.h"
#include "mesh/context.h"
#include "mesh/health.h"

#include <filesystem>
#include <optional>

namespace quoin::core {

/// How large the part shall be. Exactly one way; none keeps the size.
struct Scaling {
    enum class How { Keep, Factor, Width, Depth, Height, LargestOnBed };
    How how = How::Keep;
    double value = 1; ///< factor, or mm
};

struct SplitRequest {
    std::filesystem::path file;
    mesh::ReadOptions read;
    bool repair = false;
    Scaling scaling;
    std::vector<Bed> beds; ///< none: cut only where the user says
    double marginMm = 5;
    bool anyRotation = false;
    bool islandsApart = true;
    std::vector<mesh::Plane> planes; ///< the user's, in the scaled frame
    JointOptions joints;
    LoadCase load; ///< places of forces in the scaled frame
    Fit fit = Fit::Sliding;
    std::string material = "PLA";
    std::string machine;      ///< that prints it, for the fit table; empty: not known
    std::vector<FitRow> fits; ///< the maker's own
    unsigned seed = 1;
    double seconds = 30; ///< for looking for better cuts
    CutWeights weights;
    int morePieces = 0;   ///< that may be spent on better terms
    int alternatives = 1; ///< ways of cutting to be told of
    int take = 1;         ///< which of them; asks for as many
};

/// What scaling does, as lines for the report: mass by the cube, surface by the square, gaps and walls in proportion
/// (Galileo 1638).
std::vector<std::string> scalingLines(double factor, const mesh::Health& before);

/// The largest factor at which a part fits one of the beds uncut, to a ten-thousandth. DoesNotFit when no size does.
Result<double> largestScale(const mesh::Mesh& part, const std::vector<Bed>& beds, const FitOptions& options,
                            const Context& context = {});

/// Load, check (and repair on request), scale, cut: the design of one part, to be worked out by realise().
Result<Design> designOf(const SplitRequest& request, const Context& context = {});

/// The same, worked out: everything up to the export. DoesNotFit when a piece fits no bed.
/// @param design  if not null, gets what designOf gives
Result<Project> split(const SplitRequest& request, const Context& context = {}, Design* design = nullptr);

} // namespace quoin::core
