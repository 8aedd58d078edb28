// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/coupon_shape.h"
#include "core/thread.h"

namespace quoin::core {

/// The threaded pair of a coupon. Pocket and gauge are made by core/thread_mesh.h, as the joints' threads are.

/// How long the thread of the gauge is: room for two full turns, at the clearances from 0 to mostClearanceMm.
Result<double> couponThreadLengthMm(const Thread& thread, double mostClearanceMm);

/// A stud on a grip with eight flats. Upright: the grip in z < 0, the stud in z > 0; it is printed standing on its
/// grip, as an integral stud stands on its piece.
Result<Gauge> threadGauge(const Thread& thread, double lengthMm);

/// Room that a pocket takes.
struct ThreadRoom {
    double mouthMm = 0; ///< across
    double depthMm = 0;
};
Result<ThreadRoom> threadRoom(const Thread& thread, double lengthMm, double clearanceMm);

/// The threaded bore in an upper face that lies in z = at.z.
Result<mesh::FacePatch> threadPocket(const Thread& thread, double lengthMm, double clearanceMm, mesh::Vec3 at);

/// Where the upright gauge is when it is screwed into the bore at `at` and backed out by `liftMm`.
mesh::Transform threadSeat(const Thread& thread, mesh::Vec3 at, double liftMm);

} // namespace quoin::core
