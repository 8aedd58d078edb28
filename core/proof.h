// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/project.h"
#include "core/strength.h"
#include "mesh/context.h"
#include "mesh/result.h"

#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

namespace quoin::core {

/// One thing that was checked, with the number that was measured and the limit that it was held against.
struct Claim {
    std::string id;      ///< stable, for programs: "piece.closed"
    std::string subject; ///< "pieces/03-heron-neck.stl" or "the set"
    std::string text;    ///< for people
    double measured = 0;
    std::string relation; ///< "<=", ">=", ">", "="
    double limit = 0;
    std::string unit; ///< "mm", "edges", ""
    bool holds = false;
};

struct Proof {
    std::vector<Claim> claims;
    std::vector<std::string> assembly; ///< the order, a line a step
    std::vector<std::string> cautions;
    StrengthEstimate strength; ///< for planning: no claims, and an export is never stopped for them
    bool holds() const;
};

/// Proves an exported folder from its files alone: project.quoin.json, part.ply, pieces.json, the STL files. Every
/// claim of shared design: files closed, oriented, manifold, free of self-intersections; each fits its bed in its
/// pose with the margin; each stays on its side of every cut; volumes add up; the surface is rebuilt; loose parts
/// keep their clearance and don't meet the pieces; walls around features; an order of assembly. Strength is estimated
/// from the files besides.
Result<Proof> prove(const std::filesystem::path& folder, const Context& context = {});

nlohmann::json toJson(const Proof& proof);
/// A readable page, self-contained; shows the pictures that lie beside it when they are there.
std::string toHtml(const Proof& proof, const nlohmann::json& pieces, const std::string& title);

} // namespace quoin::core
