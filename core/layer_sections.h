// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/context.h"
#include "mesh/mesh.h"
#include "mesh/plane.h"
#include "mesh/result.h"

#include <vector>

/// Horizontal sections of a mesh, one a layer, for estimating: nothing is printed from them.
namespace quoin::core {

/// The layers of a print: all of one height but the first. mm, z from the plate upwards in the mesh's own frame.
struct LayerStack {
    double plateMm = 0; ///< z of the plate
    double firstMm = 0; ///< height of the first layer
    double layerMm = 0; ///< of every other
    std::size_t count = 0;

    double thickness(std::size_t layer) const { return layer == 0 ? firstMm : layerMm; }
    double top(std::size_t layer) const { return plateMm + firstMm + layerMm * static_cast<double>(layer); }
    double middle(std::size_t layer) const { return top(layer) - thickness(layer) / 2; }
};

/// Layers between two heights: as many as have their middle below the top, so that what is printed is at most half a
/// layer lower or higher than the mesh.
LayerStack stackOf(double lowMm, double highMm, double firstMm, double layerMm);

/// One layer: the solid cut at its middle.
struct LayerSection {
    mesh::Region outline; ///< x and y of the mesh's frame; simplified to the tolerance, clean: no loop crosses another
    double areaMm2 = 0;   ///< of the section itself, before it was simplified
    bool mended = false;  ///< its outline was open, and was closed by straight lines
    bool overlapping = false; ///< bodies lay in one another here; the outline is that of all together
};

/// Sections at the middle of each layer. Triangles are sorted by their lowest layer and swept upwards, and each outline
/// is followed from triangle to triangle (after Minetto, Volpato, Stolfi, Gregori and da Silva, Computer-Aided Design
/// 92, 2017, who sort and sweep alike and join by hashing). A corner that lies in a plane counts as above it, so that
/// outlines of closed meshes are always closed. Areas are by Green's theorem over the full outline.
/// @param toleranceMm  how far the simplified outline may lie from the full one (Douglas and Peucker 1973)
/// @param progressFrom, progressTo  fractions to report between
/// @return one a layer; Cancelled
Result<std::vector<LayerSection>> sectionsOf(const mesh::Mesh& mesh, const LayerStack& stack, double toleranceMm,
                                             const Context& context = {}, double progressFrom = 0,
                                             double progressTo = 1);

} // namespace quoin::core
