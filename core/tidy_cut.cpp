// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/tidy_cut.h"

#include "mesh/mass.h"
#include "mesh/tidy.h"
#include "mesh/tolerance.h"

#include <cmath>

namespace quoin::core {

namespace {

constexpr double leastHalfMm3 = 1e-3;
constexpr std::size_t mostCrumbTriangles = 1000;

} // namespace

Result<mesh::CutHalves> cutTidily(const mesh::Mesh& part, const mesh::Plane& plane, mesh::Label label)
{
    mesh::CutOptions options;
    options.label = label;
    Result<mesh::CutHalves> halves = mesh::cutByPlane(part, plane, options);
    for (double size = mesh::tolerance::cutSliverMm; !halves && size < mesh::tolerance::largestSliverMm; size *= 10)
        if (auto again = mesh::cutByPlane(mesh::withoutSlivers(part, 10 * size), plane, options))
            halves = std::move(again);
    if (halves)
        for (mesh::Mesh* half : {&halves->below, &halves->above}) {
            *half = mesh::withoutSlivers(std::move(*half), mesh::tolerance::cutSliverMm);
            // Nothing but the tip of a corner: it would only tangle the cuts to come.
            if (half->triangles.size() < mostCrumbTriangles && std::abs(mesh::volume(*half)) < leastHalfMm3)
                *half = {};
        }
    return halves;
}

} // namespace quoin::core
