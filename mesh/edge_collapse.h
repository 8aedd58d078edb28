// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/edit_mesh.h"

#include <algorithm>
#include <vector>

namespace quoin::mesh {

/// How far each vertex stands from where the mesh that came in had it: kept through collapses, so that a limit holds
/// however many of them follow one another.
class Drift {
public:
    explicit Drift(Buffer<Vec3> original) : m_original(std::move(original)), m_gathered(m_original.size(), 0.0) {}

    /// Farthest that anything now standing in v, were v at p, has come from its place.
    double at(Index v, Vec3 p) const { return m_gathered[v] + length(p - m_original[v]); }
    /// The same when u is closed up into v, with v at p.
    double joined(Index u, Vec3 uAt, Index v, Vec3 p) const { return std::max(at(v, p), at(u, uAt) + length(p - uAt)); }
    void join(Index u, Vec3 uAt, Index v, Vec3 p)
    {
        m_gathered[v] = std::max(m_gathered[v], joined(u, uAt, v, p) - length(p - m_original[v]));
    }

    /// A vertex made later, with the next number, that belongs at p.
    void add(Vec3 p)
    {
        m_original.push_back(p);
        m_gathered.push_back(0);
    }
    /// For a mesh of which only these vertices are left, in this order.
    Drift of(const std::vector<Index>& vertices) const;

private:
    Buffer<Vec3> m_original;
    std::vector<double> m_gathered;
};

struct TidyOptions {
    double shortMm = 0; ///< edges shorter than this are closed up
    double thinMm = 0;  ///< triangles less high than this have their long side turned over
    double limitMm = 0; ///< no vertex may end farther from its place
};

/// Closes short edges and turns the long sides of slivers, starting from the triangles given, until nothing more
/// changes. The surface stays a closed 2-manifold; triangles that are high enough to have a trustworthy normal are
/// not turned over; of the two ends the one stays that leaves the faces around better in their planes; a vertex on
/// z = 0 never leaves it.
/// @return number of edges closed
std::size_t tidyEdges(EditMesh& mesh, Drift& drift, std::vector<Index> triangles, const TidyOptions& options);

} // namespace quoin::mesh
