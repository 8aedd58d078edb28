// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/hanging.h"
#include "core/load_sharing.h"
#include "core/project.h"
#include "core/seam_strength.h"
#include "mesh/context.h"

#include <optional>
#include <string>
#include <vector>

/// Strength estimates of a whole split: what every face has to carry, and how sure it is to.
namespace quoin::core {

/// One face between two pieces (all seams of the pair on one cut) with its checks.
struct JointCheck {
    std::vector<std::size_t> seams; ///< indices into the project's seams
    std::string marks;              ///< mating marks: "B" or "B, C"
    int cut = 0;                    ///< node of the plan
    Hanging hanging;                ///< what hangs on it; hanging.hanging 0: both pieces are fixed, no checks
    SectionProperties section;
    bool shared = false;  ///< forces are this face's part of what several seams carry together (core/load_sharing.h)
    SectionForces forces; ///< about the section's centroid, frame of the cut
    std::vector<StrengthCheck> checks;
    double bendingOfWhole = 0; ///< bending that the joints bear over that of the uncut material
    double safety = 0;         ///< of the weakest check; infinite without load
    std::size_t weakest = 0;   ///< index into checks
    bool low = false;          ///< below the load case's limit
    std::string words;         ///< one line for the report
};

struct StrengthReport {
    std::vector<JointCheck> joints; ///< in the order of the seams
    std::vector<Note> notes;        ///< what was taken for granted, warnings for what is low
    std::vector<int> fixedPieces;
    const JointCheck* weakest() const; ///< nullptr when nothing is loaded
};

/// A report, or why there is none.
struct StrengthEstimate {
    LoadCase load;
    std::optional<StrengthReport> report;
    std::string whyNot; ///< a sentence, where there is no report
};

/// For a report about other things: the caution, the weakest face, then every other one that is low, and other
/// warnings; or why there is no estimate. Empty without seams.
std::vector<Note> strengthNotes(const StrengthEstimate& estimate);

/// The sentence that goes with every strength figure.
std::string strengthCaution();

/// Estimates for every seam of a project with its joints. What is held in several ways is shared out by stiffness.
/// BadArgument when the load case makes no sense (checkLoadCase) or the material's
/// strength isn't known; Cancelled.
Result<StrengthReport> strengthOf(const Project& project, const LoadCase& load, const Context& context = {});
/// For the load that the project itself has.
Result<StrengthReport> strengthOf(const Project& project, const Context& context = {});

/// The joints of one seam as the checks see them.
std::vector<JointMember> membersOf(const StrengthScene& scene, std::size_t seam, const LoadCase& load);

/// Every face and what it has to carry, before its joints are looked at.
struct LoadedFaces {
    std::vector<JointCheck> faces;                   ///< in the order of the seams; no checks yet
    std::optional<std::vector<FaceResultant>> parts; ///< of each, where several share (core/load_sharing.h)
};
/// @param graph  of the same scene and load
LoadedFaces loadedFaces(const StrengthScene& scene, const LoadCase& load, const HangingGraph& graph);

/// One of them with its checks, words and all, by the joints of the scene. Of two pieces that are both fixed: no
/// checks. The material's strength must be known.
JointCheck checkedFace(const StrengthScene& scene, const LoadCase& load, const LoadedFaces& loaded, std::size_t face);

/// Between the normal of a piece's layers, as its pose lays them, and a direction of the assembled frame; radians,
/// 0 to a quarter turn.
double layerAngle(const Pose& pose, mesh::Vec3 direction);

} // namespace quoin::core
