// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/transform.h"

namespace quoin::samples {

/// What moves together in the heron.
enum class Link { Body, Crank, LeftRod, RightRod, LeftWing, RightWing };

/// The four-bar linkage that flaps one wing, in the plane across the heron: the crank (throw radius), the rod, the
/// wing's lever and the body between crank axis and hinge.
struct FourBar {
    double crank, rod, lever, ground; ///< mm
    /// Grashof's condition with the crank as the shortest link: it turns right round while the wing rocks.
    bool crankTurnsRound() const;
};
FourBar heronFourBar();

/// Where everything stands at a crank angle (radians, from the heron's left, anticlockwise seen from the front;
/// a quarter turn puts the crank pin on top). Closed form: the rod pin is where two circles meet. Places are in the
/// plane across the heron, x = y and y = z of the sculpture.
struct LinkagePose {
    mesh::Vec2 crankPin;
    mesh::Vec2 leftRodPin, rightRodPin;
    double leftWing, rightWing; ///< raised above level, radians
    double leftRod, rightRod;   ///< heading of the rod from the crank pin to the rod pin, radians
};
LinkagePose linkageAt(double crankRadians);

/// From a link's own frame to the sculpture. Frames: the body's is the sculpture's; the crank's has its origin on the
/// crank axis and the pin at +z; a rod's at the crank pin, +y towards the rod pin; a wing's in the hinge, +y to the
/// left when level.
mesh::Transform linkFrame(Link link, const LinkagePose& pose);

} // namespace quoin::samples
