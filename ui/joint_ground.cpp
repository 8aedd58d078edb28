// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/joint_ground.h"

#include <algorithm>

namespace quoin::ui {

JointGround groundOf(const FaceRow& face, double wallMm, mesh::Vec2 at)
{
    JointGround ground{{1e300, 1e300}, {-1e300, -1e300}, face.pieceBelow, face.pieceAbove, {}, face.region, wallMm};
    for (const mesh::Loop& loop : face.region)
        for (const mesh::Vec2 p : loop) {
            ground.low = {std::min(ground.low.x, p.x), std::min(ground.low.y, p.y)};
            ground.high = {std::max(ground.high.x, p.x), std::max(ground.high.y, p.y)};
        }
    const double edge = mesh::contains(face.region, at) ? mesh::distanceToOutline(face.region, at) : 0;
    ground.space = {std::max(0.0, edge - wallMm), std::max(0.0, face.depthBelowMm - wallMm),
                    std::max(0.0, face.depthAboveMm - wallMm)};
    return ground;
}

} // namespace quoin::ui
