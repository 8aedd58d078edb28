// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint.h"
#include "core/piece.h"
#include "mesh/context.h"
#include "mesh/sweep.h"

#include <cmath>
#include <optional>
#include <string>
#include <vector>

/// The order in which pieces go together.
///
/// Sought by taking apart: from the whole, a sub-assembly is looked for that leaves the rest by one motion which all
/// joints between the two allow and on which nothing is in its way, and so on with both. For each motion "this piece
/// can't pass that one" makes a graph over the pieces (the directional blocking graph: Wilson and Latombe, "Geometric
/// reasoning about mechanical assembly", Artificial Intelligence 71, 1994); what can leave are the sets that no edge
/// leads out of. A sub-assembly that can leave the whole can, as far as it is there, leave any part of the whole: no
/// choice is ever regretted, and an order is found whenever there is one of such motions, each without end or, for
/// screws, to the end of the thread and from there straight on.
namespace quoin::core {

struct Motion {
    enum class Kind { Straight, Helix };
    Kind kind = Kind::Straight;
    mesh::Vec3 point{0, 0, 0};     ///< of the axis; straight: of no meaning
    mesh::Vec3 direction{0, 0, 1}; ///< unit, part's frame
    double leadMm = 0;             ///< helix: way in a turn, negative for a left-hand thread
    /// Helix: along the thread; before that (on the way on) the straight way until the thread begins. Straight: at
    /// least as far as the pieces reach into each other.
    double travelMm = 0;

    double turns() const { return kind == Kind::Helix && leadMm != 0 ? travelMm / std::abs(leadMm) : 0; }
    Motion reversed() const;
    mesh::Sweep sweep() const { return {point, direction, kind == Kind::Helix ? leadMm : 0}; }
    friend bool operator==(const Motion&, const Motion&) = default;
};

/// Two finished sub-assemblies become one.
struct AssemblyStep {
    std::vector<int> moving, onto;   ///< piece numbers, ascending
    Motion motion;                   ///< of what moves, on its way on
    std::vector<std::size_t> joints; ///< between the two; indices
    std::string words;               ///< without a number: "Push 3+4 onto 1+2 along (0, 0, -1), 2 dowels of 8 mm."
    friend bool operator==(const AssemblyStep&, const AssemblyStep&) = default;
};

/// An edge of a blocking graph that the search came upon: `piece`, leaving along `motion`, can't pass `other`.
struct Blocking {
    int piece = 0, other = 0;
    Motion motion;
    double afterMm = 0; ///< of the way; 0 when a joint or the common face forbids it from the start
    std::string why;
    friend bool operator==(const Blocking&, const Blocking&) = default;
};

/// Pieces that nothing takes apart, so that no order puts them together.
struct AssemblyProblem {
    std::vector<int> pieces;
    std::string text;
    friend bool operator==(const AssemblyProblem&, const AssemblyProblem&) = default;
};

struct AssemblyPlan {
    std::vector<AssemblyStep> steps; ///< in the order of putting together
    std::vector<Blocking> blocking;
    std::vector<AssemblyProblem> problems;
    bool complete() const { return problems.empty(); }
    friend bool operator==(const AssemblyPlan&, const AssemblyPlan&) = default;
};

/// What the order follows from. What it points to must outlive it.
struct AssemblyInput {
    /// For piece number n at n - 1, assembled frame, plain or with what stands out of its faces; null or empty: takes
    /// up no room.
    std::vector<const mesh::Mesh*> meshes;
    std::vector<Path> paths; ///< the same way
    const CutPlan* plan = nullptr;
    const std::vector<Seam>* seams = nullptr;
    const std::vector<Joint>* joints = nullptr;

    std::size_t count() const { return meshes.size(); }
    const mesh::Plane& cutOf(const Joint& joint) const;
};
/// Of pieces as they are, joints not sunk.
AssemblyInput assemblyInput(const std::vector<Piece>& pieces, const CutPlan& plan, const std::vector<Seam>& seams,
                            const std::vector<Joint>& joints);

/// The order. Cuts are undone one by one where that works (nothing is swept when a plane lies between the sides);
/// else whatever leaves by the fewest pieces. Draw bolts go in when their pieces are together: they ask for nothing.
/// When cancelled the plan has a problem.
AssemblyPlan planAssembly(const AssemblyInput& input, const Context& context = {});

/// What is wrong with an order as an order: a step that moves or meets what isn't together yet, pieces that never come
/// to the others; each with a sentence. Empty when it puts all pieces together. It says nothing about what is in the
/// way.
std::vector<AssemblyProblem> gapsIn(const AssemblyPlan& plan, std::size_t pieces);

/// The motion by which the piece above leaves the piece below, as the joint alone wants it.
Motion wayOff(const Joint& joint, const mesh::Plane& cut);
/// Whether a joint lets the piece on one side of it leave by a motion.
bool allows(const Joint& joint, const mesh::Plane& cut, bool above, const Motion& off);

/// How free a step is, measured on the meshes.
struct StepMeasure {
    bool swept = false; ///< else a plane square to the way lies between the two
    /// Swept: least gap beside the way, looked for up to gapSoughtMm (0: hit, or sliding along a face). Else the gap
    /// along the way; negative: overlap.
    double gapMm = 0;
};
inline constexpr double gapSoughtMm = 5;
StepMeasure measureStep(const AssemblyInput& input, const AssemblyStep& step);

/// For a screw or a stud that someone wants on a seam, besides the joints of `input`: nothing when in some order the
/// one side can be turned onto the other; else a sentence or two: what it hits, where and by how much, or which joint
/// forbids it, and what to take instead.
std::optional<std::string> turnObstacle(const AssemblyInput& input, const Joint& turning);

} // namespace quoin::core
