// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/recipe.h"
#include "mesh/context.h"
#include "mesh/mesh.h"
#include "mesh/result.h"

#include <array>
#include <string>
#include <vector>

/// Weight, time and cost of printing: estimates for planning, made from the mesh in its print pose and a recipe.
/// Units: g, h, m, mm, kWh; money in whatever currency the prices are given in.
namespace quoin::core {

/// What printing a piece is made of.
enum class PrintShare { Walls, Skin, Infill, Support, Overhead };
inline constexpr std::array printShares{PrintShare::Walls, PrintShare::Skin, PrintShare::Infill, PrintShare::Support,
                                        PrintShare::Overhead};
/// "walls", "skin", "infill", "support", "overhead".
std::string shareName(PrintShare share);

/// Grams and hours of one of them. Overhead: travel, layer changes and waiting for the least layer time in hours, the
/// brim in grams.
struct ShareFigures {
    double grams = 0;
    double hours = 0;
};

/// Where nine of ten prints are expected to come out.
struct Likely {
    double low = 0;
    double high = 0;
};

/// One piece, once, alone on its plate.
struct PieceEstimate {
    double grams = 0; ///< of filament that goes into it, its support and brim; without purging at the start
    double hours = 0; ///< from the first layer to the last; without starting up
    Likely likelyGrams;
    Likely likelyHours;
    std::array<ShareFigures, printShares.size()> shares; ///< in the order of printShares; they add up to the above
    double waitingHours = 0; ///< part of hours: waiting for the least layer time, less beside others on a plate
    double startUpHours = 0; ///< once a plate, not in hours
    double startUpGrams = 0; ///< once a plate (purging), not in grams
    double metres = 0;       ///< filament, of grams
    double materialCost = 0; ///< of grams
    double machineCost = 0;  ///< of hours, wear and energy
    double energyKwh = 0;    ///< of hours
    double volumeMm3 = 0;    ///< of the mesh
    double heightMm = 0;     ///< of what is printed
    int layers = 0;
    int mendedLayers = 0; ///< layers whose outline was open and was closed by straight lines
    /// The same before any factor of a log, for the next row of it (core/print_log.h); starting up is not in them.
    double modelGrams = 0, modelExtrusionHours = 0, modelOverheadHours = 0, modelStartUpHours = 0;
    std::vector<Note> notes;

    double money() const { return materialCost + machineCost; }
    const ShareFigures& share(PrintShare s) const { return shares[static_cast<std::size_t>(s)]; }
};

/// What the figures are made with, besides the mesh.
struct PrintRates {
    double densityGPerCm3 = 1.24;
    double filamentDiameterMm = 1.75;
    double pricePerKg = 0;
    double machinePerHour = 0; ///< wear and room, without energy
    double pricePerKwh = 0;
};

/// Factors that the maker's log has taught (core/calibration.h); as they are here without one.
struct PrintFactors {
    double mass = 1;          ///< grams
    double extrusion = 1;     ///< hours in which plastic flows
    double overhead = 1;      ///< all other hours, starting up included
    double massSpread = 0.10; ///< half width of the likely range over the estimate: of grams
    double timeSpread = 0.25; ///< of hours
    int rows = 0;             ///< of the log that they come from
    std::string words;        ///< where they come from: "from 12 prints of PLA on big one" or "not calibrated: ..."
};

/// Sections of the mesh layer by layer (core/layer_sections.h), shared out to walls, skin and infill
/// (core/layer_fill.h), support below overhangs (core/layer_support.h), and the time that laying it takes
/// (core/layer_motion.h). A million triangles take some seconds; runs on all cores, with progress and cancel.
/// @param mesh  print pose: z upwards, the plate at the lowest point; mm. Faces that are open or lie across each other
///              don't stop it: a note says how many layers were concerned
/// @param progressFrom, progressTo  fractions to report between
/// @return BadArgument for a recipe that can't be used; NoVolume for a mesh without any section; Cancelled
Result<PieceEstimate> estimatePiece(const mesh::Mesh& mesh, const Recipe& recipe, const PrintRates& rates,
                                    const PrintFactors& factors = {}, const Context& context = {},
                                    double progressFrom = 0, double progressTo = 1);

} // namespace quoin::core
