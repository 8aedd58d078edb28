// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/face_choice.h"
#include "core/joint_room.h"
#include "core/joint_sites.h"

#include <map>
#include <vector>

namespace quoin::core {

/// Places joints and marks seam by seam, keeping account of what is taken in each piece. Called in this order: byHand
/// for every seam, then dowels for every seam, then mark for every seam, then take.
class JointChooser {
public:
    JointChooser(const std::vector<Piece>& pieces, const std::vector<Seam>& seams, const CutPlan& plan,
                 const JointOptions& options, const SeamChoices& choices);

    /// Puts the dowels of a seam that is done by hand where they are wanted.
    void byHand(std::size_t seam);
    /// Chooses the dowels of any other seam, clear of what is there.
    void dowels(std::size_t seam);
    /// Places the number and the mating mark in what room is left.
    void mark(std::size_t seam);
    /// The layout, joints in the order of their seams, faults of those placed by hand among them.
    JointLayout take();

private:
    struct Asked {
        double diameterMm;  ///< largest wanted
        double clearanceMm; ///< per side
        bool keepsToSize;   ///< the maker named the size
    };
    double reachMm() const;
    Asked askedOf(std::size_t seam) const;
    void sayByHand(std::size_t seam);
    bool placeSeveral(std::size_t seam, const std::vector<JointSite>& sites, const Asked& asked);
    bool placeOne(std::size_t seam, const std::vector<JointSite>& sites, const Asked& asked);
    void put(const Joint& joint);
    bool clear(const Joint& joint) const;
    std::vector<mesh::Vec2> allowed(const std::vector<JointSite>& sites, Joint joint) const;
    void sayButt(std::size_t seam, const Asked& asked);
    const mesh::Plane& cutOf(std::size_t seam) const;

    const std::vector<Piece>& m_pieces;
    const std::vector<Seam>& m_seams;
    const CutPlan& m_plan;
    const JointOptions& m_options;
    const SeamChoices& m_choices;
    JointRoom m_room;
    std::map<int, std::vector<Capsule>> m_taken; ///< by piece number
    JointLayout m_out;
};

} // namespace quoin::core
