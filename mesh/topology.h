// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"

#include <vector>

namespace quoin::mesh {

/// How the triangles hang together, by vertex index (weld first). Counts are of undirected edges or vertices; each
/// "At" is the place (mm) of the first such trouble and means something only where its count isn't zero.
struct Topology {
    std::size_t edges = 0;
    std::size_t openEdges = 0;           ///< used by one triangle only
    std::size_t nonManifoldEdges = 0;    ///< used by three or more, or running from a vertex to itself
    std::size_t flippedEdges = 0;        ///< used by two triangles that run it in the same direction
    std::size_t nonManifoldVertices = 0; ///< whose triangles form more than one fan
    std::size_t duplicateTriangles = 0;  ///< same three corners as an earlier triangle, either way round
    std::size_t degenerateTriangles = 0; ///< two equal corners, or no area in exact arithmetic
    Vec3 somewhere{0, 0, 0};             ///< a place of the first trouble found, if there is any
    Vec3 openAt{0, 0, 0};
    Vec3 nonManifoldEdgeAt{0, 0, 0};
    Vec3 flippedAt{0, 0, 0};
    Vec3 nonManifoldVertexAt{0, 0, 0};
    Vec3 duplicateAt{0, 0, 0};
    Vec3 degenerateAt{0, 0, 0};

    bool closed() const { return openEdges == 0; }
    bool oriented() const { return flippedEdges == 0; }
    /// Closed, oriented, 2-manifold edges and vertices.
    bool solid() const
    {
        return openEdges == 0 && flippedEdges == 0 && nonManifoldEdges == 0 && nonManifoldVertices == 0;
    }
};

/// Linear time; a tenth of a second or two for a million triangles.
Topology topologyOf(const Mesh& mesh);

/// Whether the triangle has no area in exact arithmetic.
bool degenerate(Vec3 a, Vec3 b, Vec3 c);

/// For each triangle the number of its connected part (through shared edges), from 0; parts ordered by first triangle.
struct Parts {
    std::vector<Index> partOf;
    std::size_t count = 0;
};
Parts connectedParts(const Mesh& mesh);

/// The triangles of each part, ascending.
std::vector<std::vector<Index>> trianglesOf(const Parts& parts);

/// Separate bodies of a closed mesh: each outer shell with the cavity shells directly inside it. Order: by the lowest
/// triangle index of the outer shell. Labels are kept. A body that is inside out on its own is returned as it is.
std::vector<Mesh> bodies(const Mesh& mesh);

} // namespace quoin::mesh
