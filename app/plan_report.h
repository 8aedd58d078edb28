// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/print_plan.h"

#include <string>

namespace quoin::app {

/// Says a plan on standard output.
/// @param planFile  where what was told is kept
/// @param out  where the files went; empty: nowhere
void printPlan(const core::PrintPlan& plan, const std::string& planFile, const std::string& out);

} // namespace quoin::app
