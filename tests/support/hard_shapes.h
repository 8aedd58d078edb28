// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/bed.h"
#include "mesh/mesh.h"

#include <string>
#include <vector>

/// Shapes that are hard to cut into few pieces for a bed of 200 x 200 x 200 mm without margin, with what is known of
/// them: counts by arithmetic (given beside each), those that a way of cutting is known for, and those that no way can
/// go below.
namespace quoin::test {

struct HardShape {
    std::string name;
    mesh::Mesh mesh;
    bool anyRotation = false; ///< pieces may stand on no flat face: what the counts are for
    int grid = 0;             ///< pieces of the plain grid along the shape's own axes
    int least = 1;            ///< proved: no way has fewer
    int known = 1;            ///< a way with so many is known

    bool exact() const { return least == known; }
};

/// 200 x 200 x 200 mm.
std::vector<core::Bed> hardBed();

mesh::Mesh hardBox();             ///< 400 a side: eight, with nothing to spare
mesh::Mesh hardCube(double side); ///< 202: a little too large all round
mesh::Mesh hardRod(double lengthMm);
mesh::Mesh hardPlate();                              ///< 550 x 200 x 5
mesh::Mesh hardEll();                                ///< two legs of 280, 50 x 50 thick
mesh::Mesh hardRing(double radius, double tube);     ///< a torus
mesh::Mesh hardTube();                               ///< 300 across, wall 3, 200 long
mesh::Mesh hardHelix();                              ///< 15 turns of wire, 600 high
mesh::Mesh hardSpokes();                             ///< 12 bars of 370 along the corners of an icosahedron
mesh::Mesh hardShell();                              ///< a hollow ball, 380 across, wall 2
mesh::Mesh hardTree();                               ///< binary, depth 4, each branch 0.7 of the last
mesh::Mesh hardLinks();                              ///< two linked rings: two bodies
mesh::Mesh withNoise(mesh::Mesh mesh, double noise); ///< every point moved by up to so many mm, the same way each time

/// All ten and their variants with known counts.
std::vector<HardShape> hardShapes();

} // namespace quoin::test
