// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "sample_models/heron.h"
#include "sample_models/heron_sizes.h"
#include "sample_models/solids.h"

namespace quoin::samples {

/// Where one of a part's copies sits: its design frame in the frame of a link.
struct HeronSeat {
    Link link;
    Transform place;
};

/// A part from its design: turned as it is printed and stood on z = 0 over the origin. Axes come in the design frame.
HeronPart heronPart(std::string name, const Mesh& design, const Transform& printTurn,
                    const std::vector<HeronSeat>& seats, std::vector<HeronAxis> axes);

/// For parts whose design frame is a link's own.
HeronPart heronPart(std::string name, const Mesh& design, const Transform& printTurn, Link link,
                    std::vector<HeronAxis> axes);

/// Quarter turns about x, y or z, right-handed.
Transform quarterTurns(Vec3 axis, int quarters);

/// A peg keyed by a flat, along +z from z = 0, chamfered at its end; and the socket for it, reaching out a little below
/// z = 0 so that it opens.
Mesh keyedPeg(double radius, double flat, double length);
Mesh keyedSocket(double radius, double flat, double length);

/// A tool for a round hole along x; its corners lie half a step off those of round bodies.
Mesh boreAlongX(Vec2 centreYz, double radius, double fromX, double toX);

HeronPart heronPlinth();
HeronPart heronColumn();
HeronPart heronBody();
HeronPart heronNeck();
HeronPart heronWing(bool left);
HeronPart heronRod(bool left);
HeronPart heronCrankWheel();
HeronPart heronHandCrank();
HeronPart heronCrankAxle();
HeronPart heronCrankPin();
HeronPart heronWingPin();
HeronPart heronRodPin();
HeronPart heronCollar();

} // namespace quoin::samples
