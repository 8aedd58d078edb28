// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/section_forces.h"

#include <algorithm>
#include <numbers>

namespace quoin::core {

using mesh::Vec2;

namespace {

/// Integrals of 1, x, y, y2, x2, xy.
struct Moments {
    double a = 0, x = 0, y = 0, yy = 0, xx = 0, xy = 0;
};

/// Over a region, coordinates less an origin that lies near: far from it the second moments would drown in A d2.
Moments momentsOf(const mesh::Region& region, Vec2 origin)
{
    Moments m;
    for (const mesh::Loop& loop : region)
        for (std::size_t i = 0; i < loop.size(); ++i) {
            const Vec2 p = loop[i] - origin, q = loop[(i + 1) % loop.size()] - origin;
            const double k = cross(p, q);
            m.a += k / 2;
            m.x += (p.x + q.x) * k / 6;
            m.y += (p.y + q.y) * k / 6;
            m.yy += (p.y * p.y + p.y * q.y + q.y * q.y) * k / 12;
            m.xx += (p.x * p.x + p.x * q.x + q.x * q.x) * k / 12;
            m.xy += (p.x * q.y + 2 * p.x * p.y + 2 * q.x * q.y + q.x * p.y) * k / 24;
        }
    return m;
}

void setPrincipal(SectionProperties& s)
{
    const double mean = (s.iuMm4 + s.ivMm4) / 2, half = (s.iuMm4 - s.ivMm4) / 2;
    const double radius = std::hypot(half, s.iuvMm4);
    s.principalMaxMm4 = mean + radius;
    s.principalMinMm4 = mean - radius;
    s.principalAngle = std::atan2(-s.iuvMm4, half) / 2;
}

/// Squares of this many along the longer side are tried for the largest circle, then halved this often about the best.
constexpr int circleGrid = 24, circleRefinements = 8;

} // namespace

double SectionProperties::aboutMm4(double angle) const
{
    const double c = std::cos(angle), s = std::sin(angle);
    return iuMm4 * c * c + ivMm4 * s * s - 2 * iuvMm4 * s * c;
}

SectionProperties sectionProperties(const mesh::Region& region)
{
    SectionProperties s;
    const auto first = std::find_if(region.begin(), region.end(), [](const mesh::Loop& l) { return !l.empty(); });
    if (first == region.end())
        return s;
    const Vec2 near = first->front();
    const Moments rough = momentsOf(region, near);
    if (!(rough.a > 0))
        return s;
    s.areaMm2 = rough.a;
    s.centroid = near + Vec2{rough.x / rough.a, rough.y / rough.a};
    const Moments m = momentsOf(region, s.centroid);
    s.iuMm4 = m.yy;
    s.ivMm4 = m.xx;
    s.iuvMm4 = m.xy;
    setPrincipal(s);
    return s;
}

double sectionModulusMm3(const mesh::Region& region, const SectionProperties& section, double angle)
{
    const Vec2 across{-std::sin(angle), std::cos(angle)};
    double farthest = 0;
    for (const mesh::Loop& loop : region)
        for (const Vec2 p : loop)
            farthest = std::max(farthest, std::abs(dot(across, p - section.centroid)));
    return farthest > 0 ? section.aboutMm4(angle) / farthest : 0;
}

double largestCircleMm(const mesh::Region& region)
{
    mesh::Box3 box;
    for (const mesh::Loop& loop : region)
        for (const Vec2 p : loop)
            box.add({p.x, p.y, 0});
    if (box.empty())
        return 0;
    const mesh::Vec3 size = box.extents();
    double step = std::max(size.x, size.y) / circleGrid, best = 0;
    Vec2 where{box.centre().x, box.centre().y};
    const auto attempt = [&](Vec2 p) {
        const double radius = contains(region, p) ? distanceToOutline(region, p) : 0;
        if (radius > best) {
            best = radius;
            where = p;
        }
    };
    // A thin strip may slip between the points of the grid: each direction gets its own step.
    const double stepX = size.x / circleGrid, stepY = size.y / circleGrid;
    for (int i = 0; i <= circleGrid; ++i)
        for (int j = 0; j <= circleGrid; ++j)
            attempt({box.min.x + i * stepX, box.min.y + j * stepY});
    for (int k = 0; k < circleRefinements; ++k, step /= 2) {
        const Vec2 middle = where;
        for (int i = -2; i <= 2; ++i)
            for (int j = -2; j <= 2; ++j)
                attempt(middle + Vec2{i * step / 2, j * step / 2});
    }
    return 2 * best;
}

double torsionModulusMm3(const mesh::Region& region, const SectionProperties& section)
{
    const double circle = largestCircleMm(region);
    if (!(circle > 0) || !(section.polarMm4() > 0))
        return 0;
    return std::pow(section.areaMm2, 4) / (40 * section.polarMm4()) / circle;
}

SectionForces SectionForces::movedTo(Vec2 point) const
{
    // The moment about a new point is that about the old one plus (old - new) x force.
    const Vec2 arm = about - point;
    SectionForces moved = *this;
    moved.about = point;
    moved.bendingNmm = bendingNmm + Vec2{arm.y * axialN, -arm.x * axialN};
    moved.torsionNmm = torsionNmm + cross(arm, shearN);
    return moved;
}

SectionForces sectionForces(const mesh::PlaneFrame& frame, bool loadedAbove, Vec2 about,
                            const std::vector<PointLoad>& loads)
{
    const mesh::Vec3 centre = frame.space(about);
    mesh::Vec3 force{0, 0, 0}, moment{0, 0, 0};
    for (const PointLoad& load : loads) {
        force = force + load.forceN;
        moment = moment + cross(load.at - centre, load.forceN);
    }
    // Below the plane the face looks the other way: what pulls is a force against the normal, and a moment opens the
    // other edge. Shear and torsion stay as the loaded side exerts them.
    const double side = loadedAbove ? 1 : -1;
    SectionForces f;
    f.about = about;
    f.axialN = side * dot(force, frame.normal);
    f.shearN = {dot(force, frame.u), dot(force, frame.v)};
    f.bendingNmm = {side * dot(moment, frame.u), side * dot(moment, frame.v)};
    f.torsionNmm = dot(moment, frame.normal);
    return f;
}

double stressAt(const SectionProperties& section, const SectionForces& forces, Vec2 point)
{
    if (!(section.areaMm2 > 0))
        return 0;
    // Stress N/A + a x + b y in balance with the moments: Mu = a Iuv + b Iu, Mv = -(a Iv + b Iuv).
    const double det = section.iuMm4 * section.ivMm4 - section.iuvMm4 * section.iuvMm4;
    const Vec2 m = forces.bendingNmm, d = point - section.centroid;
    const double a = (-m.y * section.iuMm4 - m.x * section.iuvMm4) / det;
    const double b = (m.x * section.ivMm4 + m.y * section.iuvMm4) / det;
    return forces.axialN / section.areaMm2 + a * d.x + b * d.y;
}

double peakTension(const mesh::Region& region, const SectionProperties& section, const SectionForces& forces)
{
    double peak = -1e300;
    for (const mesh::Loop& loop : region)
        for (const Vec2 p : loop)
            peak = std::max(peak, stressAt(section, forces, p));
    return peak;
}

double peakPressure(const mesh::Region& region, const SectionProperties& section, const SectionForces& forces)
{
    SectionForces turned = forces;
    turned.axialN = -forces.axialN;
    turned.bendingNmm = -1.0 * forces.bendingNmm;
    return peakTension(region, section, turned);
}

} // namespace quoin::core
