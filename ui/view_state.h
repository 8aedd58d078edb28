// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/assembly.h"
#include "core/cut_plan.h"
#include "core/cut_section.h"
#include "ui/safety_level.h"
#include "ui/view_scene.h"

#include <optional>
#include <set>
#include <utility>

namespace quoin::ui {

/// The steps of the job, in their order.
enum class JobStep { Load, Scale, Cut, Joint, Prove, Plan };
/// What of the joints is worked on: where and what they are, what they bear, in what order they are put together.
enum class JointTab { Joints, Strength, Order };

/// A cut face that is looked at: what stands before it is drawn like glass.
struct FacingFace {
    int piece = 0;     ///< number of the piece that shows it
    int before = 0;    ///< the piece that it is joined to
    mesh::Plane plane; ///< of the cut, part's frame, the normal out of the piece

    friend bool operator==(const FacingFace&, const FacingFace&) = default;
};

/// A step of putting the pieces together, as it is looked at.
struct OrderShown {
    std::shared_ptr<const core::AssemblyPlan> plan;
    std::shared_ptr<const int> cutStamp; ///< of the pieces that it puts together
    std::size_t step = 0;
    double apart = 1; ///< 1: before the step, 0: after it
};

/// What the user looks at: nothing of it is part of the design. Bench::chosen() tells of all of it but what follows the
/// pointer (see sameChoice in bench.cpp: it names each member).
struct ViewState {
    JobStep step = JobStep::Load;
    JointTab jointTab = JointTab::Joints;
    int part = 0;          ///< id of the current part; 0: none
    int cut = 0;           ///< id of the selected cut; 0: none
    std::set<int> pieces;  ///< numbers of the selected pieces of the current part
    double explode = 0;    ///< 0 assembled, 1 far apart
    bool assembled = true; ///< parts where they stand in the sculpture, where that is known
    bool isolate = false;  ///< the selected pieces alone
    bool onBed = false;    ///< the selected piece in its print pose on its bed
    bool person = true;
    bool bed = true;
    bool edges = false;
    bool seeThrough = false;                              ///< pieces like glass, so that joints show
    bool painting = false;                                ///< the uncut model, to mark places on
    bool showSafety = true;                               ///< faces outlined by how sure they are
    std::shared_ptr<const SafetyShown> safety;            ///< of the current part; null: not known
    int force = -1;                                       ///< the chosen one of the part's forces
    std::optional<OrderShown> order;                      ///< of the current part
    std::optional<FacingFace> facing;                     ///< the face of a joint that is looked at
    std::optional<double> liveScale;                      ///< while the scale is being stepped
    std::optional<std::pair<int, mesh::Plane>> livePlane; ///< while a cut is being dragged
    std::shared_ptr<const core::CutSection> liveSection;  ///< of the selected cut; null: none
    std::optional<core::CutPlan> preview;                 ///< of a suggestion
    int previewCut = -1;                                  ///< node of the preview that is looked at; -1: none

    Colour backgroundTop{0.97, 0.97, 0.98}, backgroundBottom{0.86, 0.87, 0.89};
    bool dark = false;
};

} // namespace quoin::ui
