// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/bed.h"
#include "mesh/mesh.h"

#include <string>
#include <vector>

namespace quoin::core {

/// A number of pieces that no way of cutting can go below, and the reason.
struct LowerBound {
    int pieces = 1;
    std::string reason; ///< "volume: 8.00 beds" or "5 points more than 346.4 mm apart"
};

/// How few pieces there could be, whatever the cuts: the largest of these, for each body. Added up over the bodies,
/// since a piece is of one body. D is the longest diagonal of any bed.
///
/// Volume: solid volume over the largest bed's.
/// Separated points: points of the surface that are pairwise farther apart than D need a piece each.
/// Straight feature: a line that runs for a length L through the solid (its pieces added up). What one piece holds of
///   it lies within D, so it has no more than D of the length: L / D pieces.
/// Flat area: a plane that meets the solid in an area A. What one piece holds of it lies in a plane section of its bed:
///   A over the largest of these (largestSectionMm2).
/// Round feature: places round the outside, each with its share of the way round. A set of points that are no farther
///   apart than D lies, whichever two of it are the farthest apart, in what the two balls about these have in common:
///   let s be the most that any two no farther apart than D have of the way round so. 1 / s pieces.
/// Hull: one piece in its bed is within a convex body, so its hull has no more volume, surface and mean width than the
///   bed (Cauchy; Steiner 1840), and no plane section larger than the bed's largest; else there are at least two.
///
/// None of them cares how pieces stand on the bed: a piece may be cut to have any small face to stand on. Margins are
/// taken off, and what rounding may add (core/bed_room.h) is put on. Only some lines, planes and points are looked at:
/// the bound is true, but may be low. The same for the same mesh.
/// @param islandsApart  false: a piece may be of several bodies; the bounds are then taken over the whole part
LowerBound lowerBound(const mesh::Mesh& part, const std::vector<Bed>& beds, double marginMm, bool islandsApart = true);

/// As many points of the surface as could be found that are pairwise farther apart than `apartMm`. Deterministic.
std::vector<mesh::Vec3> separatedPoints(const mesh::Mesh& mesh, double apartMm);

/// Area of the largest plane section of a box, mm2: its longest side c times the diagonal of the other two, a and b. No
/// section is larger: with v = (a n1, b n2, c n3) for its unit normal n, its area is a b c times the density at zero r
/// of the sum of three uniform variables of widths v. r v_i <= 1, and r |v| <= sqrt 2 (Ball 1986), so that the squares
/// (r v_i)2 are averages, with weights, of (1, 1, 0), (1, 0, 1) and (0, 1, 1) or less; the area's square is their sum
/// weighted by (b c)2, (a c)2, (a b)2, so no more than that of the best two.
double largestBoxSectionMm2(double a, double b, double c);
/// Area that no plane section of a cylinder exceeds, mm2: that of a section whose shadows were as large as the circle
/// and the upright rectangle are, both at once (shadow = area times cosine).
double largestCylinderSectionMm2(double diameter, double height);

} // namespace quoin::core
