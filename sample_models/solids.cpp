// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "sample_models/solids.h"

#include "mesh/boolean.h"
#include "mesh/primitives.h"
#include "mesh/triangulate.h"

#include <algorithm>
#include <numbers>

namespace quoin::samples {

using std::numbers::pi;

namespace {

/// Longest row of triangles along an extrusion, mm.
constexpr double rowMm = 2.0;

void appendArc(Loop& loop, Vec2 centre, double radius, double fromAngle, double toAngle, int steps)
{
    for (int k = 0; k <= steps; ++k) {
        const double angle = fromAngle + (toAngle - fromAngle) * k / steps;
        loop.push_back(centre + radius * Vec2{std::cos(angle), std::sin(angle)});
    }
}

/// Points between the last of the loop and `to`, both left out, so that straight runs are short triangles too.
void appendBetween(Loop& loop, Vec2 to, int steps)
{
    const Vec2 from = loop.back();
    for (int k = 1; k < steps; ++k)
        loop.push_back(from + (static_cast<double>(k) / steps) * (to - from));
}

struct Level {
    double height, inset;
};

std::vector<Level> levels(double from, double to, double chamferFrom, double chamferTo)
{
    std::vector<Level> out;
    if (chamferFrom > 0)
        out.push_back({from, chamferFrom});
    const double low = from + chamferFrom, high = to - chamferTo;
    const int rows = std::max(1, static_cast<int>(std::ceil((high - low) / rowMm)));
    for (int i = 0; i < rows; ++i)
        out.push_back({low + (high - low) * i / rows, 0});
    out.push_back({high, 0});
    if (chamferTo > 0)
        out.push_back({to, chamferTo});
    return out;
}

} // namespace

Outline circleOutline(Vec2 centre, double radius, double phase)
{
    return [=](double inset) {
        const double step = 2 * pi / roundSides;
        Loop loop;
        appendArc(loop, centre, radius - inset, phase * step, (phase + roundSides - 1) * step, roundSides - 1);
        return loop;
    };
}

Outline linkOutline(Vec2 a, double radiusA, Vec2 b, double radiusB)
{
    return [=](double inset) {
        const Vec2 along = b - a;
        const double heading = std::atan2(along.y, along.x);
        // Where the common tangents touch, seen from either centre, against the heading.
        const double touch = std::acos((radiusA - radiusB) / length(along));
        const int steps = roundSides / 2;
        const int straight = std::max(1, static_cast<int>(std::ceil(length(along) / rowMm)));
        Loop loop;
        appendArc(loop, b, radiusB - inset, heading - touch, heading + touch, steps);
        Loop other;
        appendArc(other, a, radiusA - inset, heading + touch, heading + 2 * pi - touch, steps);
        appendBetween(loop, other.front(), straight);
        const Vec2 first = loop.front();
        loop.insert(loop.end(), other.begin(), other.end());
        appendBetween(loop, first, straight);
        return loop;
    };
}

Outline dOutline(double radius, double flat)
{
    return [=](double inset) {
        const double r = radius - inset;
        const double corner = std::acos((flat - inset) / r);
        Loop loop;
        appendArc(loop, {0, 0}, r, corner, 2 * pi - corner, roundSides * 3 / 4);
        appendBetween(loop, loop.front(), 8);
        return loop;
    };
}

Mesh raised(const Outline& outline, double from, double to, double chamferFrom, double chamferTo)
{
    std::vector<std::vector<Vec3>> rings;
    for (const auto& [height, inset] : levels(from, to, chamferFrom, chamferTo)) {
        rings.emplace_back();
        for (const Vec2 p : outline(inset))
            rings.back().push_back({p.x, p.y, height});
    }
    return mesh::loft(rings);
}

Mesh raisedAlongX(const Outline& outline, double from, double to, double chamferFrom, double chamferTo)
{
    Mesh out = raised(outline, from, to, chamferFrom, chamferTo);
    for (Vec3& p : out.points)
        p = {p.z, p.x, p.y};
    return out;
}

Mesh plateAlongX(const Outline& outline, const std::vector<Outline>& holes, double from, double to, double chamfer)
{
    // Loops of the plate at a chamfer inset; holes are not chamfered and run clockwise.
    const auto loops = [&](double inset) {
        mesh::Region region{outline(inset)};
        for (const Outline& hole : holes) {
            region.push_back(hole(0));
            std::reverse(region.back().begin(), region.back().end());
        }
        return region;
    };
    Mesh out;
    const std::vector<Level> rows = levels(from, to, chamfer, chamfer);
    for (const auto& [height, inset] : rows)
        for (const Loop& loop : loops(inset))
            for (const Vec2 p : loop)
                out.points.push_back({height, p.x, p.y});
    const mesh::Region face = loops(chamfer);
    const auto perRow = static_cast<mesh::Index>(out.points.size() / rows.size());
    const mesh::Index last = static_cast<mesh::Index>(out.points.size()) - perRow;
    const std::vector<mesh::Triangle> cap = mesh::triangulateRegion(face).value();
    for (const auto& [a, b, c] : cap) {
        out.triangles.push_back({a, c, b});
        out.triangles.push_back({a + last, b + last, c + last});
    }
    for (mesh::Index row = 0; row < last; row += perRow) {
        mesh::Index first = row;
        for (const Loop& loop : face) {
            const auto n = static_cast<mesh::Index>(loop.size());
            for (mesh::Index k = 0; k < n; ++k) {
                const mesh::Index a = first + k, b = first + (k + 1) % n;
                out.triangles.push_back({a, b, b + perRow});
                out.triangles.push_back({a, b + perRow, a + perRow});
            }
            first += n;
        }
    }
    return out;
}

Mesh shoulderPin(const PinSizes& sizes)
{
    const double c = sizes.chamfer;
    Loop profile{{0, 0}};
    double z = 0;
    // Long cylinders get rows; `to` is the height reached.
    const auto shaft = [&](double radius, double to) {
        const int rows = std::max(1, static_cast<int>(std::ceil((to - z) / rowMm)));
        for (int i = 0; i <= rows; ++i)
            profile.push_back({radius, z + (to - z) * i / rows});
        z = to;
    };
    const bool headed = sizes.headLength > 0;
    const double first = headed ? sizes.headRadius : sizes.journalRadius;
    profile.push_back({first - c, 0});
    z = c;
    double top = sizes.headLength;
    if (headed) {
        shaft(sizes.headRadius, top - c);
        profile.push_back({sizes.headRadius - c, top});
        z = top;
    }
    top += sizes.journalLength;
    const bool stepped = sizes.spigotLength > 0;
    shaft(sizes.journalRadius, stepped ? top : top - c);
    if (stepped) {
        z = top;
        top += sizes.spigotLength;
        shaft(sizes.spigotRadius, top - c);
        profile.push_back({sizes.spigotRadius - c, top});
    } else {
        profile.push_back({sizes.journalRadius - c, top});
    }
    profile.push_back({0, top});
    return mesh::revolved(profile, roundSides);
}

// Result::value throws when there is none, which is what a mistaken design deserves.
Mesh fused(const Mesh& a, const Mesh& b)
{
    return mesh::solidUnion(a, b).value();
}
Mesh without(const Mesh& a, const Mesh& b)
{
    return mesh::solidDifference(a, b).value();
}

Mesh together(const std::vector<Mesh>& apart)
{
    Mesh all;
    for (const Mesh& one : apart)
        all = mesh::joined(all, one);
    return all;
}

} // namespace quoin::samples
