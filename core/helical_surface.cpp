// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/helical_surface.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace quoin::core {

namespace {

using mesh::Index;
using mesh::Vec2;
using mesh::Vec3;
using std::numbers::pi;

/// Rounding: radii of profile and envelope that differ by less than this (mm) are equal.
constexpr double sameRadiusMm = 1e-10;

/// A crease as a line over the angle: its height at some angle and its climb, mm a radian.
struct Crease {
    double heightMm;
    double climbMm;
};

/// The piece of the envelope that z lies on.
std::size_t envelopePiece(const std::vector<Vec2>& envelope, double z)
{
    const auto after = std::partition_point(envelope.begin(), envelope.end(), [&](Vec2 p) { return p.x <= z; });
    const auto piece = after - envelope.begin() - 1;
    return static_cast<std::size_t>(std::clamp<std::ptrdiff_t>(piece, 0, std::ssize(envelope) - 2));
}

/// All corners of profile and envelope met along z at one angle, ascending, with the climb of their lines.
std::vector<Crease> corners(const HelicalSurface& surface, double theta)
{
    const double low = surface.envelope.front().x, high = surface.envelope.back().x;
    const double pitch = surface.profile.pitchMm;
    std::vector<Crease> all;
    for (const Vec2 p : surface.envelope)
        all.push_back({p.x, 0});
    for (const Vec2 p : surface.profile.points) {
        const double z = p.x + surface.rateMm * (theta - surface.phase);
        for (double at = z + pitch * std::ceil((low - z) / pitch); at < high; at += pitch)
            all.push_back({at, surface.rateMm});
    }
    std::stable_sort(all.begin(), all.end(), [](Crease a, Crease b) { return a.heightMm < b.heightMm; });
    return all;
}

/// How far the profile is from deciding the radius at (theta, z): positive where the envelope does.
double envelopeRules(const HelicalSurface& surface, double theta, double z)
{
    const double p = surface.profile.radiusAt(z - surface.rateMm * (theta - surface.phase));
    return surface.smaller ? p - surface.envelopeAt(z) : surface.envelopeAt(z) - p;
}

/// Where profile and envelope cross between two corners, which have none between them.
Crease crossing(const HelicalSurface& surface, double theta, double low, double high, double atLow, double atHigh)
{
    const double middle = (low + high) / 2;
    const double b = surface.profile.slopeAt(middle - surface.rateMm * (theta - surface.phase));
    const std::size_t i = envelopePiece(surface.envelope, middle);
    const Vec2 from = surface.envelope[i], to = surface.envelope[i + 1];
    const double e = (to.y - from.y) / (to.x - from.x);
    return {low + (high - low) * atLow / (atLow - atHigh), surface.rateMm * b / (b - e)};
}

/// The creases that are there at one angle, ascending, with both ends of the surface.
std::vector<Crease> creases(const HelicalSurface& surface, double theta)
{
    const std::vector<Crease> all = corners(surface, theta);
    std::vector<Crease> there;
    double before = 0;
    for (std::size_t i = 0; i < all.size(); ++i) {
        const double rules = envelopeRules(surface, theta, all[i].heightMm);
        if (i > 0 && std::min(before, rules) < -sameRadiusMm && std::max(before, rules) > sameRadiusMm)
            there.push_back(crossing(surface, theta, all[i - 1].heightMm, all[i].heightMm, before, rules));
        const bool ofProfile = all[i].climbMm != 0;
        const bool end = i == 0 || i + 1 == all.size();
        if (end || (ofProfile ? rules <= sameRadiusMm : rules >= -sameRadiusMm))
            there.push_back(all[i]);
        before = rules;
    }
    return there;
}

/// Angles where creases meet: a corner of the profile comes to where the envelope has its radius.
std::vector<double> meetings(const HelicalSurface& surface)
{
    std::vector<double> angles;
    for (const Vec2 corner : surface.profile.points)
        for (std::size_t i = 0; i + 1 < surface.envelope.size(); ++i) {
            const Vec2 a = surface.envelope[i], b = surface.envelope[i + 1];
            if ((a.y < corner.y) == (b.y < corner.y))
                continue;
            const double z = a.x + (b.x - a.x) * (corner.y - a.y) / (b.y - a.y);
            for (int start = 0; start < surface.starts; ++start) {
                const double angle = surface.phase + (z - corner.x - start * surface.profile.pitchMm) / surface.rateMm;
                angles.push_back(angle - 2 * pi * std::floor(angle / (2 * pi)));
            }
        }
    std::sort(angles.begin(), angles.end());
    return angles;
}

/// Angles of the columns, ascending within one turn: the meetings (those closer than `merge` are one) and steps.
std::vector<double> columnAngles(const HelicalSurface& surface, double step, double merge)
{
    std::vector<double> kept;
    for (const double angle : meetings(surface))
        if (kept.empty() || (angle - kept.back() > merge && kept.front() + 2 * pi - angle > merge))
            kept.push_back(angle);
    if (kept.empty())
        kept.push_back(0);
    std::vector<double> columns;
    for (std::size_t i = 0; i < kept.size(); ++i) {
        const double gap = (i + 1 < kept.size() ? kept[i + 1] : kept.front() + 2 * pi) - kept[i];
        const int pieces = std::max(1, static_cast<int>(std::ceil(gap / step)));
        for (int k = 0; k < pieces; ++k)
            columns.push_back(kept[i] + gap * k / pieces);
    }
    return columns;
}

/// The points of one column: heights that creases have there, those within `merge` of each other made one.
class Column {
public:
    void add(double height) { m_heights.push_back(height); }
    void settle(double merge)
    {
        std::sort(m_heights.begin(), m_heights.end());
        for (const double h : m_heights)
            if (m_from.empty() || h - m_from.back() > merge)
                m_from.push_back(h);
        // The last point must be the end of the surface itself.
        const double end = m_heights.back();
        m_heights = m_from;
        m_heights.back() = end;
    }
    const std::vector<double>& heights() const { return m_heights; }
    std::size_t pointAt(double height) const
    {
        const auto after = std::upper_bound(m_from.begin(), m_from.end(), height);
        return static_cast<std::size_t>(std::max<std::ptrdiff_t>(after - m_from.begin() - 1, 0));
    }
    std::vector<Index> index; ///< in the mesh, one a point

private:
    std::vector<double> m_heights, m_from;
};

/// A crease within the gap between two columns.
struct Rung {
    double left, right;
};

/// Creases of a gap as heights on its two columns, each not below the one before it.
std::vector<Rung> rungs(const HelicalSurface& surface, double left, double right)
{
    const double middle = (left + right) / 2, half = (right - left) / 2;
    const double low = surface.envelope.front().x, high = surface.envelope.back().x;
    std::vector<Rung> all;
    Rung before{low, low};
    for (const Crease& c : creases(surface, middle)) {
        before = {std::clamp(c.heightMm - half * c.climbMm, before.left, high),
                  std::clamp(c.heightMm + half * c.climbMm, before.right, high)};
        all.push_back(before);
    }
    return all;
}

void addPoints(mesh::Mesh& mesh, std::vector<Column>& columns, const std::vector<double>& angles,
               const HelicalSurface& surface)
{
    const std::size_t n = columns.size();
    mesh.points.resize(2 * n);
    for (std::size_t c = 0; c < n; ++c) {
        const std::vector<double>& heights = columns[c].heights();
        for (std::size_t k = 0; k < heights.size(); ++k) {
            const double r = surface.radiusAt(angles[c], heights[k]);
            const Vec3 point{r * std::cos(angles[c]), r * std::sin(angles[c]), heights[k]};
            const bool rim = k == 0 || k + 1 == heights.size();
            const std::size_t at = rim ? (k == 0 ? c : n + c) : mesh.points.size();
            if (rim)
                mesh.points[at] = point;
            else
                mesh.points.push_back(point);
            columns[c].index.push_back(static_cast<Index>(at));
        }
    }
}

/// Fills between two creases, point by point up both columns, along the shorter diagonal each time.
void zip(mesh::Mesh& mesh, const Column& left, const Column& right, std::size_t i, std::size_t iEnd, std::size_t j,
         std::size_t jEnd)
{
    const auto apart = [&](Index a, Index b) { return mesh::length(mesh.points[a] - mesh.points[b]); };
    while (i < iEnd || j < jEnd) {
        const bool upLeft = j == jEnd || (i < iEnd && apart(left.index[i + 1], right.index[j]) <=
                                                          apart(left.index[i], right.index[j + 1]));
        mesh.triangles.push_back({left.index[i], right.index[j], upLeft ? left.index[i + 1] : right.index[j + 1]});
        ++(upLeft ? i : j);
    }
}

} // namespace

double HelicalSurface::envelopeAt(double z) const
{
    const std::size_t i = envelopePiece(envelope, z);
    const Vec2 a = envelope[i], b = envelope[i + 1];
    if (z >= b.x)
        return b.y;
    return a.y + (b.y - a.y) * (z - a.x) / (b.x - a.x);
}

double HelicalSurface::radiusAt(double theta, double z) const
{
    const double p = profile.radiusAt(z - rateMm * (theta - phase));
    return smaller ? std::min(p, envelopeAt(z)) : std::max(p, envelopeAt(z));
}

HelicalMesh meshed(const HelicalSurface& surface, double stepRadians, double mergeMm)
{
    const std::vector<double> angles = columnAngles(surface, stepRadians, mergeMm / surface.profile.largestMm);
    const std::size_t n = angles.size();
    std::vector<Column> columns(n);
    std::vector<std::vector<Rung>> gaps;
    for (std::size_t c = 0; c < n; ++c) {
        gaps.push_back(rungs(surface, angles[c], c + 1 < n ? angles[c + 1] : angles[0] + 2 * pi));
        for (const Rung& rung : gaps.back()) {
            columns[c].add(rung.left);
            columns[(c + 1) % n].add(rung.right);
        }
    }
    for (Column& column : columns)
        column.settle(mergeMm);
    HelicalMesh made;
    made.rim = n;
    addPoints(made.mesh, columns, angles, surface);
    for (std::size_t c = 0; c < n; ++c) {
        const Column &left = columns[c], &right = columns[(c + 1) % n];
        for (std::size_t g = 0; g + 1 < gaps[c].size(); ++g) {
            const Rung low = gaps[c][g], high = gaps[c][g + 1];
            zip(made.mesh, left, right, left.pointAt(low.left), left.pointAt(high.left), right.pointAt(low.right),
                right.pointAt(high.right));
        }
    }
    return made;
}

HelicalMesh mirrored(HelicalMesh made)
{
    for (Vec3& p : made.mesh.points)
        p.y = -p.y;
    // The rims run the other way round now: point i becomes n - 1 - i.
    const auto n = static_cast<std::ptrdiff_t>(made.rim);
    std::reverse(made.mesh.points.begin(), made.mesh.points.begin() + n);
    std::reverse(made.mesh.points.begin() + n, made.mesh.points.begin() + 2 * n);
    const auto renamed = [&](Index v) {
        const auto rim = static_cast<Index>(made.rim);
        return v < rim ? rim - 1 - v : v < 2 * rim ? 3 * rim - 1 - v : v;
    };
    for (mesh::Triangle& t : made.mesh.triangles)
        t = {renamed(t[0]), renamed(t[2]), renamed(t[1])};
    return made;
}

void turnOver(mesh::Mesh& mesh)
{
    for (mesh::Triangle& t : mesh.triangles)
        std::swap(t[1], t[2]);
}

} // namespace quoin::core
