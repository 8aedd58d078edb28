// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/context.h"
#include "mesh/mesh.h"
#include "mesh/plane.h"
#include "mesh/result.h"

#include <vector>

namespace quoin::core {

/// A binary tree of cutting planes in the scaled part's own frame. Node 0 is the root; a child of -1 is a leaf. The
/// face that node n makes carries mesh label n + 1.
struct CutPlan {
    struct Node {
        mesh::Plane plane;
        int below = -1; ///< node that cuts what lies below the plane
        int above = -1;
    };
    std::vector<Node> nodes;

    bool empty() const { return nodes.empty(); }
};

/// One turn on the way from the root to a leaf.
struct Step {
    int node;
    bool above;
    friend bool operator==(const Step&, const Step&) = default;
};
using Path = std::vector<Step>;

/// What a leaf of the plan holds: a mesh labelled by cut, maybe empty, maybe of several bodies.
struct Leaf {
    Path path;
    mesh::Mesh mesh;
};

/// Cuts a part by a plan. A pure function; leaves come below before above, depth first.
Result<std::vector<Leaf>> cutByPlan(const mesh::Mesh& part, const CutPlan& plan, const Context& context = {});

/// A plan that applies planes one after another to everything that they meet: a plane makes a node only where it
/// really cuts, found by cutting the part.
Result<CutPlan> planByCutting(const mesh::Mesh& part, const std::vector<mesh::Plane>& planes,
                              const Context& context = {});

} // namespace quoin::core
