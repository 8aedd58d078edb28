// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
// What a cut leaves on either side, and the mirrors of the whole.
#include "core/cut_judge.h"
#include "core/grid_frame.h"
#include "mesh/mass.h"

#include <algorithm>
#include <cmath>

namespace quoin::core {

using mesh::Mesh;
using mesh::Plane;
using mesh::Vec3;

namespace {

constexpr double steepestCosine = 0.70710678; ///< 45 degrees: overhangs up to here print without support
constexpr double onPlateMm = 0.05, flatShare = 0.01, unsteady = 0.5;

/// Of the part's size: how far a mirror image may be off; and places of the surface looked at.
constexpr double mirrorShare = 0.01;
constexpr std::size_t mirrorSamples = 400;

} // namespace

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
