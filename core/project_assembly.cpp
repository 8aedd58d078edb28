// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/project_assembly.h"

#include "core/jointed_pieces.h"

namespace quoin::core {

AssemblyInput assemblyInput(const Project& project, const std::vector<mesh::Mesh>& jointed)
{
    AssemblyInput input{{}, {}, &project.plan, &project.seams, &project.layout.joints};
    for (std::size_t i = 0; i < jointed.size(); ++i) {
        input.meshes.push_back(&jointed[i]);
        input.paths.push_back(project.pieces[i].path);
    }
    return input;
}

Result<AssemblyPlan> assemblyOf(const Project& project, const Context& context)
{
    const auto jointed = jointedPieces(project.pieces, project.seams, project.plan, project.layout, context);
    if (!jointed)
        return jointed.problem();
    AssemblyPlan plan = planAssembly(assemblyInput(project, *jointed), context);
    if (context.cancelled())
        return Problem{Reason::Cancelled, "cancelled", {}, {}, {}};
    return plan;
}

} // namespace quoin::core
