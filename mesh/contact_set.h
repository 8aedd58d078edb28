// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/box_tree.h"
#include "mesh/edit_mesh.h"

#include <map>
#include <utility>
#include <vector>

namespace quoin::mesh {

using TrianglePair = std::pair<Index, Index>;

/// Which triangles of a mesh under change meet each other where they must not, kept true through edits: an edit is
/// tried, the triangles that it changed are tested exactly against all near them, and it stays only if fewer pairs
/// meet than before. A triangle without area counts as a pair with itself.
class ContactSet {
public:
    /// @param pairs  the pairs known so far; those found not to meet are left out
    ContactSet(EditMesh& mesh, const std::vector<TrianglePair>& pairs);

    bool empty() const { return m_partners.empty(); }
    std::size_t tests() const { return m_tests; }
    /// All pairs, each once, in order.
    std::vector<TrianglePair> pairs() const;
    bool meets(Index a, Index b) const;
    /// Triangles tied to t through a chain of pairs, t included, in order.
    std::vector<Index> cluster(Index t) const;

    /// Keeps the edit if it leaves fewer pairs; takes it back otherwise.
    bool improve(const EditMesh::Edit& edit);

private:
    using Found = std::vector<TrianglePair>;

    std::vector<Index> affectedBy(const EditMesh::Edit& edit) const;
    std::size_t knownAround(const std::vector<Index>& affected) const;
    Found foundAround(const std::vector<Index>& affected, std::size_t enough);
    void gather(Index t, const std::vector<Index>& affected, Found& found);
    void record(const std::vector<Index>& affected, const Found& found);
    void add(TrianglePair pair);
    void forgetChanges();
    bool flat(Index t) const;
    Box3 boxOf(Index t) const;

    EditMesh& m_mesh;
    BoxTree m_tree;                ///< of the mesh as it was
    std::vector<char> m_isChanged; ///< triangles that have changed since
    std::vector<Index> m_changed;
    std::map<Index, std::vector<Index>> m_partners;
    std::size_t m_tests = 0;
};

} // namespace quoin::mesh
