// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/assembly.h"
#include "core/project.h"
#include "mesh/context.h"
#include "mesh/result.h"

namespace quoin::core {

/// What the order of a project's pieces follows from, their joints made. Points into both arguments.
/// @param jointed  of jointedPieces, in the order of the pieces
AssemblyInput assemblyInput(const Project& project, const std::vector<mesh::Mesh>& jointed);

/// The order in which a project's pieces go together, their joints made for it. What jointedPieces says when they can't
/// be; Cancelled.
Result<AssemblyPlan> assemblyOf(const Project& project, const Context& context = {});

} // namespace quoin::core
