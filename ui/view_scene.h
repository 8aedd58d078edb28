// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/context.h"
#include "mesh/mesh.h"
#include "mesh/transform.h"
#include "ui/colour.h"

#include <cstdint>
#include <memory>
#include <vector>

namespace quoin::ui {

class DrawMesh;
/// Prepared once on a worker thread, then shared by the scene, the drawing thread and the undo stack.
using DrawMeshPtr = std::shared_ptr<const DrawMesh>;

/// A solid in the view.
struct ViewItem {
    DrawMeshPtr mesh;
    mesh::Transform placement;          ///< to the scene's frame: mm, z up
    Colour colour;                      ///< of the model's own surface
    Colour capColour{0.93, 0.90, 0.84}; ///< of labelled faces: cuts and bores
    double opacity = 1;
    bool edges = false;   ///< triangle edges drawn too
    bool glowing = false; ///< selected: drawn with a bright rim
    bool decal = false;   ///< drawn a hair in front of what it lies on: painted places
};

/// A flat, see-through patch: a cut plane, a bed's plate.
struct ViewPatch {
    std::vector<mesh::Vec3> corners; ///< convex, in order
    Colour colour;
    double opacity = 0.3;
};

/// Straight lines one after another.
struct ViewPolyline {
    std::vector<mesh::Vec3> points;
    Colour colour;
    double widthPx = 1.5;
    bool closed = false;
};

/// Everything that the drawing thread draws; a plain value, made anew whenever something changes (it only points at
/// the large things). What lies over the picture (numbers, handles, measures) is painted by the widget itself.
struct ViewScene {
    std::vector<ViewItem> items;
    std::vector<ViewPatch> patches;
    std::vector<ViewPolyline> lines;
    Colour backgroundTop{0.97, 0.97, 0.98}, backgroundBottom{0.86, 0.87, 0.89};
    Colour edgeColour{0.25, 0.27, 0.30};
    Colour glowColour{0.00, 0.45, 0.70};
};
using ViewScenePtr = std::shared_ptr<const ViewScene>;

} // namespace quoin::ui
