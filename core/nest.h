// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/bed.h"
#include "mesh/context.h"
#include "mesh/plane.h"
#include "mesh/result.h"

#include <cstdint>
#include <limits>
#include <string>
#include <vector>

/// Outlines laid out on as few plates as can be found.
namespace quoin::core {

/// How an outline may be turned: not at all; by quarters; or by quarters both as it is and along its longest straight
/// direction (the least box round it).
enum class NestTurns { None, Quarters, Aligned };

struct NestItem {
    std::size_t outline = 0; ///< of the list of outlines
    double load = 0;         ///< whatever must not add up to more than NestRules::mostLoad on a shared plate: hours
    bool alone = false;      ///< gets a plate of its own
};

struct NestRules {
    double marginMm = 5; ///< of the plate, kept free all round
    double gapMm = 8;    ///< between any two pieces
    NestTurns turns = NestTurns::Aligned;
    double mostLoad = std::numeric_limits<double>::infinity(); ///< on a plate with more than one item
    double thinMm = 0.6; ///< how far a simplified outline may reach beyond the true one
    long work = 400'000; ///< budget of the search: about the places tried. The same work gives the same layout
    std::uint64_t seed = 1;
};

/// Where an item stands: its outline turned about its own origin, then shifted. Middle of the plate at (0, 0); mm.
struct NestPlace {
    std::size_t item = 0;
    double turn = 0;
    mesh::Vec2 at{0, 0};
};

struct NestPlate {
    std::vector<NestPlace> places;
    double filledShare = 0; ///< area of the outlines by that of the plate less its margin
    double load = 0;
};

struct Nesting {
    std::vector<NestPlate> plates;
    std::vector<std::size_t> unplaced; ///< items that don't fit the bed in any of the turns tried
    std::size_t leastPlates = 0;       ///< proved: no layout of these items by these rules has fewer
    std::string leastWords;            ///< what proves it
    long work = 0;                     ///< done
};

/// First fit by falling area with bottom-left placement on true outlines (no-fit polygons, core/nest_no_fit.h), then a
/// local search that empties the lightest plate into the others, until the lower bound is reached or the work is done.
/// Deterministic. When cancelled, what was found so far.
/// @return BadArgument for an item without outline.
Result<Nesting> nest(const std::vector<mesh::Region>& outlines, const std::vector<NestItem>& items, const Bed& bed,
                     const NestRules& rules, const Context& context = {});

/// Items that may fit a bed one by one, each as it would stand alone: for a first sieve of machines.
bool fitsAlone(const mesh::Region& outline, const Bed& bed, double marginMm, NestTurns turns = NestTurns::Aligned);

/// What a layout really keeps, measured on the true outlines and not on what the search reckons with.
struct NestCheck {
    double leastGapMm = std::numeric_limits<double>::infinity();  ///< between two outlines; negative: they overlap
    double leastEdgeMm = std::numeric_limits<double>::infinity(); ///< to the edge of the plate; negative: over it
    double overlapMm2 = 0;
};
/// @param outlines  placed: in the frame of the plate
NestCheck checkNest(const std::vector<mesh::Region>& placed, const Bed& bed);

} // namespace quoin::core
