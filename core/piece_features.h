// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint_shape.h"
#include "core/project.h"

#include <vector>

namespace quoin::core {

/// Where a piece may differ from the part it was cut from: on its cut faces, in its joints, in its marks. Answers for
/// points in the part's frame.
class PieceFeatures {
public:
    /// Joints that can't be made have no place.
    PieceFeatures(const Project& project, int piece);

    /// Within slack of the plane of one of the piece's own cuts.
    bool onCut(mesh::Vec3 p, double slackMm) const;
    bool inMark(mesh::Vec3 p, double slackMm) const;
    /// In what a joint, or a witness line, takes of the piece.
    bool inBore(mesh::Vec3 p, double slackMm) const;
    /// Of one joint (index into the layout's joints).
    bool inBore(std::size_t joint, mesh::Vec3 p, double slackMm) const;
    /// In what stands out of the piece's face past a cut, and where that cut comes in the piece's path.
    bool proud(mesh::Vec3 p, double slackMm, std::size_t stepOfPath) const;
    bool proud(mesh::Vec3 p, double slackMm) const { return proud(p, slackMm, m_cuts.size()); }
    /// Where a joint opens to the outside: the part's own surface is missing there.
    bool inOpening(mesh::Vec3 p, double slackMm) const;

private:
    struct Place {
        std::size_t joint;
        JointZone zone;
    };
    struct Proud {
        JointZone zone;
        std::size_t step; ///< of the piece's path that its cut is
    };
    struct MarkArea {
        mesh::PlaneFrame frame; ///< of the outward plane
        std::vector<mesh::Region> outlines;
        mesh::Vec2 low, high; ///< their bounds
        double depthMm;
    };
    void addJoint(const Project& project, int piece, std::size_t joint);
    void addMark(const Project& project, int piece, const Mark& mark);

    std::vector<mesh::Plane> m_cuts;
    std::vector<Place> m_places;
    std::vector<JointZone> m_openings;
    std::vector<Proud> m_proud;
    std::vector<MarkArea> m_marks;
};

/// Whether a point lies in a zone, or within slack of it.
bool inZone(const JointZone& zone, mesh::Vec3 p, double slackMm);

} // namespace quoin::core
