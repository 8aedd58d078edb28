// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint_defaults.h"
#include "ui/joints_shown.h"

namespace quoin::ui {

/// The face that a joint stands on, for its numbers.
struct JointGround {
    mesh::Vec2 low{0, 0}, high{0, 0};   ///< box of the face, frame of the cut's plane
    int pieceBelow = 1, pieceAbove = 2; ///< numbers
    core::JointSpace space;             ///< at the joint's place
    mesh::Region region{};              ///< the face; empty: not known
    double wallMm = 0;
    mesh::Vec2 middle() const { return 0.5 * (low + high); }
};

/// @param wallMm  that a joint leaves around it
JointGround groundOf(const FaceRow& face, double wallMm, mesh::Vec2 at);

} // namespace quoin::ui
