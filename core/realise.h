// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/cut_steps.h"
#include "core/design.h"
#include "core/project.h"
#include "mesh/context.h"
#include "mesh/result.h"

#include <functional>
#include <memory>

namespace quoin::core {

/// What follows from a part's design, as far as it has been worked out. Immutable once handed out.
struct Realised {
    enum class Stage {
        Cut,    ///< pieces and seams are there
        Posed,  ///< each piece has its pose; one that fits no bed has slackMm < 0
        Jointed ///< joints and marks are laid out
    };
    Stage stage = Stage::Cut;
    PartDesign design; ///< what it was made from; its keepClear is left empty
    Project project;
    std::vector<int> cutOfNode;          ///< CutStep::id of each node of project.plan
    std::shared_ptr<const int> cutStamp; ///< the same object as long as pieces and seams are the same
    int bodiesLeftOut = 0;               ///< of the scaled model: crumbs
    int crumbsLeftOut = 0;               ///< of the cuts
    bool fitsBeds() const;
    /// The poses of the pieces without their joints, in their order: a stud that stands out of a face asks for another.
    std::vector<Pose> plainPoses;               ///< Posed, and every piece fits
};
using RealisedPtr = std::shared_ptr<const Realised>;

/// A part at its full size, without bodies that are only crumbs even then. @param crumbs  how many were left out
mesh::Mesh scaledPart(const mesh::Mesh& source, double scale, int* crumbs = nullptr);

/// Works a part out: scaled, cut, posed on the design's beds, jointed. Pure; `onStage` hears of each stage as soon as
/// it is there (on the calling thread), the last one is also returned.
/// @param previous  what was worked out before, or null: stages that would come out the same are taken from it
Result<RealisedPtr> realise(const Design& design, const PartDesign& part, const RealisedPtr& previous = {},
                            const std::function<void(RealisedPtr)>& onStage = {}, const Context& context = {});

} // namespace quoin::core
