// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/cut_judge.h"

#include "core/bed_room.h"
#include "core/hanging.h"
#include "core/material_strength.h"
#include "core/section_forces.h"
#include "core/section_score.h"
#include "mesh/region.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace quoin::core {

using mesh::Mesh;
using mesh::Plane;
using mesh::Region;
using mesh::Vec2;
using mesh::Vec3;

namespace {

/// Where skin and cut meet at less than this, the edge of one side crumbles (common practice, no source).
const double featherCosine = std::sqrt(0.5);
/// Skin nearer to the cut than this leaves a thin place, mm: a bore's wall and as much again would not hold there.
constexpr double nearMm = 6;
/// Two dowels stand this many diameters apart and reach this many deep on either side.
constexpr double spreadDiameters = 2.5, depthDiameters = 2;
constexpr double drawnIn[] = {0.7, 0.4}; ///< of the farthest that they could be apart
constexpr double diagonal = 0.70710678;
constexpr double coarseArcMm = 0.2;
/// Outlines are thinned to points this far apart before they are shrunk, mm: nothing is made from them.
constexpr double thinnedMm = 0.2;

constexpr double mostStrain = 2;
/// Of the part's size: nearer than this the foot is in the plane.
constexpr double footShare = 0.01;

constexpr double mm3InCm3 = 1000, gInKg = 1000;

Region thinned(const Region& region)
{
    Region out;
    for (const mesh::Loop& loop : region) {
        mesh::Loop kept;
        for (const Vec2 p : loop)
            if (kept.empty() || length(p - kept.back()) > thinnedMm)
                kept.push_back(p);
        if (kept.size() >= 3)
            out.push_back(std::move(kept));
    }
    return out;
}

/// Part of the way from distance a to distance b that lies between 0 and nearMm, nearer places counting more.
double nearness(double least, double most)
{
    const double from = std::max(0.0, least), to = std::min(nearMm, most);
    if (!(to > from))
        return least == most && least >= 0 && least <= nearMm ? 1 - least / nearMm : 0;
    return (to - from) / (most - least) * (1 - (from + to) / 2 / nearMm);
}

} // namespace

CutJudge::CutJudge(const Mesh& part, const std::vector<Bed>& beds, double marginMm, const JudgeOptions& options)
    : m_options(options), m_view(part, -options.load.gravity), m_surface(part)
{
    m_down = normalized(options.load.gravity);
    const mesh::Box3 box = mesh::bounds(part);
    m_middle = box.centre();
    m_radiusMm = length(box.extents()) / 2;
    m_foot = m_middle;
    for (const Vec3 p : part.points)
        if (dot(p, m_down) > dot(m_foot, m_down))
            m_foot = p;
    double most = 0;
    for (const Bed& bed : beds) {
        const BedRoom room = core::roomOf(bed, marginMm);
        const double w = room.widthMm, d = room.depthMm, h = room.heightMm;
        if (std::min({w, d, h}) <= 0 || w * d * h <= most)
            continue;
        most = w * d * h;
        m_sideMm2 = std::max({w * d, w * h, d * h});
        m_plateMm2 = w * d;
    }
    const MaterialStrength* strength = findStrength(options.material);
    if (strength == nullptr)
        strength = findStrength("PLA");
    m_allowedMpa = strength->tensileAcrossMpa / std::max(1.0, options.load.safetyLimit);
    m_weightNPerMm3 = strength->densityGPerCm3 / mm3InCm3 / gInKg * gravityMPerS2 * options.load.fillShare *
                      options.load.dynamicFactor;
    findMirrors(part);
}

CutTerms CutJudge::ofFace(const Mesh& cell, const Plane& plane, const Region& section) const
{
    CutTerms out;
    double outline = 0, feather = 0, seen = 0, thin = 0, waiting = 0;
    const double grain = m_view.grainMm();
    std::vector<double> height(cell.points.size());
    for (std::size_t i = 0; i < height.size(); ++i)
        height[i] = plane.distance(cell.points[i]);
    for (std::size_t t = 0; t < cell.triangles.size(); ++t) {
        const mesh::Triangle& at = cell.triangles[t];
        const double d[3] = {height[at[0]], height[at[1]], height[at[2]]};
        const double least = std::min({d[0], d[1], d[2]}), most = std::max({d[0], d[1], d[2]});
        if (least > nearMm || most < -nearMm)
            continue;
        const Vec3 a = cell.corner(t, 0), b = cell.corner(t, 1), c = cell.corner(t, 2);
        const Vec3 twice = cross(b - a, c - a);
        const double along = dot(twice, plane.normal), area = length(twice);
        if (!(area > 0))
            continue;
        const double flat = std::max(0.0, (std::abs(along) / area - featherCosine) / (1 - featherCosine));
        thin += flat * std::abs(along) / 2 * (along > 0 ? nearness(least, most) : nearness(-most, -least));
        if (!(least < 0 && most >= 0))
            continue;
        Vec3 ends[2];
        int found = 0;
        for (int k = 0; k < 3 && found < 2; ++k) {
            const double from = d[k], to = d[(k + 1) % 3];
            if ((from < 0) != (to < 0))
                ends[found++] =
                    cell.corner(t, k) + from / (from - to) * (cell.corner(t, (k + 1) % 3) - cell.corner(t, k));
        }
        const double s = length(ends[1] - ends[0]);
        if (!(s > 0))
            continue;
        outline += s;
        feather += s * flat;
        if (cell.label(t) != mesh::skinLabel)
            continue;
        const int steps = static_cast<int>(std::ceil(s / (2 * grain)));
        waiting += s;
        if (waiting < grain)
            continue;
        for (int i = 0; i < steps; ++i)
            seen += waiting / steps * m_view.seen(ends[0] + (i + 0.5) / steps * (ends[1] - ends[0]), twice / area);
        waiting = 0;
    }
    if (outline > 0)
        out.slivers = std::min(1.0, (feather + thin / nearMm) / outline);
    out.seams = seen / (4 * std::sqrt(m_sideMm2));
    const Region coarse = thinned(section);
    const Region axes = mesh::offset(coarse, -(roomDowelMm / 2 + m_options.joints.wallMm), coarseArcMm);
    out.slivers = std::min(1.0, out.slivers + narrowShare(coarse, axes));
    out.area = mesh::area(section) / m_sideMm2;
    out.strength = strengthOf(cell, plane, section);
    out.room = m_options.joints.wanted ? lackOfRoom(plane, coarse, axes) : 0;
    return out;
}

/// What a disk of a bore with its walls reaches: the places for axes grown by its radius (Steiner 1840; a little too
/// much where they are not convex).
double CutJudge::narrowShare(const Region& section, const Region& axes) const
{
    const double area = mesh::area(section), r = roomDowelMm / 2 + m_options.joints.wallMm;
    if (!(area > 0))
        return 0;
    double reached = mesh::area(axes);
    for (const mesh::Loop& loop : axes) {
        for (std::size_t i = 0; i < loop.size(); ++i)
            reached += r * length(loop[(i + 1) % loop.size()] - loop[i]);
        reached += (mesh::signedArea(loop) > 0 ? 1 : -1) * std::numbers::pi * r * r;
    }
    return std::clamp(1 - reached / area, 0.0, 1.0);
}

double CutJudge::strengthOf(const Mesh& cell, const Plane& plane, const Region& section) const
{
    const SectionProperties properties = sectionProperties(section);
    if (!(properties.areaMm2 > 0))
        return mostStrain;
    const CutSides sides = sidesOf(cell, plane);
    const double foot = plane.distance(m_foot);
    const bool aboveHangs =
        std::abs(foot) > footShare * m_radiusMm ? foot < 0 : sides.volumeAboveMm3 < sides.volumeBelowMm3;
    const double newtons = m_weightNPerMm3 * std::abs(aboveHangs ? sides.volumeAboveMm3 : sides.volumeBelowMm3);
    std::vector<PointLoad> loads{{aboveHangs ? sides.centroidAbove : sides.centroidBelow, newtons * m_down}};
    for (const ExtraForce& force : m_options.load.extra)
        if ((plane.distance(force.at) > 0) == aboveHangs)
            loads.push_back({force.at, force.forceN});
    const SectionForces forces = sectionForces(mesh::frameOf(plane), aboveHangs, properties.centroid, loads);
    const double stress =
        std::max({0.0, peakTension(section, properties, forces), peakPressure(section, properties, forces)});
    return std::min(mostStrain, std::sqrt(stress / m_allowedMpa));
}

double CutJudge::lackOfRoom(const Plane& plane, const Region& section, const Region& axes) const
{
    const auto outer = std::count_if(section.begin(), section.end(),
                                     [](const mesh::Loop& loop) { return mesh::signedArea(loop) > 0; });
    if (outer == 1)
        return 1 - roomOf(plane, section, axes);
    const double r = roomDowelMm / 2 + m_options.joints.wallMm;
    int islands = 0;
    double lack = 0;
    for (const Region& island : mesh::islands(section)) {
        ++islands;
        lack += 1 - roomOf(plane, island, mesh::offset(island, -r, coarseArcMm));
    }
    return islands > 0 ? lack / islands : 1;
}

/// How much of the room for two bores an island has, 0 to 1.
double CutJudge::roomOf(const Plane& plane, const Region& island, const Region& axes) const
{
    const double r = roomDowelMm / 2 + m_options.joints.wallMm, spread = spreadDiameters * roomDowelMm;
    if (axes.empty() || axes[0].empty()) // what there is of the width, for want of a bore's: half of the credit at most
        return 0.5 * std::min(1.0, largestCircleMm(island) / (2 * r));
    double best = 0;
    for (const Vec2 along : {Vec2{1, 0}, Vec2{0, 1}, Vec2{diagonal, diagonal}, Vec2{diagonal, -diagonal}}) {
        // The two places farthest apart that way, of what is left for the axes.
        Vec2 low = axes[0][0], high = low;
        for (const mesh::Loop& loop : axes)
            for (const Vec2 p : loop) {
                low = dot(p, along) < dot(low, along) ? p : low;
                high = dot(p, along) > dot(high, along) ? p : high;
            }
        const double wide = std::min(1.0, 0.5 + 0.5 * length(high - low) / spread);
        best = std::max(best, std::min(wide, depthAt(plane, low, high)));
        // Drawn in, where they are far enough apart: skin that slants is deeper there.
        for (const double share : drawnIn) {
            const Vec2 in = (1 - share) / 2 * (high - low);
            if (best < 1 && share * length(high - low) >= spread && contains(axes, low + in) &&
                contains(axes, high - in))
                best = std::max(best, depthAt(plane, low + in, high - in));
        }
        if (best >= 1)
            break;
    }
    return best;
}

/// How deep the material is at two places on both sides of a plane, over what a bore with its wall wants; no more than
/// 1.
double CutJudge::depthAt(const Plane& plane, Vec2 a, Vec2 b) const
{
    const mesh::PlaneFrame frame = mesh::frameOf(plane);
    const double deep = depthDiameters * roomDowelMm + m_options.joints.wallMm;
    double least = 1;
    for (const Vec2 p : {a, b})
        for (const double side : {-1.0, 1.0})
            if (const auto reach =
                    m_surface.firstHit(frame.space(p), side * plane.normal, mesh::tolerance::floatRelative))
                least = std::min(least, *reach / deep);
    return least;
}

} // namespace quoin::core
