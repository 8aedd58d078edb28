// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/context.h"
#include "mesh/result.h"

#include <CLI/CLI.hpp>
#include <functional>
#include <string>

namespace quoin::app {

/// Exit statuses of the command line.
enum Exit { Ok = 0, ProofDoesNotHold = 1, BadInput = 2 };

/// Each verb adds its sub-command; `run` is set to the work when the verb was chosen, and returns an exit status.
using Work = std::function<int(const Context&)>;
void addCheck(CLI::App& app, Work& run);
void addSplit(CLI::App& app, Work& run);
void addSuggest(CLI::App& app, Work& run);
void addExport(CLI::App& app, Work& run);
void addProve(CLI::App& app, Work& run);
void addJoints(CLI::App& app, Work& run);
void addStrength(CLI::App& app, Work& run);
void addBeds(CLI::App& app, Work& run);
void addCoupon(CLI::App& app, Work& run);
void addFits(CLI::App& app, Work& run);
void addMachines(CLI::App& app, Work& run);
void addPlan(CLI::App& app, Work& run);
void addEstimate(CLI::App& app, Work& run);
void addRecipes(CLI::App& app, Work& run);
void addMaterials(CLI::App& app, Work& run);
void addLog(CLI::App& app, Work& run);
void addDemo(CLI::App& app, Work& run);

/// Says a problem on standard error and gives the exit status that goes with it.
int say(const Problem& problem);

} // namespace quoin::app
