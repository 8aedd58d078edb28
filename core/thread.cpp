// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/thread.h"

#include <fmt/format.h>

#include <cmath>
#include <numbers>

namespace quoin::core {

namespace {

using std::numbers::pi;

// The printable profile as shares of the pitch (core/thread.h).
constexpr double engagedShare = 0.30;
constexpr double rootClearanceShare = 0.03;
constexpr double rootRadiusShare = 0.10;
constexpr double printableHalfAngle = pi / 4;
constexpr double trapezoidalHalfAngle = pi / 12;

/// The core must be at least this share of the diameter: less is a thread on a wire.
constexpr double leastCoreShare = 0.5;
/// Steepest helix at the core, radians; four printable starts on the smallest sizes come near it.
constexpr double steepestLead = 35 * pi / 180;

Problem refusal(std::string what, std::string remedy)
{
    return {Reason::BadArgument, std::move(what), "", "", std::move(remedy)};
}

std::optional<Problem> plainlyWrong(const Thread& thread)
{
    if (!std::isfinite(thread.diameterMm) || thread.diameterMm <= 0)
        return refusal(fmt::format("a thread can't have a diameter of {} mm", thread.diameterMm),
                       "Give a diameter above 0 mm.");
    if (!std::isfinite(thread.pitchMm) || thread.pitchMm <= 0)
        return refusal(fmt::format("a thread can't have a pitch of {} mm", thread.pitchMm), "Give a pitch above 0 mm.");
    if (thread.starts < 1 || thread.starts > mostStarts)
        return refusal(fmt::format("a thread can't have {} starts here", thread.starts), "Give 1 to 4 starts.");
    return std::nullopt;
}

ThreadDimensions dimensionsFrom(const Thread& thread, double engaged, double clearance, double radius, double half)
{
    ThreadDimensions t;
    const double d = thread.diameterMm;
    t.pitchMm = thread.pitchMm;
    t.leadMm = thread.leadMm();
    t.flankHalfAngle = half;
    t.engagedHeightMm = engaged;
    t.rootClearanceMm = clearance;
    t.threadHeightMm = engaged + clearance;
    t.rootRadiusMm = radius;
    t.majorMm = d;
    t.pitchDiameterMm = t.internalPitchMm = d - engaged;
    t.internalMinorMm = d - 2 * engaged;
    t.minorMm = t.internalMinorMm - 2 * clearance;
    t.internalMajorMm = d + 2 * clearance;
    t.leadAngle = std::atan(t.leadMm / (pi * t.pitchDiameterMm));
    t.toothAtPitchMm = thread.pitchMm / 2;
    t.crestFlatMm = t.toothAtPitchMm - engaged * std::tan(half);
    t.rootFlatMm = t.crestFlatMm - 2 * clearance * std::tan(half);
    return t;
}

} // namespace

Result<ThreadDimensions> dimensionsOf(const Thread& thread)
{
    if (auto problem = plainlyWrong(thread))
        return *std::move(problem);
    const std::string name = designation(thread);
    ThreadDimensions t;
    if (thread.profile == Thread::Profile::Printable) {
        const double p = thread.pitchMm;
        t = dimensionsFrom(thread, engagedShare * p, rootClearanceShare * p, rootRadiusShare * p, printableHalfAngle);
    } else {
        const auto iso = isoTrapezoidal(thread.diameterMm, thread.pitchMm);
        if (!iso)
            return refusal(
                fmt::format("{}: a pitch of {} mm is none of ISO 2902 for this diameter", name, thread.pitchMm),
                fmt::format("Take {}.", designation(trapezoidalThread(thread.diameterMm))));
        t = dimensionsFrom(thread, iso->H1, iso->ac, iso->R2max, trapezoidalHalfAngle);
    }
    if (t.minorMm < leastCoreShare * t.majorMm)
        return refusal(fmt::format("{}: the core of {:.2f} mm is too thin for the diameter", name, t.minorMm),
                       "Take a finer pitch or a larger diameter.");
    if (std::atan(t.leadMm / (pi * t.minorMm)) > steepestLead)
        return refusal(fmt::format("{}: the thread climbs {:.0f} degrees at its core, over {:.0f}", name,
                                   std::atan(t.leadMm / (pi * t.minorMm)) * 180 / pi, steepestLead * 180 / pi),
                       "Take fewer starts or a finer pitch.");
    return t;
}

double seatedAngleError(double dhMm, double leadMm)
{
    return 2 * pi * dhMm / leadMm;
}

} // namespace quoin::core
