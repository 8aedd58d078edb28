// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/thread_facets.h"

#include "core/thread_profile.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace quoin::core {

namespace {

using mesh::Vec2;
using std::numbers::pi;

/// dr/dz of every cone: 38.7 degrees to the axis prints either way up; not 1, the slope of the printable flank.
constexpr double coneSlope = 0.8;

// Shares of the pitch.
constexpr double neckUnderRoot = 0.02;  ///< the neck lies this much under the root
constexpr double footShare = 0.1;       ///< size of the 45 degree cone at the foot: no sharp inner corner there
constexpr double neckShare = 0.15;      ///< length of the plain neck
constexpr double mouthOverRoot = 0.05;  ///< entry chamfer and relief reach this much past the root
constexpr double reliefShare = 0.05;    ///< least length of the plain relief
constexpr double clearOfProfile = 0.02; ///< plateaus of the envelopes that decide nothing stand off by this
constexpr double leastLandShare = 0.05; ///< least crest width left to the bore

/// Full engagement that a joint must have, pitches.
constexpr double leastEngagedPitches = 1.0;
/// Share of the engaged height that clearance may take.
constexpr double mostClearanceShare = 0.5;
/// Far past any use; some gigabytes.
constexpr double mostTriangles = 2e7;
/// Share of the chord error that the fillets' polygons may use.
constexpr double filletShare = 0.25;

Problem refusal(std::string what, std::string remedy)
{
    return {Reason::BadArgument, std::move(what), "", "", std::move(remedy)};
}

double coneLength(double from, double to)
{
    return std::abs(from - to) / coneSlope;
}

std::optional<Problem> wrongNumbers(const ThreadedShape& shape)
{
    if (!std::isfinite(shape.lengthMm) || !std::isfinite(shape.phase) || !std::isfinite(shape.endClearanceMm))
        return refusal("a thread's length, phase and end clearance must be finite numbers",
                       "Give them in mm and radians.");
    if (!(shape.clearanceMm >= 0) || !std::isfinite(shape.clearanceMm))
        return refusal(fmt::format("a thread can't have a clearance of {} mm", shape.clearanceMm),
                       "Give 0 mm or more.");
    if (!(shape.chordMm >= finestChordMm && shape.chordMm <= coarsestChordMm))
        return refusal(fmt::format("a thread can't be made to a chord error of {} mm", shape.chordMm),
                       fmt::format("Give {} to {} mm.", finestChordMm, coarsestChordMm));
    return std::nullopt;
}

/// Radii, which don't depend on the length.
ThreadLayout radii(const ThreadDimensions& t, const ThreadFacets& facets)
{
    ThreadLayout l;
    l.dimensions = t;
    l.neckRadiusMm = t.minorMm / 2 - facets.insetMm - neckUnderRoot * t.pitchMm;
    l.footRadiusMm = l.neckRadiusMm + footShare * t.pitchMm;
    l.tipRadiusMm = l.neckRadiusMm;
    l.boreMinorRadiusMm = t.internalMinorMm / 2 + facets.boreOffsetMm;
    l.boreMajorRadiusMm = t.internalMajorMm / 2 + facets.boreOffsetMm;
    l.mouthRadiusMm = l.reliefRadiusMm = l.boreMajorRadiusMm + mouthOverRoot * t.pitchMm;
    const double studFull = (footShare + neckShare) * t.pitchMm + coneLength(t.majorMm / 2, l.neckRadiusMm);
    l.engagedFromMm = std::max(studFull, coneLength(l.mouthRadiusMm, l.boreMinorRadiusMm));
    return l;
}

/// What the tip's cone takes from the full thread.
double tipLength(const ThreadLayout& l)
{
    return coneLength(l.dimensions.majorMm / 2, l.tipRadiusMm);
}

bool leavesEnough(const ThreadDimensions& t, double offsetMm)
{
    return offsetMm <= mostClearanceShare * t.engagedHeightMm &&
           threadLandMm(t, offsetMm) >= leastLandShare * t.pitchMm;
}

/// Clearance, or clearance and the outset for the facets, that eat too much of the thread.
std::optional<Problem> tooLoose(const ThreadedShape& shape, const ThreadDimensions& t, const ThreadFacets& facets)
{
    if (!leavesEnough(t, helicalOffsetMm(t, shape.clearanceMm)))
        return refusal(fmt::format("a clearance of {} mm a side leaves too little of a thread of {} mm pitch",
                                   shape.clearanceMm, t.pitchMm),
                       "Take a coarser pitch or less clearance.");
    if (!leavesEnough(t, facets.boreOffsetMm))
        return refusal(
            fmt::format("a chord error of {} mm on top of a clearance of {} mm leaves too little of a thread "
                        "of {} mm pitch",
                        shape.chordMm, shape.clearanceMm, t.pitchMm),
            "Take a smaller chord error.");
    return std::nullopt;
}

/// A bound on the mesh in place of running out of memory.
std::optional<Problem> tooManyFacets(const ThreadedShape& shape, const ThreadDimensions& t, const ThreadFacets& facets)
{
    const auto corners = static_cast<double>(threadProfile(t, false, 0, facets.filletErrorMm).points.size());
    const double triangles = 2 * corners * (shape.lengthMm / t.pitchMm) * (2 * pi / facets.stepRadians);
    if (triangles <= mostTriangles)
        return std::nullopt;
    return refusal(fmt::format("{}: {} mm of it at a chord error of {} mm would take {:.0f} million triangles",
                               designation(shape.thread), shape.lengthMm, shape.chordMm, triangles / 1e6),
                   "Take a larger chord error or a shorter thread.");
}

} // namespace

double threadLandMm(const ThreadDimensions& t, double offsetMm)
{
    // Moving the flanks square to themselves takes offset / cos from each side along the axis; the crest, risen by the
    // offset, gains offset * tan on each.
    return t.crestFlatMm - 2 * offsetMm * (1 / std::cos(t.flankHalfAngle) - std::tan(t.flankHalfAngle));
}

double helicalOffsetMm(const ThreadDimensions& t, double clearanceMm)
{
    return clearanceMm * std::hypot(1.0, t.leadMm / (pi * t.minorMm));
}

ThreadFacets threadFacets(const ThreadDimensions& t, double clearanceMm, double chordMm)
{
    ThreadFacets facets;
    const double core = t.minorMm / 2;
    const double rate = t.leadMm / (2 * pi);
    const double clearance = helicalOffsetMm(t, clearanceMm);
    const double largest = t.internalMajorMm / 2 + clearance + chordMm + mouthOverRoot * t.pitchMm;
    const double slope = 1 / std::tan(t.flankHalfAngle), sine = std::sin(t.flankHalfAngle);
    facets.filletErrorMm = filletShare * chordMm;
    double sag = 0, twist = 0;
    constexpr int fewest = 16;
    for (int n = fewest;; n += 2) {
        const double step = 2 * pi / n;
        sag = largest * (1 - std::cos(step / 2));
        twist = rate * slope * sine * (step * t.threadHeightMm / (4 * core) + step * step * step / 62);
        facets.stepRadians = step;
        if (sag + 2 * twist + mergedPointsMm + facets.filletErrorMm <= chordMm)
            break;
    }
    facets.insetMm = twist + mergedPointsMm;
    facets.boreOffsetMm = clearance + sag + twist + mergedPointsMm;
    return facets;
}

Result<ThreadLayout> threadLayout(const ThreadedShape& shape)
{
    const auto t = dimensionsOf(shape.thread);
    if (!t)
        return t.problem();
    if (auto problem = wrongNumbers(shape))
        return *std::move(problem);
    const ThreadFacets facets = threadFacets(*t, shape.clearanceMm, shape.chordMm);
    if (auto problem = tooLoose(shape, *t, facets))
        return *std::move(problem);
    ThreadLayout l = radii(*t, facets);
    l.engagedToMm = shape.lengthMm - tipLength(l);
    const double shortest = l.engagedFromMm + leastEngagedPitches * t->pitchMm + tipLength(l);
    if (shape.lengthMm < shortest)
        return refusal(fmt::format("{}: a length of {:.2f} mm holds less than one pitch of full thread",
                                   designation(shape.thread), shape.lengthMm),
                       fmt::format("Give at least {:.2f} mm or take a finer pitch.", std::ceil(100 * shortest) / 100));
    if (auto problem = tooManyFacets(shape, *t, facets))
        return *std::move(problem);
    const double reliefFrom = l.engagedToMm + coneLength(l.boreMinorRadiusMm, l.reliefRadiusMm);
    l.boreWallDepthMm = std::max(shape.lengthMm + std::max(shape.endClearanceMm, shape.clearanceMm),
                                 reliefFrom + reliefShare * t->pitchMm);
    l.boreDepthMm = l.boreWallDepthMm + (shape.conicalBottom ? l.reliefRadiusMm : 0);
    return l;
}

Result<double> shortestLengthMm(const Thread& thread, double clearanceMm)
{
    ThreadedShape shape;
    shape.thread = thread;
    shape.clearanceMm = clearanceMm;
    const auto t = dimensionsOf(thread);
    if (!t)
        return t.problem();
    if (auto problem = wrongNumbers(shape))
        return *std::move(problem);
    const ThreadFacets facets = threadFacets(*t, clearanceMm, shape.chordMm);
    if (auto problem = tooLoose(shape, *t, facets))
        return *std::move(problem);
    const ThreadLayout l = radii(*t, facets);
    return l.engagedFromMm + leastEngagedPitches * t->pitchMm + tipLength(l);
}

std::vector<Vec2> studEnvelope(const ThreadedShape& shape, const ThreadLayout& l)
{
    const double pitch = l.dimensions.pitchMm;
    const double over = l.dimensions.majorMm / 2 + clearOfProfile * pitch;
    const double foot = footShare * pitch, neckEnd = foot + neckShare * pitch;
    return {{foot, l.neckRadiusMm},
            {neckEnd, l.neckRadiusMm},
            {neckEnd + coneLength(over, l.neckRadiusMm), over},
            {shape.lengthMm - coneLength(over, l.tipRadiusMm), over},
            {shape.lengthMm, l.tipRadiusMm}};
}

std::vector<Vec2> boreEnvelope(const ThreadLayout& l)
{
    const double under = l.boreMinorRadiusMm - clearOfProfile * l.dimensions.pitchMm;
    const double runOut = l.engagedToMm - coneLength(l.boreMinorRadiusMm, under);
    return {{0, l.mouthRadiusMm},
            {coneLength(l.mouthRadiusMm, under), under},
            {runOut, under},
            {runOut + coneLength(under, l.reliefRadiusMm), l.reliefRadiusMm},
            {l.boreWallDepthMm, l.reliefRadiusMm}};
}

} // namespace quoin::core
