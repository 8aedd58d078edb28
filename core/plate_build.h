// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/machine.h"
#include "core/nest.h"
#include "core/plate_piece.h"
#include "mesh/context.h"

#include <optional>
#include <string>
#include <vector>

/// Pieces put together to plates.
namespace quoin::core {

struct PlateRules {
    double aloneOverHours = 10; ///< longer pieces get a plate of their own
    double tallAloneMm = 200;   ///< so do taller ones: they are knocked over most easily (common practice, no source)
    std::optional<double> mostHours; ///< of a shared plate; none: as sharedPlateHours finds, a day at most
    long nestWork = 300'000;         ///< for each group of pieces
    std::uint64_t seed = 1;
};

/// What a shared plate may take before a failure, which loses all of it, costs more on average than a plate change less
/// saves: the hours H for which meanHours(H) = 2 meanHours(H / 2) + cost of a change. With failures by the hour that is
/// 2/rate ln(1 + sqrt(rate * cost)); with failures by the print there is no such limit (infinity).
/// @param changeHours  what a plate more costs: changing it, and waiting until somebody is there
double sharedPlateHours(const FailureRate& failure, double changeHours);

/// One piece on a plate: its outline turned about its own origin, then shifted; middle of the plate at (0, 0), mm.
struct PlatePiece {
    std::size_t piece = 0;
    double turn = 0;
    mesh::Vec2 at{0, 0};
};

/// A plate: one material, one recipe.
struct Plate {
    int number = 0; ///< from 1, in the order of printing once planned
    std::vector<PlatePiece> pieces;
    std::string material, recipe;
    double hours = 0;                   ///< on a machine of speed factor 1, starting up included
    double grams = 0;                   ///< purging included
    double lowHours = 0, highHours = 0; ///< where nine of ten come out
    double heightMm = 0;
    double filledShare = 0;     ///< of the plate it was laid out for
    std::vector<char> machines; ///< which can print it as it lies; single pieces: in some turn
    std::size_t laidOutFor = 0; ///< machine
    int urgency = 1;            ///< 0 test fit, 1 first by wish, 2 the rest
    double rank = 0;            ///< lower: earlier, by assembly and risk
    std::string reason;         ///< why these pieces, in words
};

struct PlateSet {
    std::vector<Plate> plates;
    std::size_t leastPlates = 0; ///< proved, by the same rules (material, recipe, machines, hours)
    std::string leastWords;
    double sharedHours = 0;  ///< the limit that was used
    std::string sharedWords; ///< and why
    /// Pieces that no machine can print, with the reason and what to do.
    struct Left {
        std::size_t piece;
        std::string why;
    };
    std::vector<Left> left;
};

/// @param machines  at least one
/// @return Cancelled; BadArgument without machines or for a piece without outline or hours
Result<PlateSet> makePlates(const PlateJob& job, const std::vector<Machine>& machines, const PlateRules& rules,
                            const Context& context = {});

/// Whether a plate can be printed on a machine: nozzle, material, height, and the outlines as they lie; a single piece
/// in some turn.
bool plateFits(const PlateJob& job, const Plate& plate, const Machine& machine);

/// The plate as it lies on a machine that it fits: a single piece turned to fit and put in the middle, several moved as
/// they are.
Plate laidOutOn(const PlateJob& job, const Plate& plate, const Machine& machine, std::size_t index);

/// The outlines of a plate's pieces where they lie.
std::vector<mesh::Region> placedOutlines(const PlateJob& job, const Plate& plate);

} // namespace quoin::core
