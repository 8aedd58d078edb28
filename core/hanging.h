// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/load_case.h"
#include "core/project.h"
#include "core/section_forces.h"
#include "mesh/result.h"

#include <string>
#include <vector>

/// What hangs on what in the assembled part: which pieces each face of each seam has to carry.
namespace quoin::core {

inline constexpr double gravityMPerS2 = 9.80665; ///< standard gravity (ISO 80000-3)

/// What strength is reckoned of: a split, or one whose joints are being chosen. Kept by reference.
struct StrengthScene {
    const std::vector<Piece>& pieces;
    const std::vector<Seam>& seams;
    const CutPlan& plan;
    const std::vector<Joint>& joints;
    const std::string& material;

    StrengthScene(const std::vector<Piece>& pieces, const std::vector<Seam>& seams, const CutPlan& plan,
                  const std::vector<Joint>& joints, const std::string& material);
    /// Not explicit: a project is one.
    StrengthScene(const Project& project); // NOLINT(google-explicit-constructor)
    const mesh::Plane& cutOf(const Seam& seam) const { return plan.nodes.at(static_cast<std::size_t>(seam.cut)).plane; }
    /// nullptr when there is none.
    const Piece* piece(int number) const;
};

/// What a joint makes heavier, or lighter, on one side of its cut.
struct PointMass {
    double kg = 0; ///< negative for what is taken away
    mesh::Vec3 at{0, 0, 0};
};
/// Half of its loose and bought parts each, and what is sunk into the face or grown on it. What is taken through other
/// surfaces is not taken off, on the safe side. Printed parts are as full as the pieces; bought ones weigh as the plain
/// solids that stand for them (core/joint_shape.h), an insert as a tube. Nothing for a joint that can't be made.
std::vector<PointMass> jointMasses(const Joint& joint, const mesh::Plane& cut, bool above, double printedGPerCm3,
                                   double fillShare);

/// Whether a load case makes sense for a project: finite, positive, pieces that there are. BadArgument.
Status checkLoadCase(const StrengthScene& scene, const LoadCase& load);

/// What one pair of pieces passes on.
struct Hanging {
    int held = 0;                 ///< the piece nearer to what is fixed
    int hanging = 0;              ///< the piece that hangs on it; 0 when both are fixed
    std::vector<int> pieces;      ///< all that hang with it, by number, rising
    bool inLoop = false;          ///< other seams hold the same pieces too: they share (core/load_sharing.h)
    double massKg = 0;            ///< with what joints add to the pieces and take from them
    std::vector<PointLoad> loads; ///< weights with the dynamic factor at the centres of mass, and the extra forces
};

/// The pieces of a part as a graph joined by its seams. Pieces are held by the fixed ones along the fewest seams; a
/// body that no seams join to a fixed piece is taken as fixed at its own lowest foot.
class HangingGraph {
public:
    /// @param load  must have passed checkLoadCase
    HangingGraph(const StrengthScene& scene, const LoadCase& load);

    /// What hangs on the seams between two pieces: everything whose way to the fixed pieces along the fewest seams
    /// leads, or may lead, over the outer one of them. Where the way is the only one, they carry all of it. In loops it
    /// is what they have a part in, equally short ways each; of a pair equally far out, the one with more behind it
    /// hangs on the other.
    Hanging between(int a, int b) const;

    const std::vector<int>& fixedPieces() const { return m_fixed; }
    /// Fixed ones that nobody named, besides the lowest foot: bodies that no seam joins to the others.
    const std::vector<int>& apart() const { return m_apart; }
    double massKg(int piece) const;
    /// Its own weight and that of its joints' parts with the dynamic factor, and the extra forces on it.
    const std::vector<PointLoad>& loadsOn(int piece) const;

private:
    std::size_t indexOf(int number) const;
    std::vector<std::size_t> reachedFrom(std::size_t start) const;
    bool holdsWithout(std::size_t a, std::size_t b) const;
    double massOf(const std::vector<std::size_t>& pieces) const;
    std::vector<int> lowestOrder(const StrengthScene& scene, mesh::Vec3 down) const;
    void addJoints(const StrengthScene& scene, const LoadCase& load, double densityGPerCm3);
    void joinUp(const StrengthScene& scene);
    void fix(const StrengthScene& scene, const LoadCase& load);
    void countSteps();

    std::vector<int> m_numbers;
    std::vector<std::vector<std::size_t>> m_next; ///< neighbours of each piece
    std::vector<int> m_steps;                     ///< seams from a fixed piece; -1 before it is known
    std::vector<int> m_fixed, m_apart;
    std::vector<double> m_massKg;
    std::vector<std::vector<PointLoad>> m_loads;
};

} // namespace quoin::core
