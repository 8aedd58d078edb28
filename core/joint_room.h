// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/piece.h"
#include "core/skin_shadow.h"
#include "mesh/distance.h"

#include <map>
#include <mutex>
#include <utility>
#include <vector>

namespace quoin::core {

/// A round feature already placed in a piece: a segment with a radius, mm, assembled frame.
struct Capsule {
    mesh::Vec3 from, to;
    double radiusMm;
};

/// Least distance between two segments, mm (Ericson 2005, Real-Time Collision Detection, section 5.1.9).
double segmentDistance(mesh::Vec3 a, mesh::Vec3 b, mesh::Vec3 c, mesh::Vec3 d);

/// How much room there is in 3D beside and below a place on a cut face. Asks the pieces' real surfaces; trees are
/// built once a piece and cut, over the triangles within reach of the face. Safe from several threads.
class JointRoom {
public:
    /// @param reachMm  nothing farther than this from a cut plane will be asked about
    JointRoom(const std::vector<Piece>& pieces, const CutPlan& plan, double reachMm);

    /// Free radius along the axis through a place, on one side of a cut: entry i is the least distance to any surface
    /// but the face itself from the mouth down to depth i * stepMm, less half a step (so nothing between samples is
    /// missed).
    /// @param enoughBelowMm  stops early once the radius is under this (the rest of the profile is left out)
    std::vector<double> profile(int piece, int cut, mesh::Vec2 at, double depthMm, double stepMm,
                                double enoughBelowMm) const;

    /// Free radius along the axis through a place, exact: the least distance to any surface but the face itself from
    /// the mouth down to a depth, and how deep that is.
    struct Gap {
        double radiusMm;
        double depthMm;
    };
    Gap freeRadius(int piece, int cut, mesh::Vec2 at, double depthMm) const;

    /// Distance from a point of a piece to its surface, the face of the cut left out.
    double distance(int piece, int cut, mesh::Vec3 p) const;

    /// How far, across, the skin of a piece stays from something that goes straight into its face (core/skin_shadow.h).
    SkinShadow::Gap skinGap(int piece, int cut, const SkinShadow::Stretch& stretch, double upToMm) const;

    /// All of a piece's surface, faces of cuts too: for what goes on past the reach.
    const mesh::SurfaceTree& whole(int piece) const;

    /// Builds the tree of a piece and a cut unless it is there: questions about it are then answered at once. May be
    /// called from another thread than the questions.
    void prepare(int piece, int cut) const
    {
        tree(piece, cut);
        shadow(piece, cut);
    }
    bool prepared(int piece, int cut) const;

    /// +1 when the piece lies above the cut, else -1.
    double inward(int piece, int cut) const;

private:
    const mesh::SurfaceTree& tree(int piece, int cut) const;
    const SkinShadow& shadow(int piece, int cut) const;

    const std::vector<Piece>& m_pieces;
    const CutPlan& m_plan;
    double m_reachMm;
    mutable std::mutex m_lock; ///< guards the maps; what is in them stays where it is
    mutable std::map<std::pair<int, int>, mesh::SurfaceTree> m_trees;
    mutable std::map<std::pair<int, int>, SkinShadow> m_shadows;
    mutable std::map<int, mesh::SurfaceTree> m_whole;
};

} // namespace quoin::core
