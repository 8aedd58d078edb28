// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/realise.h"
#include "mesh/distance.h"
#include "ui/draw_mesh.h"
#include "ui/surface_brush.h"

#include <memory>
#include <vector>

namespace quoin::ui {

/// A mesh with all that showing and picking it takes. Shared, never changed.
struct ShownMesh {
    mesh::MeshPtr mesh;
    DrawMeshPtr draw;
    std::shared_ptr<const mesh::SurfaceTree> tree;
};
/// Prepares a mesh; slow for large ones.
ShownMesh shownMesh(mesh::MeshPtr mesh, const Context& context);

/// A part's model as read, before scaling and cutting: shown while nothing better is there, and painted on.
struct SourceView {
    ShownMesh shown;
    std::shared_ptr<const SurfaceNeighbours> neighbours;
};

/// Something loose in a joint: to print, or bought.
struct LooseView {
    std::size_t seam = 0;  ///< index into the project's seams
    std::size_t joint = 0; ///< into the layout's joints
    DrawMeshPtr mesh;      ///< assembled
    bool bought = false;
};

/// A part worked out, with everything to show it by; in the order of its project's pieces.
struct PartView {
    core::RealisedPtr realised;
    std::vector<ShownMesh> pieces; ///< without joints; picked
    std::vector<DrawMeshPtr> sunk; ///< with bores, studs and marks; empty until they are made
    std::vector<LooseView> loose;
    std::vector<mesh::Vec3> apart;   ///< where pieces go for each mm that a cut opens
    std::vector<Colour> colours;     ///< neighbours differ
    std::vector<mesh::Vec3> middles; ///< centre of mass of each piece
    std::vector<double> volumesMm3;
};
using PartViewPtr = std::shared_ptr<const PartView>;

/// Prepares what a stage of the work shows; takes over from `previous` what is the same. Null when cancelled.
PartViewPtr partView(const core::RealisedPtr& realised, const PartViewPtr& previous, const Context& context);
/// The same with all that joints and marks change; null when cancelled. When the joints can't be made (`problem` says
/// why), the pieces stand plain, with whatever is loose in its place.
PartViewPtr withSunk(const PartViewPtr& view, std::optional<Problem>& problem, const Context& context);

} // namespace quoin::ui
