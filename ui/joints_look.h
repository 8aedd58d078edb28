// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/scene_builder.h"

#include <optional>
#include <vector>

/// What the view shows of joints besides the pieces: how sure the faces are, forces, the order of putting together.
namespace quoin::ui {

/// Whether it is the pieces of this seam that are looked at.
bool facesSeam(const FacingFace& facing, const core::Seam& seam);

/// The outline of every face that bears a load, on both pieces, in the colour and width of its level.
/// @param facing  while a face is looked at: of it and of weak ones only
void addSafetyLines(const PartView& view, const SafetyShown& safety, const std::optional<FacingFace>& facing,
                    const mesh::Transform& place, double gapMm, std::vector<ViewPolyline>& lines);
/// The safety of each weak face in words, at its highest point.
void addSafetyNotes(const PartView& view, const SafetyShown& safety, const mesh::Transform& place, double gapMm,
                    std::vector<SceneNote>& notes);

/// Extra forces, the arrows' tips where they act. @param chosen  index of the one that is worked on; -1: none
std::vector<SceneArrow> forceArrows(const core::LoadCase& load, const mesh::Transform& place, int chosen);

/// The way that what a step moves has still to go, as a placement. Along a thread it turns; before the thread begins it
/// stands off.
/// @param apart    1: before the step, 0: seated
/// @param clearMm  how far off it stands at least when apart
mesh::Transform orderPlacement(const core::AssemblyStep& step, double apart, double clearMm);

/// A step of the order, for the view.
class OrderLook {
public:
    enum class Role { Absent, Stands, Moves };
    OrderLook(const core::AssemblyStep& step, double apart, double clearMm);
    Role role(int piece) const;
    mesh::Transform placement(int piece) const;
    /// Loose parts between two pieces that are there; bolts when all is together.
    bool shows(const core::Project& project, const LooseView& loose) const;
    mesh::Transform placement(const core::Project& project, const LooseView& loose) const;
    /// The way of what moves.
    SceneArrow arrow(const PartView& view, const mesh::Transform& place) const;
    /// Bounds of all that is there, before the step and after it; part's frame.
    static mesh::Box3 reach(const PartView& view, const core::AssemblyStep& step);

private:
    const core::AssemblyStep& m_step;
    double m_apart;
    mesh::Transform m_moved;
};
/// None when the order isn't looked at, or was found for other pieces.
std::optional<OrderLook> orderLook(const PartView& view, const ViewState& state);

} // namespace quoin::ui
