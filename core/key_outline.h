// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint.h"
#include "mesh/plane.h"
#include "mesh/result.h"

#include <vector>

/// The outlines of keys and their pockets, level by level; for core/joint_key.h.
namespace quoin::core {

/// Chamfer of the mouth of a pocket, mm.
inline constexpr double keyMouthChamferMm = 0.4;

/// Half the width of a cross's arms, as a share of the diameter; of the narrow one.
inline constexpr double keyArmShare = 0.18;
inline constexpr double keyNarrowArmShare = 0.12;

/// The section of a key and of its pocket at the face, the latter without its clearance, in a frame about the axis with
/// x along Joint::angle. Corner by corner edge i runs from corner i to the next.
class KeyOutline {
public:
    /// BadArgument in words for sizes that make no key.
    static Result<KeyOutline> of(const Joint& joint);

    /// Outline of the key at a distance from the face, without its lead-in and its foot.
    mesh::Loop keyAt(double heightMm) const;
    /// At the face, with the foot of an integral key.
    mesh::Loop foot() const;
    double footMm() const { return m_footMm; }
    /// Outline of the pocket at a depth, its clearance included; of its mouth.
    mesh::Loop pocketAt(double depthMm) const;
    mesh::Loop mouth() const;
    double pocketDepthMm() const { return m_pocketDepthMm; }
    /// Length of the lead-in at an end.
    double leadMm() const { return m_leadMm; }
    /// What the key lies on when it is printed: direction from x, radians, and distance from the axis.
    double restAngle() const { return m_restAngle; }
    double restMm() const { return m_restMm; }

private:
    struct Edges {
        mesh::Loop outline;
        std::vector<char> tapered; ///< which edges
    };
    static Edges squareEdges(double radiusMm, double breakMm);
    static Edges crossEdges(double radiusMm, double outerBreakMm, double innerBreakMm);
    static Edges roundEdges(double radiusMm, double breakMm, bool pocket, double chordMm);
    void setEdges(const Joint& joint, double breakMm);
    mesh::Loop moved(const Edges& edges, double outMm, double heightMm, bool clear) const;

    Edges m_key, m_pocket;
    double m_slope = 0; ///< narrower by this a mm along the axis
    double m_clearanceMm = 0;
    double m_footMm = 0;
    double m_leadMm = 0;
    double m_pocketDepthMm = 0;
    double m_restAngle = 0;
    double m_restMm = 0;
};

} // namespace quoin::core
