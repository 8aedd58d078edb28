// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/choose_dowels.h"
#include "core/face_loads.h"
#include "core/joint_ground.h"

namespace quoin::core {

/// Places joints and marks seam by seam. Called in this order: byHand for every seam, then choose for every seam, then
/// mark for every seam, then witness for every seam, then take.
class JointChooser {
public:
    JointChooser(const std::vector<Piece>& pieces, const std::vector<Seam>& seams, const CutPlan& plan,
                 const JointOptions& options, const SeamChoices& choices);

    /// Puts the joints of a seam that is done by hand where they are wanted.
    void byHand(std::size_t seam);
    /// Chooses the joints of any other seam, clear of what is there.
    void choose(std::size_t seam);
    /// Places the number and the mating mark in what room is left.
    void mark(std::size_t seam);
    /// Places its witness line, where there is one to be had.
    void witness(std::size_t seam);
    /// The layout, joints in the order of their seams, faults of those placed by hand among them.
    JointLayout take();

private:
    /// The best of the ways that were looked at so far, by what they carry.
    struct Best {
        Chosen chosen;
        std::optional<Carried> carried;
    };
    void sayByHand(std::size_t seam);
    Best suited(std::size_t seam, const std::vector<JointSite>& sites) const;
    Best ofKind(std::size_t seam, const std::vector<JointSite>& sites, JointForm::Kind kind) const;
    bool enough(std::size_t seam, Chosen chosen, Best& best) const;
    bool enoughScrew(std::size_t seam, Chosen screw, Best& best) const;
    bool enoughDowels(std::size_t seam, const std::vector<JointSite>& sites, Best& best) const;
    bool clockedWish(std::size_t seam) const;
    Chosen withClockingKey(std::size_t seam, Chosen screw) const;
    Chosen dowelsOrOne(std::size_t seam, const std::vector<JointSite>& sites) const;
    std::string buttWords(std::size_t seam) const;

    const JointOptions& m_options;
    const SeamChoices& m_choices;
    JointGround m_ground;
    FaceLoads m_loads;
    JointLayout m_out; ///< its joints are in the ground until they are taken
};

} // namespace quoin::core
