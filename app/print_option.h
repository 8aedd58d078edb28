// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/print_project.h"

#include <CLI/CLI.hpp>

#include <string>
#include <vector>

namespace quoin::app {

/// What the command line says about printing.
struct PrintOptions {
    std::string recipe, material, machine;
    double machinePerHour = 0;
    double pricePerKwh = core::PrintSetup{}.pricePerKwh;
};
void addPrintOptions(CLI::App& verb, PrintOptions& options);

/// The maker's own recipes, materials and log, with what the command line says.
Result<core::PrintSetup> printSetup(const PrintOptions& options);

/// What there is to print in a design, an exported folder, a folder of such folders, or a model.
/// @param only  parts by name; none: all. BadArgument for a name that isn't there
Result<std::vector<core::PartToPrint>> partsToPrint(const std::string& path, const std::vector<std::string>& only,
                                                    const mesh::ReadOptions& options, const Context& context);

} // namespace quoin::app
