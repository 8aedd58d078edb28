// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/thread.h"
#include "mesh/mesh.h"
#include "mesh/result.h"
#include "mesh/tolerance.h"

namespace quoin::core {

/// A stud and the bore that it screws into, in one frame: the axis is +z, the two faces that touch at rest lie in
/// z = 0, the stud stands in z > 0 and the bore goes into the material of the mating side there. Both are made from
/// the same ThreadedShape and fit each other at rest and all along screwMotion.
///
/// Clearance: the bore is the external profile set off by clearanceMm / cos(lambda) in the axial plane, lambda being
/// the lead angle at the core: atan(lead / (pi d3)). With D the distance from the external profile in the axial plane
/// (|grad D| = 1), D(r, z - k theta) has a gradient of at most sqrt(1 + (k / r)^2) in space (k = lead / 2 pi), so the
/// gap is at least clearanceMm everywhere, square to the surface: crest, root and flanks. The root clearances of the
/// profile come on top.
struct ThreadedShape {
    Thread thread;
    double lengthMm = 0;    ///< reach of the stud from the face
    double clearanceMm = 0; ///< per side, normal to the surface
    /// Radians about +z: where a crest of the external thread would cross z = 0 if it went on to there.
    double phase = 0;
    double endClearanceMm = 0.5; ///< from the stud's end to the bottom of the bore; never less than clearanceMm
    bool conicalBottom =
        false; ///< a 45 degree cone instead of a flat: prints without support, but goes a radius deeper
    /// No point of a facet is farther than this from the true surface, mm: helical chords, fillets and the offset that
    /// keeps the facets of the stud inside and those of the bore outside their true surfaces are all within it.
    double chordMm = mesh::tolerance::chordMm;
};

/// Finest and coarsest chordMm that are made.
inline constexpr double finestChordMm = 0.002;
inline constexpr double coarsestChordMm = 1.0;

/// Where things are along the axis, mm from the face, and radii, before any meshing. For room, strength and drawings.
struct ThreadLayout {
    ThreadDimensions dimensions;
    double neckRadiusMm = 0;      ///< thread relief of the stud at the shoulder: a little under d3 / 2
    double footRadiusMm = 0;      ///< of the stud where it meets the face: the neck with a small cone
    double tipRadiusMm = 0;       ///< flat end of the stud
    double mouthRadiusMm = 0;     ///< of the bore in the face (entry chamfer): the largest of the bore
    double reliefRadiusMm = 0;    ///< of the bore at its bottom
    double boreMinorRadiusMm = 0; ///< crest of the internal thread with the clearance
    double boreMajorRadiusMm = 0; ///< root of the internal thread with the clearance
    double engagedFromMm = 0;     ///< both threads have their full profile between these
    double engagedToMm = 0;
    double boreWallDepthMm = 0; ///< to the end of the relief
    double boreDepthMm = 0;     ///< to the bottom: the same, or the tip of the cone
    double engagedLengthMm() const { return engagedToMm - engagedFromMm; }
};

/// BadArgument, with a remedy: the thread is refused (dimensionsOf); the length holds less than one pitch of full
/// engagement (about 2.3 pitches in all for the printable profile, 2.7 for the trapezoidal); the clearance is negative
/// or eats the engagement; numbers that are not finite; a chord error out of range, or so fine that the mesh would not
/// fit in memory.
Result<ThreadLayout> threadLayout(const ThreadedShape& shape);
/// The shortest length that threadLayout accepts for this thread and clearance.
Result<double> shortestLengthMm(const Thread& thread, double clearanceMm);

/// A surface that is open at the face. Its border is one loop in z = 0: the points 0 to rimPoints - 1, in this order,
/// counter-clockwise seen from +z.
struct ThreadSurface {
    mesh::Mesh mesh;
    std::size_t rimPoints = 0;
    ThreadLayout layout;
};

/// The stud: cone at the foot, neck (thread relief), thread that begins and ends at cones (about 39 degrees to the
/// axis: no overhang over 45 either way up), flat end. Normals out of the stud. Errors: threadLayout.
Result<ThreadSurface> externalThread(const ThreadedShape& shape);

/// The bore for it: entry chamfer, thread, thread relief, bottom. Normals out of the material, towards the axis.
Result<ThreadSurface> internalThread(const ThreadedShape& shape);

/// A loose stud, closed: `upper` in z > 0 as externalThread has it, `lower` the same turned half round the x axis
/// ((x, y, z) -> (x, -y, -z)) into z < 0, with a plain neck between. Its lower bore is internalThread(lower) turned the
/// same way.
Result<mesh::Mesh> studSolid(const ThreadedShape& upper, const ThreadedShape& lower);
/// The turn of the lower half.
mesh::Transform lowerHalfTurn();

/// Turn about +z by an angle with the way along the axis that belongs to it: maps the endless thread onto itself. A
/// right-hand thread goes up (+z) with a positive angle, so a bore lifts off its stud with a positive angle, the stud
/// leaves its bore with a negative one; left hand the other way round.
mesh::Transform screwMotion(const Thread& thread, double angle);

} // namespace quoin::core
