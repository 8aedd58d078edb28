// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/bed.h"
#include "core/joint.h"
#include "core/load_case.h"
#include "core/material.h"
#include "mesh/mesh.h"
#include "mesh/model_file.h"
#include "mesh/plane.h"
#include "mesh/transform.h"

#include <optional>
#include <string>
#include <vector>

/// What the maker decides, and nothing that follows from it: the design. Small and plain, large meshes shared, so that
/// the undo stack, the autosave and a running job each keep a copy. core/realise.h makes pieces and joints from it.
namespace quoin::core {

struct CutPlan;

/// One side of an earlier cut of the same part.
struct CutSide {
    int cut = 0; ///< CutStep::id
    bool above = false;
    friend bool operator==(const CutSide&, const CutSide&) = default;
};

/// A cut by a plane. Cuts are made in the order of the list; each cuts whatever it meets of what the earlier ones have
/// left on the sides named by `within`, and of everything when `within` is empty.
struct CutStep {
    int id = 0;        ///< from 1, unique in its part for good
    std::string name;  ///< the user's; empty: none given
    mesh::Plane plane; ///< the scaled part's frame
    bool enabled = true;
    std::vector<CutSide> within; ///< in the order of the list
    friend bool operator==(const CutStep&, const CutStep&) = default;
};

/// What the maker wants on one face of a cut, instead of what is chosen for them.
struct FaceChoice {
    enum class How {
        Automatic, ///< as the layout chooses, with the wishes below
        Plain,     ///< no joint: glue
        ByHand     ///< the joints below, where they are
    };
    int cut = 0;         ///< CutStep::id
    mesh::Vec2 at{0, 0}; ///< a place on the face, frameOf(plane): finds the face again after other cuts have changed
    How how = How::Automatic;
    std::optional<JointForm::Kind> kind; ///< Automatic: this kind only; none: the part's, else what suits the face
    std::optional<double> diameterMm;    ///< Automatic: this size or smaller only
    std::optional<Fit> fit;              ///< none: the part's
    std::vector<JointForm> joints;       ///< ByHand
    bool clocked = false;                ///< Automatic: with a clocking key beside a screw or a stud
    friend bool operator==(const FaceChoice&, const FaceChoice&) = default;
};

/// A part of the sculpture as the maker wants it.
struct PartDesign {
    int id = 0; ///< from 1, unique in the design for good
    std::string name;
    std::string sourceFile; ///< as it was opened
    std::string sourceSha256;
    mesh::Unit sourceUnit = mesh::Unit::Millimetre;
    std::vector<std::string> repairs; ///< what was mended, in words
    mesh::Box3 sourceBox; ///< bounds of `source` when known (withBox), so that they are not looked for again
    mesh::MeshPtr source; ///< as read (and mended), mm, not scaled; never null
    double scale = 1;
    std::string material = "PLA";
    int quantity = 1;
    bool visible = true;
    /// Where its copies stand in the assembled sculpture, rigid, in millimetres before scaling; none: not known.
    std::vector<mesh::Transform> places;
    std::vector<CutStep> cuts;
    int nextCut = 1;                    ///< id of the next cut
    std::vector<mesh::Index> keepClear; ///< triangles of `source` that no cut may pass; rising
    JointOptions joints;                ///< clearance is set from material and fit
    Fit fit = Fit::Sliding;
    std::string machine;      ///< that prints it, for the fit table; empty: not known
    std::vector<FitRow> fits; ///< the maker's own rows when the part was last fitted, so that a design needs no others
    std::vector<FaceChoice> faces;
    LoadCase load;               ///< what the strength of the joints is estimated for
    std::string suggestionWords; ///< how the cuts came about, when they were suggested
};

/// The whole sculpture.
struct Design {
    std::vector<PartDesign> parts;
    int nextPart = 1; ///< id of the next part
    std::vector<Bed> beds;
    double marginMm = 5;
    bool anyRotation = false;
    bool islandsApart = true;

    const PartDesign* part(int id) const;
    PartDesign* part(int id);
};

const CutStep* cutOf(const PartDesign& part, int cut);

/// Bounds of the scaled part, mm.
mesh::Box3 scaledBounds(const PartDesign& part);

// Edits. Each returns the design or part that results; the caller's stays as it was.

/// At another scale (positive, finite): cuts, hand-placed joints and the places of extra forces keep their place on the
/// part. Diameters, depths and the forces stay as they are.
PartDesign withScale(const PartDesign& part, double scale);
/// Read in another unit: the model, and with it cuts, hand-placed joints and the places of forces, become larger or
/// smaller by the ratio of the units. Slow for large models.
PartDesign withUnit(const PartDesign& part, mesh::Unit unit);
/// The whole design with one part at another scale, and with it all parts that had the same.
Design withCommonScale(const Design& design, int part, double scale);
/// With a cut at the end of the list. @param id  if not null, gets its id
PartDesign withCut(const PartDesign& part, const mesh::Plane& plane, std::vector<CutSide> within = {},
                   int* id = nullptr);
/// Without a cut: later cuts within one of its sides reach across, and choices for its faces go.
PartDesign withoutCut(const PartDesign& part, int cut);
/// With another plane for a cut. Choices for its faces go along when only the offset has changed.
PartDesign withCutPlane(const PartDesign& part, int cut, const mesh::Plane& plane);
/// With a cut at another place in the order. Limits that would name a later cut are dropped: a cut that moves before
/// one that it is within reaches across.
PartDesign withCutMoved(const PartDesign& part, int cut, std::size_t place);
/// The cuts of a plan, each within its own branch, in place of all cuts.
PartDesign withPlan(const PartDesign& part, const CutPlan& plan, const std::string& words);
/// With a part at the end of the list; gives it an id, and a name that no other part has.
Design withPart(const Design& design, PartDesign part, int* id = nullptr);
/// With the bounds of every part's model filled in.
Design withBoxes(Design design);
Design withoutPart(const Design& design, int part);
/// Triangles marked or unmarked.
PartDesign withKeepClear(const PartDesign& part, const std::vector<mesh::Index>& triangles, bool keepClear);

} // namespace quoin::core
