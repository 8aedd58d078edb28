// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "mesh/recess.h"

#include <array>
#include <string>

namespace quoin::core {

/// What a fit coupon pairs: a pocket in its plate with a gauge that goes in. Lengths in mm; the section is seen along
/// the gauge's axis.
enum class CouponPair { Dowel, Square, DShape, Thread };
inline constexpr std::array couponPairs{CouponPair::Dowel, CouponPair::Square, CouponPair::DShape, CouponPair::Thread};
/// Those with a straight gauge; the threaded pair is made by core/coupon_thread.h.
inline constexpr std::array straightPairs{CouponPair::Dowel, CouponPair::Square, CouponPair::DShape};

/// "round", "square", "D", "thread".
std::string pairName(CouponPair pair);

/// A gauge standing on z = 0, axis along z, and the motion that lays it flat for printing: on z = 0, middle at x = y =
/// 0, its layers along the axis. The dowel is the very dowel of the joints (core/joint_dowel.h); the square has its
/// long edges broken, so that the rounded inner corners of a printed pocket don't decide; the D has its flat at half
/// the radius.
struct Gauge {
    mesh::Mesh upright;
    mesh::Transform printFromUpright;
};
/// @param pair  one of straightPairs
Gauge couponGauge(CouponPair pair, double sizeMm, double lengthMm);

/// The gauge's pocket in a face seen from outside its material (frame of `outward`): every wall stands off the
/// gauge's by the clearance.
/// @param at  its middle, in that frame
mesh::Recess couponPocket(CouponPair pair, double sizeMm, double clearanceMm, double depthMm, mesh::Vec2 at,
                          const mesh::Plane& outward);

} // namespace quoin::core
