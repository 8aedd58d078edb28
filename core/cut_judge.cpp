// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/cut_judge.h"

#include "core/bed_room.h"
#include "core/grid_frame.h"
#include "core/hanging.h"
#include "core/material_strength.h"
#include "core/section_forces.h"
#include "core/section_score.h"
#include "mesh/mass.h"
#include "mesh/region.h"

#include <algorithm>
#include <cmath>

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
constexpr double coarseArcMm = 0.2;
/// Outlines are thinned to points this far apart before they are shrunk, mm: nothing is made from them.
constexpr double thinnedMm = 0.2;

constexpr double mostStrain = 2;
constexpr double steepestCosine = 0.70710678; ///< 45 degrees: overhangs up to here print without support
constexpr double onPlateMm = 0.05, flatShare = 0.01, unsteady = 0.5;

/// Of the part's size: how far a mirror image may be off; and places of the surface looked at.
constexpr double mirrorShare = 0.01;
constexpr std::size_t mirrorSamples = 400;

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
        const BedRoom room = roomOf(bed, marginMm);
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
    out.slivers = std::min(1.0, out.slivers + narrowShare(coarse));
    out.area = mesh::area(section) / m_sideMm2;
    out.strength = strengthOf(cell, plane, section);
    out.room = m_options.joints.wanted ? lackOfRoom(plane, coarse) : 0;
    return out;
}

double CutJudge::narrowShare(const Region& section) const
{
    const double area = mesh::area(section), r = roomDowelMm / 2 + m_options.joints.wallMm;
    if (!(area > 0))
        return 0;
    const Region opened = mesh::offset(mesh::offset(section, -r, coarseArcMm), r, coarseArcMm);
    return std::clamp(1 - mesh::area(opened) / area, 0.0, 1.0);
}

double CutJudge::strengthOf(const Mesh& cell, const Plane& plane, const Region& section) const
{
    const SectionProperties properties = sectionProperties(section);
    if (!(properties.areaMm2 > 0))
        return mostStrain;
    const CutSides sides = sidesOf(cell, plane);
    const double foot = plane.distance(m_foot);
    const bool aboveHangs =
        std::abs(foot) > mirrorShare * m_radiusMm ? foot < 0 : sides.volumeAboveMm3 < sides.volumeBelowMm3;
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

double CutJudge::lackOfRoom(const Plane& plane, const Region& section) const
{
    const mesh::PlaneFrame frame = mesh::frameOf(plane);
    const double r = roomDowelMm / 2 + m_options.joints.wallMm, spread = spreadDiameters * roomDowelMm;
    const double deep = depthDiameters * roomDowelMm + m_options.joints.wallMm;
    int islands = 0;
    double lack = 0;
    for (const Region& island : mesh::islands(section)) {
        ++islands;
        const Region axes = mesh::offset(island, -r, coarseArcMm);
        if (axes.empty()) {
            // What there is of the width, for want of a bore's: half of the credit at most.
            lack += 1 - 0.5 * std::min(1.0, largestCircleMm(island) / (2 * r));
            continue;
        }
        // The two places farthest apart along the wider side of what is left for the axes.
        mesh::Box3 box;
        for (const mesh::Loop& loop : axes)
            for (const Vec2 p : loop)
                box.add({p.x, p.y, 0});
        const Vec3 size = box.extents();
        const Vec2 along = size.x >= size.y ? Vec2{1, 0} : Vec2{0, 1};
        Vec2 low = axes[0][0], high = low;
        for (const mesh::Loop& loop : axes)
            for (const Vec2 p : loop) {
                low = dot(p, along) < dot(low, along) ? p : low;
                high = dot(p, along) > dot(high, along) ? p : high;
            }
        double had = std::min(1.0, 0.5 + 0.5 * length(high - low) / spread);
        for (const Vec2 p : {low, high})
            for (const double side : {-1.0, 1.0}) {
                const auto reach =
                    m_surface.firstHit(frame.space(p), side * plane.normal, mesh::tolerance::floatRelative);
                had = std::min(had, reach ? *reach / deep : 1.0);
            }
        lack += 1 - std::min(1.0, had);
    }
    return islands > 0 ? lack / islands : 1;
}

CutSides CutJudge::sidesOf(const Mesh& cell, const Plane& plane)
{
    CutSides out;
    if (cell.empty())
        return out;
    // About a point of the plane near the cell the cut face adds nothing, and little is lost to rounding.
    const Vec3 middle = mesh::bounds(cell).centre(), origin = middle - plane.distance(middle) * plane.normal;
    const auto add = [](double& volume, Vec3& moment, Vec3 a, Vec3 b, Vec3 c) {
        const double v = dot(a, cross(b, c)) / 6;
        volume += v;
        moment = moment + v / 4 * (a + b + c);
    };
    for (std::size_t t = 0; t < cell.triangles.size(); ++t) {
        Vec3 p[3];
        double d[3];
        for (int k = 0; k < 3; ++k) {
            p[k] = cell.corner(t, k) - origin;
            d[k] = dot(p[k], plane.normal);
        }
        const int above = (d[0] >= 0) + (d[1] >= 0) + (d[2] >= 0);
        if (above == 3) {
            add(out.volumeAboveMm3, out.centroidAbove, p[0], p[1], p[2]);
            continue;
        }
        if (above == 0) {
            add(out.volumeBelowMm3, out.centroidBelow, p[0], p[1], p[2]);
            continue;
        }
        // The corner that is alone on its side.
        int alone = 0;
        while ((d[alone] >= 0) != (above == 1))
            ++alone;
        const Vec3 a = p[alone], b = p[(alone + 1) % 3], c = p[(alone + 2) % 3];
        const double da = d[alone], db = d[(alone + 1) % 3], dc = d[(alone + 2) % 3];
        const Vec3 ab = a + da / (da - db) * (b - a), ac = a + da / (da - dc) * (c - a);
        double& tipVolume = above == 1 ? out.volumeAboveMm3 : out.volumeBelowMm3;
        Vec3& tipMoment = above == 1 ? out.centroidAbove : out.centroidBelow;
        double& restVolume = above == 1 ? out.volumeBelowMm3 : out.volumeAboveMm3;
        Vec3& restMoment = above == 1 ? out.centroidBelow : out.centroidAbove;
        add(tipVolume, tipMoment, a, ab, ac);
        add(restVolume, restMoment, ab, b, c);
        add(restVolume, restMoment, ab, c, ac);
    }
    for (const auto& [volume, moment] : {std::pair<double*, Vec3*>{&out.volumeAboveMm3, &out.centroidAbove},
                                         {&out.volumeBelowMm3, &out.centroidBelow}})
        *moment = *volume != 0 ? origin + *moment / *volume : origin;
    return out;
}

double CutJudge::support(const Mesh& leaf, Vec3 down) const
{
    double lowest = -1e300, onPlate = 0, shadow = 0, wanting = 0;
    for (const Vec3 p : leaf.points)
        lowest = std::max(lowest, dot(p, down));
    for (std::size_t t = 0; t < leaf.triangles.size(); ++t) {
        const Vec3 a = leaf.corner(t, 0), b = leaf.corner(t, 1), c = leaf.corner(t, 2);
        const Vec3 twice = cross(b - a, c - a);
        const double faces = dot(twice, down) / 2;
        if (!(faces > 0))
            continue;
        shadow += faces;
        if (std::min({dot(a, down), dot(b, down), dot(c, down)}) > lowest - onPlateMm)
            onPlate += faces;
        else if (2 * faces > steepestCosine * length(twice))
            wanting += faces;
    }
    return wanting / m_plateMm2 + (onPlate < flatShare * shadow ? unsteady : 0);
}

double CutJudge::leastSupport(const Mesh& leaf, const std::vector<Vec3>& downs) const
{
    double least = downs.empty() ? support(leaf, m_down) : 1e300;
    for (const Vec3 down : downs)
        least = std::min(least, support(leaf, down));
    return least;
}

double CutJudge::balance(double volumeMm3, double totalMm3, int pieces)
{
    return totalMm3 > 0 && pieces > 0 ? std::abs(volumeMm3 - totalMm3 / pieces) / (2 * totalMm3) : 0;
}

double CutJudge::symmetry(const Plane& plane, const std::vector<Plane>& all) const
{
    if (m_mirrors.empty())
        return 0;
    const auto apart = [&](const Plane& a, Plane b) {
        if (dot(a.normal, b.normal) < 0)
            b = {-b.normal, -b.offset};
        return std::abs(a.distance(m_middle) - b.distance(m_middle)) + m_radiusMm * length(a.normal - b.normal);
    };
    double least = 1;
    for (const Plane& mirror : m_mirrors) {
        const Vec3 n = plane.normal - 2 * dot(plane.normal, mirror.normal) * mirror.normal;
        const Plane image{n, plane.offset - 2 * mirror.offset * dot(plane.normal, mirror.normal)};
        for (const Plane& other : all)
            least = std::min(least, apart(image, other) / std::sqrt(m_sideMm2));
    }
    return least;
}

bool CutJudge::mirrors(const Plane& plane, const Mesh& part) const
{
    const std::size_t step = std::max<std::size_t>(1, part.points.size() / mirrorSamples);
    for (std::size_t i = 0; i < part.points.size(); i += step) {
        const Vec3 p = part.points[i];
        if (!(m_surface.distance(p - 2 * plane.distance(p) * plane.normal) < 2 * mirrorShare * m_radiusMm))
            return false;
    }
    return true;
}

void CutJudge::findMirrors(const Mesh& part)
{
    if (part.empty())
        return;
    const mesh::MassProperties mass = mesh::massProperties(part);
    for (const GridFrame& frame : gridFrames(PieceShape(part), mass))
        for (const Vec3 axis : frame.axes) {
            const Plane plane = mesh::planeThrough(mass.centroid, axis);
            const auto same = [&](const Plane& m) { return std::abs(dot(m.normal, plane.normal)) > 1 - 1e-6; };
            if (std::none_of(m_mirrors.begin(), m_mirrors.end(), same) && mirrors(plane, part))
                m_mirrors.push_back(plane);
        }
}

} // namespace quoin::core
