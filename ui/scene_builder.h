// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/design.h"
#include "mesh/distance.h"
#include "ui/part_view.h"
#include "ui/view_state.h"

#include <functional>
#include <string>
#include <vector>

namespace quoin::ui {

/// A solid that can be picked, and what it is.
struct ShownBody {
    ShownMesh shown;
    mesh::Transform placement; ///< part's frame (or the source's) to the scene's
    int part = 0;
    int piece = 0; ///< number; 0: the whole, uncut model
};

/// A number on a piece.
struct PieceBadge {
    mesh::Vec3 anchor;
    std::string text;
    Colour colour;
    bool selected = false;
    std::size_t body = 0; ///< the pick body that it belongs to
};

/// Words that stand in the scene.
struct SceneNote {
    mesh::Vec3 at;
    std::string text;
};

/// A cut's plane as it is drawn.
struct ShownPlane {
    int cut = 0;
    std::vector<mesh::Vec3> corners;
};

/// A force or a way that is drawn as an arrow.
struct SceneArrow {
    mesh::Vec3 tip, way; ///< way: unit
    std::string text;
    bool chosen = false;
};

struct BuiltScene {
    ViewScenePtr scene;
    std::vector<ShownPlane> planes;
    std::vector<ShownBody> bodies;
    std::vector<PieceBadge> badges;
    std::vector<SceneNote> notes;
    std::vector<SceneArrow> arrows;
    std::shared_ptr<const SafetyShown> safety; ///< that outlines are drawn for; null: none are
    mesh::Box3 model;                          ///< bounds of the parts themselves
    mesh::Box3 selection;                      ///< of the selected pieces, or of the current part
    mesh::Box3 all;                            ///< with person and bed
    bool weak(std::size_t seam) const
    {
        return safety && seam < safety->faces.size() && safety->faces[seam].level == SafetyLevel::Weak;
    }
    mesh::Box3 first; ///< what a first look shows: all, or without a person that dwarfs the model
};

/// What has been worked out for a part; either may be null.
struct PartShown {
    std::shared_ptr<const SourceView> source;
    PartViewPtr view;
    DrawMeshPtr keepClear; ///< the marked triangles of the source; null: none
};

/// Puts together what the view shows. Visible parts stand in a row along x, each on the floor. Pure, and quick: it
/// only points at the meshes.
BuiltScene buildScene(const core::Design& design, const std::function<PartShown(int part)>& shown,
                      const ViewState& state);

/// How far the cuts of the current part are opened, mm.
double explodedGapMm(const PartView& view, const ViewState& state);

/// Whether the current part stands alone: while its cuts and joints are worked on, or places are marked on it.
bool isAlone(const ViewState& state);
/// Whether the selected pieces are shown alone.
bool isIsolated(const ViewState& state);
/// Whether a part is shown now.
bool isShown(const core::PartDesign& part, const ViewState& state);
/// Whether the parts are shown in their places in the sculpture.
bool isAssembled(const core::Design& design, const ViewState& state);

/// Where the parts stand: a shift for each part of the design, in order, when they stand in a row.
std::vector<mesh::Vec3> rowOf(const core::Design& design, const ViewState& state);

/// Where a plane passes a box, a little enlarged: corners of a convex polygon in order; empty when it misses. Clipped
/// to the given sides of other planes.
std::vector<mesh::Vec3> planeThroughBox(const mesh::Plane& plane, const mesh::Box3& box,
                                        const std::vector<std::pair<mesh::Plane, bool>>& sides);

} // namespace quoin::ui
