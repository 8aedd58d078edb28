// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint_room.h"

#include <vector>

namespace quoin::core {

/// A place on a seam where a round feature might go, with the room that both sides have there.
struct JointSite {
    mesh::Vec2 at;              ///< frame of the cut's plane
    std::vector<double> radius; ///< free radius from the mouth down to depth i * stepMm, mm
    double stepMm = 1;

    /// Free radius down to a depth; negative when the profile doesn't reach so far.
    double freeRadius(double depthMm) const;
};

struct JointSites {
    std::vector<JointSite> sites;
    double roomMm = 0; ///< largest free radius found at the least depth; of the flat outline alone if no site was found
};

/// What is asked of a site.
struct SiteNeed {
    double radiusMm;     ///< least free radius worth looking at (radius, clearance, wall)
    double leastDepthMm; ///< shallowest feature
    double mostDepthMm;  ///< deepest one
};

/// Candidate sites of a seam: a grid over its outline shrunk by the radius, and that outline itself, so that narrow
/// strips are not missed. Deterministic.
JointSites jointSites(const Seam& seam, const JointRoom& room, const SiteNeed& need);

} // namespace quoin::core
