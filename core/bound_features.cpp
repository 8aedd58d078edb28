// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/bound_features.h"

#include "core/flat_areas.h"
#include "core/grid_frame.h"
#include "core/parallel.h"
#include "mesh/mass.h"
#include "mesh/plane_cut.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace quoin::core {

using mesh::Plane;
using mesh::Region;
using mesh::Vec2;
using mesh::Vec3;

namespace {

constexpr std::size_t mostFlats = 3;
constexpr double flatLeastShare = 0.02;
/// Flat faces of so large a share are found among every few triangles as well; this many are looked at.
constexpr std::size_t trianglesLookedAt = 100'000;
/// How far under a flat face it is cut, as a share of the body's size: faces are flat within half of this.
constexpr double underShare = 2e-4;

/// Ends of lines tried in a section: the farthest points in this many directions, joined pairwise, drawn in a little so
/// that the line doesn't run along the outline.
constexpr int directions = 16;
constexpr double drawnIn = 1e-3;

/// Places looked at, at most: pairs of them are taken with every third one.
constexpr double roundPlaces = 400;

/// Length of a line within a region: crossings counted by the half-open rule, so that a corner counts once.
double lengthWithin(const Region& region, Vec2 a, Vec2 b)
{
    const double l = length(b - a);
    if (!(l > 0))
        return 0;
    const Vec2 along = (1 / l) * (b - a);
    std::vector<double> at;
    for (const mesh::Loop& loop : region)
        for (std::size_t i = 0; i < loop.size(); ++i) {
            const Vec2 p = loop[i] - a, q = loop[(i + 1) % loop.size()] - a;
            const double hp = cross(along, p), hq = cross(along, q);
            if ((hp < 0) != (hq < 0))
                at.push_back(dot(along, p + (hp / (hp - hq)) * (q - p)));
        }
    std::sort(at.begin(), at.end());
    double sum = 0;
    for (std::size_t i = 0; i + 1 < at.size(); i += 2)
        sum += at[i + 1] - at[i];
    return sum;
}

/// The farthest points of a region in directions all round.
std::vector<Vec2> extremes(const Region& region)
{
    std::vector<Vec2> out;
    for (int i = 0; i < directions; ++i) {
        const double a = 2 * std::numbers::pi * i / directions;
        const Vec2 d{std::cos(a), std::sin(a)};
        const Vec2* best = nullptr;
        for (const mesh::Loop& loop : region)
            for (const Vec2& p : loop)
                if (best == nullptr || dot(p, d) > dot(*best, d))
                    best = &p;
        if (best != nullptr && std::find(out.begin(), out.end(), *best) == out.end())
            out.push_back(*best);
    }
    return out;
}

/// The convex hull of all points, counter-clockwise (Andrew 1979).
std::vector<Vec2> hullOf(const Region& region)
{
    std::vector<Vec2> points;
    for (const mesh::Loop& loop : region)
        points.insert(points.end(), loop.begin(), loop.end());
    std::sort(points.begin(), points.end(), [](Vec2 a, Vec2 b) { return a.x < b.x || (a.x == b.x && a.y < b.y); });
    if (points.size() < 3)
        return points;
    std::vector<Vec2> hull(2 * points.size());
    std::size_t n = 0;
    const auto add = [&](Vec2 p, std::size_t least) {
        while (n >= least && cross(hull[n - 1] - hull[n - 2], p - hull[n - 1]) <= 0)
            --n;
        hull[n++] = p;
    };
    for (const Vec2 p : points)
        add(p, 2);
    const std::size_t half = n + 1;
    for (std::size_t i = points.size() - 1; i-- > 0;)
        add(points[i], half);
    hull.resize(n - 1);
    return hull;
}

/// Corners of a hull, thinned where they stand closely.
std::vector<Vec2> thinned(const std::vector<Vec2>& hull)
{
    double around = 0;
    for (std::size_t i = 0; i < hull.size(); ++i)
        around += length(hull[(i + 1) % hull.size()] - hull[i]);
    std::vector<Vec2> out;
    double since = around;
    for (std::size_t i = 0; i < hull.size(); ++i) {
        if (i > 0)
            since += length(hull[i] - hull[i - 1]);
        if (since >= around / roundPlaces) {
            out.push_back(hull[i]);
            since = 0;
        }
    }
    return out;
}

/// Evenly spread triangles of a large mesh.
mesh::Mesh someOf(const mesh::Mesh& body)
{
    mesh::Mesh some;
    some.points = body.points;
    const std::size_t step = body.triangles.size() / trianglesLookedAt;
    for (std::size_t t = 0; t < body.triangles.size(); t += step)
        some.triangles.push_back(body.triangles[t]);
    return some;
}

} // namespace

std::vector<Region> tellingSections(const mesh::Mesh& body)
{
    std::vector<Plane> planes;
    const mesh::MassProperties mass = mesh::massProperties(body);
    for (const Vec3 axis : principalAxes(mass))
        planes.push_back(mesh::planeThrough(mass.centroid, axis));
    const double under = underShare * length(mesh::bounds(body).extents());
    const bool large = body.triangles.size() > 2 * trianglesLookedAt;
    for (const FlatArea& flat : flatAreas(large ? someOf(body) : body, flatLeastShare, mostFlats))
        planes.push_back({flat.plane.normal, flat.plane.offset - under});
    std::vector<Region> sections(planes.size());
    forEachIndex(planes.size(), [&](std::size_t i) {
        if (auto section = mesh::sectionByPlane(body, planes[i]))
            sections[i] = std::move(*section);
    });
    return sections;
}

double longestWithin(const Region& section)
{
    const std::vector<Vec2> ends = extremes(section);
    double most = 0;
    const auto attempt = [&](Vec2 a, Vec2 b) {
        if (length(b - a) > most)
            most = std::max(most, lengthWithin(section, a, b));
    };
    Vec2 middle{0, 0};
    for (const Vec2 p : ends)
        middle = middle + (1.0 / static_cast<double>(ends.size())) * p;
    const auto inward = [&](Vec2 p) { return p + drawnIn * (middle - p); };
    for (std::size_t i = 0; i < ends.size(); ++i)
        for (std::size_t k = 0; k < i; ++k)
            attempt(inward(ends[i]), inward(ends[k]));
    // Through the middle, along and across the longest way between ends.
    for (std::size_t i = 0; i < ends.size(); ++i)
        for (std::size_t k = 0; k < i; ++k) {
            const double half = length(ends[i] - ends[k]);
            if (half > most)
                most = std::max(most, lengthWithin(section, middle, middle + (ends[i] - ends[k])));
        }
    return most;
}

double hullAreaMm2(const Region& section)
{
    const std::vector<Vec2> hull = hullOf(section);
    return hull.size() < 3 ? 0 : std::abs(mesh::signedArea(hull));
}

double mostOfTheWayRound(const Region& section, double apartMm)
{
    const std::vector<Vec2> places = thinned(hullOf(section));
    const std::size_t n = places.size();
    if (n < 2)
        return 1;
    // Squares of distances, once; and the way that each place stands for.
    std::vector<double> square(n * n), way(n);
    double around = 0;
    for (std::size_t i = 0; i < n; ++i) {
        for (std::size_t k = 0; k < n; ++k)
            square[i * n + k] = dot(places[i] - places[k], places[i] - places[k]);
        way[i] = (length(places[i] - places[(i + 1) % n]) + length(places[i] - places[(i + n - 1) % n])) / 2;
        around += way[i];
    }
    if (*std::max_element(square.begin(), square.end()) <= apartMm * apartMm)
        return 1;
    double most = *std::max_element(way.begin(), way.end()); // of one place alone
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t k = 0; k < i; ++k) {
            const double apart = square[i * n + k];
            if (apart > apartMm * apartMm)
                continue;
            double together = 0;
            for (std::size_t j = 0; j < n; ++j)
                together += square[i * n + j] <= apart && square[k * n + j] <= apart ? way[j] : 0;
            most = std::max(most, together);
        }
    return most / around;
}

} // namespace quoin::core
