// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/primitives.h"

#include "mesh/mass.h"

#include <algorithm>
#include <map>
#include <numbers>
#include <stdexcept>

namespace quoin::mesh {

namespace {

using std::numbers::pi;

void require(bool fine, const char* what)
{
    if (!fine)
        throw std::invalid_argument(what);
}

void addQuad(Mesh& mesh, Index a, Index b, Index c, Index d)
{
    mesh.triangles.push_back({a, b, c});
    mesh.triangles.push_back({a, c, d});
}

/// Index of corner k of row `row` when rows of `count` points are stored one after another; k may run past the end.
Index gridIndex(Index first, int row, int count, int k)
{
    return first + static_cast<Index>(row * count + k % count);
}

/// Splits a straight profile edge into equal steps; the last point is left to the next edge.
void appendSteps(Loop& profile, Vec2 from, Vec2 to, int steps)
{
    for (int i = 0; i < steps; ++i)
        profile.push_back(from + (static_cast<double>(i) / steps) * (to - from));
}

/// Whether the diagonal 0-2 of the quadrilateral is the shorter one.
bool firstDiagonalShorter(Vec3 a, Vec3 b, Vec3 c, Vec3 d)
{
    return dot(c - a, c - a) <= dot(d - b, d - b);
}

/// Indices of one ring of a loft, repeated when the ring is a single point.
std::vector<Index> addRing(Mesh& mesh, const std::vector<Vec3>& ring, std::size_t sides)
{
    const auto first = static_cast<Index>(mesh.points.size());
    mesh.points.insert(mesh.points.end(), ring.begin(), ring.end());
    std::vector<Index> indices(sides, first);
    if (ring.size() > 1)
        for (std::size_t k = 0; k < sides; ++k)
            indices[k] = first + static_cast<Index>(k);
    return indices;
}

void joinRings(Mesh& mesh, const std::vector<Index>& low, const std::vector<Index>& high)
{
    const bool lowTip = low[0] == low[1];
    const bool highTip = high[0] == high[1];
    for (std::size_t k = 0; k < low.size(); ++k) {
        const std::size_t n = (k + 1) % low.size();
        const Index a = low[k], b = low[n], c = high[n], d = high[k];
        if (lowTip)
            mesh.triangles.push_back({a, c, d});
        else if (highTip)
            mesh.triangles.push_back({a, b, c});
        else if (firstDiagonalShorter(mesh.points[a], mesh.points[b], mesh.points[c], mesh.points[d]))
            addQuad(mesh, a, b, c, d);
        else
            addQuad(mesh, b, c, d, a);
    }
}

/// A fan about the mean of the ring; nothing for a tip.
void capRing(Mesh& mesh, const std::vector<Index>& ring, bool atEnd)
{
    if (ring[0] == ring[1])
        return;
    // The mean as an offset from the first corner, so that a ring square to an axis gets a cap that is flat to the bit.
    const Vec3 corner = mesh.points[ring[0]];
    Vec3 sum{0, 0, 0};
    for (const Index v : ring)
        sum = sum + (mesh.points[v] - corner);
    const auto centre = static_cast<Index>(mesh.points.size());
    mesh.points.push_back(corner + sum / static_cast<double>(ring.size()));
    for (std::size_t k = 0; k < ring.size(); ++k) {
        const Index a = ring[k], b = ring[(k + 1) % ring.size()];
        mesh.triangles.push_back(atEnd ? Triangle{centre, a, b} : Triangle{centre, b, a});
    }
}

Mesh icosahedron()
{
    // Three golden rectangles, square to one another.
    const double g = std::numbers::phi;
    Mesh mesh;
    mesh.points = {{-1, g, 0},  {1, g, 0},  {-1, -g, 0}, {1, -g, 0}, {0, -1, g},  {0, 1, g},
                   {0, -1, -g}, {0, 1, -g}, {g, 0, -1},  {g, 0, 1},  {-g, 0, -1}, {-g, 0, 1}};
    mesh.triangles = {{0, 11, 5},  {0, 5, 1},  {0, 1, 7},  {0, 7, 10}, {0, 10, 11}, {1, 5, 9}, {5, 11, 4},
                      {11, 10, 2}, {10, 7, 6}, {7, 1, 8},  {3, 9, 4},  {3, 4, 2},   {3, 2, 6}, {3, 6, 8},
                      {3, 8, 9},   {4, 9, 5},  {2, 4, 11}, {6, 2, 10}, {8, 6, 7},   {9, 8, 1}};
    return mesh;
}

/// Each triangle in four, new points in the middle of the edges.
Mesh subdivided(const Mesh& mesh)
{
    Mesh out;
    out.points = mesh.points;
    std::map<std::pair<Index, Index>, Index> middles;
    const auto middle = [&](Index a, Index b) {
        const auto [at, fresh] = middles.try_emplace(std::minmax(a, b), static_cast<Index>(out.points.size()));
        if (fresh)
            out.points.push_back(0.5 * (mesh.points[a] + mesh.points[b]));
        return at->second;
    };
    for (const auto& [a, b, c] : mesh.triangles) {
        const Index ab = middle(a, b), bc = middle(b, c), ca = middle(c, a);
        out.triangles.push_back({a, ab, ca});
        out.triangles.push_back({b, bc, ab});
        out.triangles.push_back({c, ca, bc});
        out.triangles.push_back({ab, bc, ca});
    }
    return out;
}

} // namespace

Mesh box(Vec3 min, Vec3 max)
{
    require(min.x < max.x && min.y < max.y && min.z < max.z, "box: min must be below max");
    Mesh mesh;
    for (const double z : {min.z, max.z})
        for (const Vec2 p : {Vec2{min.x, min.y}, Vec2{max.x, min.y}, Vec2{max.x, max.y}, Vec2{min.x, max.y}})
            mesh.points.push_back({p.x, p.y, z});
    addQuad(mesh, 3, 2, 1, 0);
    addQuad(mesh, 4, 5, 6, 7);
    for (int k = 0; k < 4; ++k)
        addQuad(mesh, gridIndex(0, 0, 4, k), gridIndex(0, 0, 4, k + 1), gridIndex(0, 1, 4, k + 1),
                gridIndex(0, 1, 4, k));
    return mesh;
}

Mesh cylinder(double radius, double height, int sides, int rows)
{
    return frustum(radius, radius, height, sides, rows);
}

Mesh frustum(double bottomRadius, double topRadius, double height, int sides, int rows)
{
    require(bottomRadius >= 0 && topRadius >= 0 && bottomRadius + topRadius > 0 && height > 0 && rows > 0,
            "frustum: radii, height and rows must be positive");
    Loop profile;
    if (bottomRadius > 0)
        profile.push_back({0, 0});
    appendSteps(profile, {bottomRadius, 0}, {topRadius, height}, rows);
    if (topRadius > 0)
        profile.push_back({topRadius, height});
    profile.push_back({0, height});
    return revolved(profile, sides);
}

Mesh revolved(const Loop& profile, int sides)
{
    require(sides >= 3 && profile.size() >= 3, "revolved: too few sides or points");
    const bool ring = profile.front().x > 0 && profile.back().x > 0;
    Mesh mesh;
    std::vector<Index> first;
    for (std::size_t i = 0; i < profile.size(); ++i) {
        const bool end = i == 0 || i + 1 == profile.size();
        require(profile[i].x > 0 || (profile[i].x == 0 && end && !ring),
                "revolved: only the first and the last point may lie on the axis, both or neither");
        first.push_back(static_cast<Index>(mesh.points.size()));
        const int corners = profile[i].x > 0 ? sides : 1;
        for (int k = 0; k < corners; ++k) {
            const double angle = 2 * pi * k / sides;
            mesh.points.push_back({profile[i].x * std::cos(angle), profile[i].x * std::sin(angle), profile[i].y});
        }
    }
    require(ring || (profile.front().x == 0 && profile.back().x == 0),
            "revolved: only the first and the last point may lie on the axis, both or neither");
    const std::size_t edges = ring ? profile.size() : profile.size() - 1;
    for (std::size_t i = 0; i < edges; ++i) {
        const std::size_t j = (i + 1) % profile.size();
        for (int k = 0; k < sides; ++k) {
            const Index a = gridIndex(first[i], 0, sides, k), b = gridIndex(first[i], 0, sides, k + 1);
            const Index d = gridIndex(first[j], 0, sides, k), c = gridIndex(first[j], 0, sides, k + 1);
            if (profile[i].x == 0)
                mesh.triangles.push_back({first[i], c, d});
            else if (profile[j].x == 0)
                mesh.triangles.push_back({a, b, first[j]});
            else
                addQuad(mesh, a, b, c, d);
        }
    }
    return mesh;
}

Mesh torus(double ringRadius, double tubeRadius, int ringSides, int tubeSides)
{
    require(tubeRadius > 0 && ringRadius > tubeRadius && tubeSides >= 3,
            "torus: the tube must be thinner than the ring");
    Loop profile;
    for (int k = 0; k < tubeSides; ++k) {
        const double angle = 2 * pi * k / tubeSides;
        profile.push_back({ringRadius + tubeRadius * std::cos(angle), tubeRadius * std::sin(angle)});
    }
    return revolved(profile, ringSides);
}

Mesh icosphere(double radius, int levels)
{
    require(radius > 0 && levels >= 0 && levels <= 12, "icosphere: radius must be positive, levels 0 to 12");
    Mesh mesh = icosahedron();
    // Points go out to the sphere level by level, so that triangles stay even.
    const auto project = [&] {
        for (Vec3& p : mesh.points)
            p = radius * normalized(p);
    };
    project();
    for (int level = 0; level < levels; ++level) {
        mesh = subdivided(mesh);
        project();
    }
    return mesh;
}

Mesh loft(const std::vector<std::vector<Vec3>>& rings)
{
    std::size_t sides = 0;
    for (const auto& ring : rings)
        sides = std::max(sides, ring.size());
    require(rings.size() >= 2 && sides >= 3, "loft: at least two rings of three points");
    Mesh mesh;
    std::vector<Index> low;
    for (std::size_t i = 0; i < rings.size(); ++i) {
        const bool end = i == 0 || i + 1 == rings.size();
        require(rings[i].size() == sides || (rings[i].size() == 1 && end && rings.size() > 2),
                "loft: rings of equally many points, single points at the ends only");
        std::vector<Index> ring = addRing(mesh, rings[i], sides);
        if (i == 0)
            capRing(mesh, ring, false);
        else
            joinRings(mesh, low, ring);
        low = std::move(ring);
    }
    capRing(mesh, low, true);
    if (volume(mesh) < 0)
        for (Triangle& t : mesh.triangles)
            std::swap(t[1], t[2]);
    return mesh;
}

int sidesForChord(double radius, double chordMm)
{
    require(radius > 0 && chordMm > 0, "sidesForChord: radius and chord error must be positive");
    constexpr int fewest = 12;
    if (chordMm >= radius)
        return fewest;
    // Sag of a chord polygon: r (1 - cos(pi / n)).
    const double exact = pi / std::acos(1 - chordMm / radius);
    return std::max(fewest, 4 * static_cast<int>(std::ceil(exact / 4)));
}

} // namespace quoin::mesh
