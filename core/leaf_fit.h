// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/bed_fit.h"
#include "mesh/mesh.h"

#include <vector>

namespace quoin::core {

/// The bodies of a leaf that are printed apart; a leaf of one body isn't copied. Keeps a pointer to the leaf.
class LeafBodies {
public:
    /// @param islandsApart  false: the leaf is one, however many bodies it has
    LeafBodies(const mesh::Mesh& leaf, bool islandsApart);

    std::size_t size() const { return m_leaf->empty() ? 0 : m_bodies.empty() ? 1 : m_bodies.size(); }
    const mesh::Mesh& operator[](std::size_t i) const { return m_bodies.empty() ? *m_leaf : m_bodies[i]; }

private:
    const mesh::Mesh* m_leaf;
    std::vector<mesh::Mesh> m_bodies;
};

/// A body of a leaf that fits no bed.
struct Misfit {
    mesh::Buffer<mesh::Vec3> outline; ///< points with the same hull
    double overhangMm = 0;            ///< by how much the best pose found sticks out
};

/// What a leaf of a cut plan comes to: pieces, and those of them that fit no bed.
struct LeafFit {
    int pieces = 0;
    std::vector<Misfit> misfits;
    bool fits() const { return misfits.empty(); }
};

/// Fits each body of a leaf on the beds. A pure function of the meshes: the same that poses the pieces of a finished
/// plan.
/// @param measure  also work out the overhang of misfits, which takes a little longer
LeafFit fitLeaf(const LeafBodies& bodies, const std::vector<Bed>& beds, const FitOptions& options,
                bool measure = false);

/// DoesNotFit for a piece: what, where and by how much.
Problem doesNotFit(const Misfit& misfit, const FitOptions& fit);

} // namespace quoin::core
