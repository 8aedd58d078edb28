// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "mesh/result.h"

#include <optional>
#include <vector>

namespace quoin::mesh {

/// A change to a few triangles of a large mesh, as data. For use inside mesh/ only.
struct LocalChange {
    std::vector<Index> removed;  ///< triangles that go, ascending
    std::vector<Triangle> fresh; ///< triangles that come; corners beyond the mesh's points count on into `added`
    std::vector<Label> labels;   ///< theirs
    Buffer<Vec3> added;

    bool empty() const { return removed.empty() && fresh.empty(); }
};

/// Signed volume that the change adds, mm3, for a change that leaves no opening.
double volumeAdded(const Mesh& mesh, const LocalChange& change);

/// Closes edges and turns over slivers of the fresh triangles under sizeMm; a change that would spread beyond the
/// neighbours is left as it was.
void tidyChange(const Mesh& mesh, LocalChange& change, double sizeMm);

/// Why a mesh would not be sound after a change.
struct Flaw {
    Problem problem;
    bool byRounding; ///< it may be gone when the tool lies a little aside
};
/// Looks only around the change; nothing when all is well.
/// @param nearby  further triangles that new ones might run into
std::optional<Flaw> flawAfter(const Mesh& mesh, const LocalChange& change, const std::vector<Index>& nearby);

/// Whether the surroundings, rounded to the float grid of the whole as they stand, still don't meet themselves.
bool outlivesRounding(const Mesh& mesh, const LocalChange& change, const std::vector<Index>& nearby);

/// How many more bodies (shells that face outwards) there would be. Two passes over the mesh.
int bodiesGained(const Mesh& mesh, const LocalChange& change);

/// Kept triangles in their order, then the fresh ones; points that nothing uses any more close up.
Mesh changed(const Mesh& mesh, const LocalChange& change);

} // namespace quoin::mesh
