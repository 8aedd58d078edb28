// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/design.h"
#include "core/project.h"

#include <map>
#include <optional>

namespace quoin::core {

/// What the maker wants on the seams of a cut part, instead of what is chosen for them.
struct SeamChoices {
    std::map<std::size_t, FaceChoice> bySeam; ///< by index into the seams
    std::string material;                     ///< whose clearances a face's own fit means
    std::string machine = {};                 ///< the same
    std::vector<FitRow> fits = {};            ///< the maker's own rows
    LoadCase load = {};                       ///< what the joints have to carry, where the material's strength is known

    const FaceChoice* of(std::size_t seam) const;
    /// Clearances on a seam: of its own fit, else the part's.
    Clearances clearances(std::size_t seam, const JointOptions& options) const;
};

/// The seam that a choice is about: of the same cut, the one that `at` lies on, else the nearest within a tolerance;
/// none when the face is gone, and the choice sleeps until it is back.
/// @param cutOfNode  CutStep::id of each node of the project's plan
std::optional<std::size_t> seamOfChoice(const Project& project, const std::vector<int>& cutOfNode,
                                        const FaceChoice& choice);

/// All choices of a part by the seams that they are about now. Where two are about one seam, one that lies on it
/// counts before one that lies near, a later one before an earlier one.
SeamChoices seamChoices(const Project& project, const std::vector<int>& cutOfNode, const PartDesign& part);

/// A roomy place on a face: inside, and far from its outline (to a few hundredths of its width).
mesh::Vec2 placeOn(const mesh::Region& region);

/// A place for one more dowel: far from the outline and from the dowels that are there.
mesh::Vec2 placeForAnother(const mesh::Region& region, const std::vector<JointForm>& dowels);

/// A fresh choice about a seam, or the one that is about it already.
FaceChoice choiceFor(const Project& project, const std::vector<int>& cutOfNode, const PartDesign& part,
                     std::size_t seam);

/// The part with this choice in place of whatever was chosen for the same face. A choice that wishes for nothing
/// (Automatic, no size, no fit) only takes the other away.
PartDesign withFaceChoice(const Project& project, const std::vector<int>& cutOfNode, const PartDesign& part,
                          const FaceChoice& choice);

/// The same face by hand, starting from the dowels that it has now.
FaceChoice takenByHand(FaceChoice choice, const JointLayout& layout, std::size_t seam);

/// The joints that a face's hand-placed dowels mean; none unless it is ByHand.
std::vector<Joint> jointsByHand(std::size_t seam, const FaceChoice& choice, const Clearances& clearances,
                                double chordMm = mesh::tolerance::chordMm);

} // namespace quoin::core
