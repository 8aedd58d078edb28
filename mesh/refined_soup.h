// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"

#include <memory>
#include <utility>
#include <vector>

namespace quoin::mesh {

/// A triangle of the refined surface, on which `layers` (at least 1) more triangles of the original lie that face its
/// way than the other way.
struct RefinedFace {
    Triangle corners;
    int layers;
    Index source; ///< the first original triangle that it is part of
};

/// The surface cut along its own intersections, in exact arithmetic: afterwards two faces share a whole edge, a corner
/// or nothing. Triangles without area are left out; triangles that lie on each other become one face with layers, or
/// none when they cancel.
/// Method: constrained triangulation of each triangle (or set of coplanar ones) with what the others leave on it, as
/// in Zhou, Grinspun, Zorin and Jacobson, ACM Trans. Graph. 35(4), 2016, section 3.
class RefinedSoup {
public:
    /// @param mesh   welded; kept by reference
    /// @param pairs  its selfIntersections(), all of them
    RefinedSoup(const Mesh& mesh, const std::vector<std::pair<Index, Index>>& pairs);
    ~RefinedSoup();
    RefinedSoup(const RefinedSoup&) = delete;
    RefinedSoup& operator=(const RefinedSoup&) = delete;

    const std::vector<RefinedFace>& faces() const;
    /// Corners of the faces, rounded to doubles.
    Buffer<Vec3> points() const;

    /// How often the original surface winds round the places just in front of and just behind the middle of a face.
    /// Exact, whatever lies how near; means something where every edge is run as often one way as the other.
    struct Sides {
        int front, back;
    };
    Sides sidesOf(std::size_t face) const;

private:
    struct Impl;
    std::unique_ptr<Impl> m_impl;
};

} // namespace quoin::mesh
