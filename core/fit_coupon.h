// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/bed.h"
#include "core/coupon_shape.h"
#include "core/fit_table.h"
#include "core/thread.h"

#include <optional>
#include <string>
#include <vector>

namespace quoin::core {

/// The fit coupon: a plate with pockets at stepped clearances, numbered, and a gauge for each kind of pocket. The maker
/// prints it, tries the gauge in each pocket, and says which step slid and which was snug.
struct CouponOptions {
    std::string material; ///< what it will be printed in; empty when it doesn't matter
    std::string machine;  ///< the maker's own name for it
    double fromMm = 0.05; ///< clearance per side of step 1
    double toMm = 0.50;
    double stepMm = 0.05;
    double dowelMm = 8; ///< diameter of the round gauge, and of a bought rod that is tried in the same bores
    double keyMm = 8;   ///< side of the square gauge, diameter of the D
    /// The threaded pair, on a plate of its own; nothing: without.
    std::optional<Thread> thread = Thread{Thread::Profile::Printable, 20, 3.5, 1, false};
    Bed bed = {"200x200x200", Bed::Shape::Rectangular, 200, 200, 200, 1};
    double marginMm = 5;
};

/// A pocket of the plate and what was measured there.
struct CouponPocket {
    CouponPair pair = CouponPair::Dowel;
    int number = 1;            ///< as sunk into the plate
    mesh::Vec3 mouth{0, 0, 0}; ///< middle of its mouth, on its plate's top as printed
    double clearanceMm = 0;    ///< per side, as designed
    double measuredMm = 0;     ///< least gap between plate and gauge on the meshes, gauge in the middle
};

/// What number means which clearance; written with the coupon, read to make a row from the answers.
struct CouponSheet {
    std::string material, machine, date;
    double fromMm = 0, stepMm = 0;
    int steps = 0;
    double dowelMm = 0, keyMm = 0;
    std::string thread; ///< its designation (core/thread.h); empty without
    std::vector<CouponPocket> pockets;

    /// Clearance per side of a number, 1 to steps.
    double clearanceMm(int number) const;
    bool has(CouponPair pair) const;
};

/// Something to print.
struct CouponPart {
    std::string name; ///< "plate", "square key"
    std::string file; ///< "plate.stl"
    mesh::Mesh mesh;  ///< print pose: on z = 0, 32-bit coordinates
};

struct Coupon {
    CouponSheet sheet;
    std::vector<CouponPart> parts; ///< each plate before its gauges
};

/// Lays the coupon out, as few lines of steps as the bed takes, and measures every pocket against its gauge.
/// @param date  for the sheet, ISO 8601
/// @return BadArgument for steps or sizes out of range, DoesNotFit with the room that is missing, JointFailed when a
///         measured gap is not the designed one.
Result<Coupon> makeCoupon(const CouponOptions& options, const std::string& date);

/// What the maker found. Numbers as on the plate.
struct CouponAnswers {
    FitProcess process = FitProcess::Dowel;
    int slid = 0;             ///< the tightest that slid by hand without catching
    int snug = 0;             ///< the tightest that went in with a firm push of the hand
    std::optional<int> press; ///< one that went in under a mallet or a clamp
    std::optional<int> free;  ///< one that fell in loose
};

/// How much wider free is than sliding when nobody tried it: as in the shipped table, and at least a step (common
/// practice, no source).
inline constexpr double freeOverSlidingMm = 0.15;

/// The row that the answers make: sliding and snug as found; press as found, else one step tighter than snug; free as
/// found, else freeOverSlidingMm (at least one step) wider than sliding. Its source names the steps.
/// @return BadArgument when a number isn't on the coupon, when the order isn't press < snug < sliding < free, or when
///         the coupon has no such pair.
Result<FitRow> rowFromCoupon(const CouponSheet& sheet, const CouponAnswers& answers);

} // namespace quoin::core
