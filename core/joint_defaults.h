// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint.h"
#include "core/thread.h"

#include <string>
#include <vector>

/// Sensible numbers for a joint that is placed by hand: sizes that exist, and what goes with a size. All shares of the
/// diameter and of the room are common practice, no source.
namespace quoin::core {

/// What there is about a joint's place, mm: more than a first guess needs no joint to know.
struct JointSpace {
    double radiusMm = 20;     ///< free radius about the axis on the face, wall and clearance taken off
    double depthBelowMm = 60; ///< of the piece below the cut, along the axis, wall taken off
    double depthAboveMm = 60;
};

/// A joint to begin with.
JointForm jointFor(JointForm::Kind kind, mesh::Vec2 at, const JointSpace& space);

/// The joint as another kind at the same place: diameter by the room, a size that exists; depth, thread, taper, grip
/// as that asks for. Angle, carrier and, between screw and stud, the thread's form are kept. The same kind: unchanged.
JointForm changedTo(const JointForm& form, JointForm::Kind kind, const JointSpace& space);

/// Diameters that exist, rising: usual pins, or rods as they are sold; printable threads or those of ISO 2902's plan;
/// whole millimetres for keys and dovetails; socket head screws for draw bolts, those that there are inserts for when
/// they go into one.
std::vector<double> sizesOf(const JointForm& form);

/// The joint at another diameter: a thread takes the pitch that goes with it, unless it has one of its own that is had
/// there too; an insert takes its own depth; any other depth follows where it was the usual one for the
/// diameter, or would be too shallow.
JointForm withDiameter(const JointForm& form, double diameterMm);

/// The same thread in the other profile: the nearest size that exists there, its pitch.
JointForm withProfile(const JointForm& form, bool trapezoidal);

/// Made of something else: the nearest size that is sold; bought rods are round.
JointForm withRod(const JointForm& form, JointForm::Rod rod);

/// Another way to hold a draw bolt, with the depth, and if need be the size, that it asks for.
JointForm withHold(const JointForm& form, JointForm::Hold hold);

/// Pitches to choose from at a diameter, rising: of the plan for a trapezoidal thread; the usual one, a finer and a
/// coarser one for a printable one.
std::vector<double> pitchesOf(const JointForm& form);

/// The thread of a screw or stud.
Thread threadOf(const JointForm& form);

/// Whether a joint of these numbers can be made at all, wherever it stands. BadArgument in words with a remedy.
Status checkForm(const JointForm& form);

/// Turns from the first touch of the threads to the seat, also of one that can't be made; 0 without a lead.
double turnsOf(const JointForm& form);

/// "Tr 40x7", "M8 x 40 mm grip", "12 mm": the size in the trade's way.
std::string sizeName(const JointForm& form);

} // namespace quoin::core
