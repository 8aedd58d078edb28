// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/plan_progress.h"
#include "core/plate_source.h"
#include "core/print_project.h"

#include <string>
#include <vector>

namespace quoin::core {

/// An estimate as plates see it.
PieceFigures figuresOf(const PieceEstimate& estimate, const Recipe& recipe);

/// Figures by the estimate (core/print_estimate.h) with the setup's recipe, calibrated by the maker's log.
/// @param others  names of recipes to compare with; see coarserRecipes
FiguresOf figuresWith(const PrintSetup& setup, const std::vector<std::string>& others);

/// The recipe of the next larger nozzle that serves the same purpose ("0.8 standard" for "0.6 standard"), and the next
/// coarser one of the same nozzle, where there are such.
std::vector<std::string> coarserRecipes(const RecipeBook& recipes, const std::string& recipe);

/// The maker's log with a printed piece that was weighed or timed; as it was when the report says neither, or the
/// piece's figures come from no model. BadArgument as PrintLog::withRow.
Result<PrintLog> logWith(const PrintLog& log, const PlatePieceInfo& piece, const PieceReport& report);

} // namespace quoin::core
