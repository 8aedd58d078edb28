// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/project.h"

#include <vector>

namespace quoin::core {

/// Where a piece may differ from the part it was cut from: on its cut faces, in its bores, in its marks. Answers for
/// points in the part's frame.
class PieceFeatures {
public:
    PieceFeatures(const Project& project, int piece);

    /// Within slack of the plane of one of the piece's own cuts.
    bool onCut(mesh::Vec3 p, double slackMm) const;
    bool inMark(mesh::Vec3 p, double slackMm) const;
    bool inBore(mesh::Vec3 p, double slackMm) const;
    /// Of one joint (index into the layout's joints).
    bool inBore(std::size_t joint, mesh::Vec3 p, double slackMm) const;

private:
    struct Bore {
        std::size_t joint;
        mesh::Vec3 mouth, inward; ///< inward: unit vector into the piece
        double radiusMm, depthMm; ///< of its widest corner, chamfered mouth included
    };
    struct MarkArea {
        mesh::PlaneFrame frame; ///< of the outward plane
        std::vector<mesh::Region> outlines;
        mesh::Vec2 low, high; ///< their bounds
        double depthMm;
    };
    static bool within(const Bore& bore, mesh::Vec3 p, double slackMm);

    std::vector<mesh::Plane> m_cuts;
    std::vector<Bore> m_bores;
    std::vector<MarkArea> m_marks;
};

} // namespace quoin::core
