// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <span>

/// Sizes of bought metric hardware, M3 to M24, mm. Each look-up gives nothing for a size that its table doesn't have.
/// Looked up: in public tables that cite the standard. From memory: not compared with one.
namespace quoin::core {

/// ISO 273, holes for bolts to pass through. Looked up to M16, M18 to M24 from memory.
struct ClearanceHole {
    double d;
    double fine, medium, coarse; ///< diameters
};
std::optional<ClearanceHole> clearanceHole(double diameterMm);

/// ISO 4762, hexagon socket head cap screws. Looked up, but for the range of lengths, which is from memory.
struct SocketHeadScrew {
    double d;
    double dk;                    ///< diameter of the head, plain, largest
    double dkKnurled;             ///< the same with its knurl
    double k;                     ///< height of the head, largest
    double s;                     ///< width of the key
    double b;                     ///< reference length of the thread of long screws: 2 d + 12
    double shortestMm, longestMm; ///< usual lengths
    /// Where the thread begins, from under the head: short screws are threaded to within three pitches of it.
    double threadFromMm(double lengthMm, double pitchMm) const;
};
/// M3 M4 M5 M6 M8 M10 M12 M14 M16 M20 M24: the standard has no M18 and no M22.
std::optional<SocketHeadScrew> socketHeadScrew(double diameterMm);

/// Nominal lengths of ISO 4762 screws, ascending. From memory.
std::span<const double> screwLengthsMm();

/// ISO 4032, hexagon nuts style 1. Looked up.
struct HexagonNut {
    double d;
    double s;    ///< width across flats, largest
    double sMin; ///< smallest
    double m;    ///< height, largest
    double e;    ///< across corners, smallest
};
std::optional<HexagonNut> hexagonNut(double diameterMm);

/// ISO 7089, plain washers of the normal series. From memory.
struct PlainWasher {
    double d;
    double d1, d2; ///< hole, outside
    double h;      ///< thickness
};
std::optional<PlainWasher> plainWasher(double diameterMm);

/// Brass inserts melted into a printed bore. Common practice, no source: makers differ by some tenths.
struct HeatSetInsert {
    double d;
    double boreMm;   ///< diameter of the printed bore
    double lengthMm; ///< of the insert
};
/// M3 to M10.
std::optional<HeatSetInsert> heatSetInsert(double diameterMm);

/// The metric sizes that a draw bolt can have: those of ISO 4762.
std::span<const double> boltDiametersMm();

} // namespace quoin::core
