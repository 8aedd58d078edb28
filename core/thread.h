// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/result.h"

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace quoin::core {

/// A screw thread; pure data, lengths in mm. Sizes that follow from it: dimensionsOf. Geometry: core/thread_mesh.h.
struct Thread {
    enum class Profile {
        Printable,   ///< 45 degree flanks: prints without support with the axis upright
        Trapezoidal, ///< ISO 2901 to 2904, 15 degree flanks
    };
    Profile profile = Profile::Printable;
    double diameterMm = 40; ///< nominal: crest of the external thread at no clearance
    double pitchMm = 6;     ///< from one crest to the next along the axis, whichever start it belongs to
    int starts = 1;         ///< 1 to 4
    bool leftHand = false;

    /// Way along the axis in one turn.
    double leadMm() const { return starts * pitchMm; }
    friend bool operator==(const Thread&, const Thread&) = default;
};

inline constexpr int mostStarts = 4;

/// Basic sizes of a thread before any clearance from the fit table is added. Both profiles are built alike: the flanks
/// of the external and the internal thread lie on each other, crests are flat, roots stand back from the other
/// thread's crest by rootClearanceMm and are rounded by a fillet that stays within that.
///
/// Printable profile (common practice, no source), as shares of the pitch: engaged height 0.30, root clearance 0.03,
/// crest flat 0.20, root flat 0.14 between the fillets' ends of radius 0.10 counted as sharp; width of tooth and of
/// groove at the pitch line 0.50; flanks at 45 degrees. Trapezoidal: isoTrapezoidal.
struct ThreadDimensions {
    double majorMm = 0;         ///< d: crest of the external thread (diameters, all six)
    double pitchDiameterMm = 0; ///< d2 = D2
    double minorMm = 0;         ///< d3: root of the external thread
    double internalMajorMm = 0; ///< D4: root of the internal thread
    double internalPitchMm = 0; ///< D2
    double internalMinorMm = 0; ///< D1: crest of the internal thread
    double pitchMm = 0;         ///< P
    double leadMm = 0;          ///< starts * P
    double flankHalfAngle = 0;  ///< radians, between the flank and the plane square to the axis
    double leadAngle = 0;       ///< radians, at the pitch diameter: atan(lead / (pi d2))
    double engagedHeightMm = 0; ///< H1 = (d - D1) / 2
    double threadHeightMm = 0;  ///< h3 = H4 = (d - d3) / 2
    double rootClearanceMm = 0; ///< ac
    double rootRadiusMm = 0;    ///< fillet of both roots
    double crestFlatMm = 0;     ///< width of the external crest; the internal one is the same
    double rootFlatMm = 0;      ///< width of the root between its sharp corners, external and internal
    double toothAtPitchMm = 0;  ///< width of the tooth at the pitch line: P / 2, external and internal
};

/// BadArgument, with a remedy, for sizes that make no thread: not finite, more than four starts, a core thinner than
/// half the diameter, a lead angle over 35 degrees at the core, and, for the trapezoidal profile, a pitch that
/// ISO 2902 doesn't have.
Result<ThreadDimensions> dimensionsOf(const Thread& thread);

/// Basic dimensions of an ISO trapezoidal thread by the names of ISO 2904, mm (formulas: ISO 2904 clause 5).
struct IsoTrapezoidal {
    double d, P, d2, D2, D4, d3, D1;
    double ac;           ///< crest clearance
    double H1;           ///< height of the engaged profile
    double h3;           ///< height of the external and the internal thread
    double R1max, R2max; ///< largest rounding of the external crest; of the roots
};
/// Nothing unless the pitch is one of ISO 2902 and the core d3 is positive.
std::optional<IsoTrapezoidal> isoTrapezoidal(double diameterMm, double pitchMm);

/// A diameter of the plan of ISO 2902 with its pitches, coarse first; small ones have fewer than three.
struct PitchPlanRow {
    double diameterMm;
    std::vector<double> pitchesMm;
    double normalMm; ///< the pitch to take without a reason for another
    bool preferred;  ///< first choice of the diameters
};
/// Tr 8 to Tr 300. From memory; rows 20, 24, 30, 36, 40, 50, 60, 80 and 100 compared with a published copy.
const std::vector<PitchPlanRow>& trapezoidalPlan();
/// Whether the plan has this diameter with this pitch.
bool inTrapezoidalPlan(double diameterMm, double pitchMm);
/// The thread of the plan with the normal pitch at the nearest preferred diameter that is not above `diameterMm`; the
/// smallest of the plan for less.
Thread trapezoidalThread(double diameterMm);

/// Common practice, no source: sizes for printing with nozzles of 0.4 to 0.6 mm; pitch about a sixth of the diameter
/// (at least 3 mm), less than that from 80 mm up to keep the wall round the bore.
struct PrintableSize {
    double diameterMm;
    double pitchMm;
};
std::span<const PrintableSize> printableSizes();
/// A printable thread of this diameter, single start, right hand, with the pitch of the nearest size of the table that
/// is not above it.
Thread printableThread(double diameterMm);

/// "Tr 40x7", "Tr 60x18(P9)LH" (lead and pitch of a thread of several starts), and in the same way "Printable 40x6".
std::string designation(const Thread& thread);
/// Reads a designation: capitals or not, spaces anywhere between its parts, "x" or the multiplication sign, decimal
/// point or comma. BadArgument for what can't be read and for what dimensionsOf refuses.
Result<Thread> threadFrom(std::string_view text);

/// Coarse ISO metric thread of a bought bolt, M3 to M36. ISO 68-1 profile, ISO 724 basic dimensions, stress area
/// ISO 898-1 (mean of d2 and d3); mm and mm2.
struct MetricThread {
    double d, P, d2, D1, d3;
    double stressAreaMm2;
};
/// Nothing when there is no such coarse size (M3 M4 M5 M6 M8 M10 M12 M14 M16 M18 M20 M22 M24 M27 M30 M33 M36).
std::optional<MetricThread> metricThread(double diameterMm);
std::span<const double> metricDiametersMm();

/// How far a joint is turned from its designed angle when the faces meet dhMm early (a print too thick, paint, glue),
/// radians: 2 pi dh / lead.
double seatedAngleError(double dhMm, double leadMm);

} // namespace quoin::core
