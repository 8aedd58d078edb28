// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"

#include <limits>
#include <optional>
#include <vector>

namespace quoin::mesh {

/// A closed mesh that can be changed triangle by triangle: for each vertex the list of its triangles, linked through
/// the corners (no memory of its own per vertex). Indices stay what they were; what goes away leaves a hole in the
/// numbering until mesh() closes it up.
class EditMesh {
public:
    static constexpr Index none = std::numeric_limits<Index>::max();

    struct TriangleChange {
        Index triangle;
        Triangle corners; ///< {none, none, none}: taken away
        Label label;
    };
    struct PointChange {
        Index vertex;
        Vec3 point;
    };
    /// A change as data, so that it can be tried and taken back.
    struct Edit {
        std::vector<TriangleChange> triangles;
        std::vector<PointChange> points;
    };

    explicit EditMesh(Mesh mesh);

    std::size_t triangleCount() const { return m_mesh.triangles.size(); }
    std::size_t vertexCount() const { return m_mesh.points.size(); }
    const Triangle& triangle(Index t) const { return m_mesh.triangles[t]; }
    Vec3 point(Index v) const { return m_mesh.points[v]; }
    const Buffer<Vec3>& points() const { return m_mesh.points; }
    /// With holes in the numbering: triangles taken away have the corner `none`.
    const Buffer<Triangle>& triangles() const { return m_mesh.triangles; }
    Label label(Index t) const { return m_mesh.label(t); }
    bool alive(Index t) const { return m_mesh.triangles[t][0] != none; }
    bool vertexAlive(Index v) const { return m_head[v] != none; }
    void setPoint(Index v, Vec3 p) { m_mesh.points[v] = p; }

    template <class F>
    void forTrianglesOf(Index v, F&& f) const
    {
        for (Index corner = m_head[v]; corner != none;) {
            const Index following = m_next[corner];
            f(corner / 3);
            corner = following;
        }
    }
    std::vector<Index> trianglesOf(Index v) const;
    /// Sorted, each once.
    std::vector<Index> neighboursOf(Index v) const;
    bool hasEdge(Index a, Index b) const;
    /// The triangle on the other side of the edge from corner k to corner k + 1 of t; none when there is none.
    Index across(Index t, int k) const;

    /// Closing the edge from u to v by moving u to v: the two triangles on it go, the rest of u's get v.
    /// @return none when the surface would not stay a 2-manifold (link condition: Dey, Edelsbrunner, Guha,
    ///         Nekhayev 1999), or u and v share no edge.
    std::optional<Edit> collapse(Index u, Index v) const;
    /// Putting the other diagonal in for the edge from corner k to corner k + 1 of t. The new triangles take the
    /// label of the higher of the old ones: the other is the sliver, on which nothing is seen.
    /// @return none when the other diagonal is an edge already.
    std::optional<Edit> flip(Index t, int k) const;

    /// Does it, and returns the change that takes it back.
    Edit apply(const Edit& edit);
    void removeTriangle(Index t);
    /// Puts a new vertex at p into the edge from corner k to corner k + 1 of t, and returns it. Both triangles on the
    /// edge become two; t and the one across keep the half at the start of their side.
    Index splitEdge(Index t, int k, Vec3 p);
    /// Puts a new vertex at p inside t, which becomes three triangles, and returns it.
    Index splitTriangle(Index t, Vec3 p);

    /// The vertices that triangles use, in order.
    std::vector<Index> vertices() const;
    /// What is left, renumbered in the old order.
    Mesh mesh() const;

private:
    void setTriangle(Index t, const Triangle& corners);
    Index addVertex(Vec3 p);
    void addTriangle(const Triangle& corners, Label label);
    void link(Index t);
    void unlink(Index t);

    Mesh m_mesh;
    std::vector<Index> m_head; ///< first corner (3 t + k) of each vertex
    std::vector<Index> m_next; ///< next corner of the same vertex
};

/// Twice the area over the longest side: how thin a triangle is, mm.
double heightOf(Vec3 a, Vec3 b, Vec3 c);
double heightOf(const EditMesh& mesh, Index triangle);
/// The side (corner k to k + 1) that is longest.
int longestSide(const EditMesh& mesh, Index triangle);

} // namespace quoin::mesh
