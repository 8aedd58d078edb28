// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/profile_stack.h"

#include "core/joint_dowel.h"
#include "mesh/triangulate.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace quoin::core {

namespace {

using mesh::Index;
using mesh::Loop;
using mesh::Vec2;

/// Adds triangles of a flat region whose corners are numbered by `names`, seen from above or from below.
void addFlat(mesh::Mesh& m, const mesh::Region& region, const std::vector<Index>& names, bool up)
{
    const auto flat = mesh::triangulateRegion(region);
    for (const auto& [a, b, c] : flat.value())
        m.triangles.push_back(up ? mesh::Triangle{names[a], names[b], names[c]}
                                 : mesh::Triangle{names[a], names[c], names[b]});
}

std::vector<Index> namesFrom(Index first, std::size_t count, bool backwards = false)
{
    std::vector<Index> names(count);
    for (std::size_t i = 0; i < count; ++i)
        names[i] = first + static_cast<Index>(backwards ? count - 1 - i : i);
    return names;
}

/// From outline a to outline b at the same height: faces down where the body widens, up where it narrows.
void addStep(mesh::Mesh& m, const Loop& a, Index firstOfA, const Loop& b, Index firstOfB)
{
    const bool widens = mesh::signedArea(b) > mesh::signedArea(a);
    const Loop& outer = widens ? b : a;
    Loop inner = widens ? a : b;
    std::vector<Index> names = namesFrom(widens ? firstOfB : firstOfA, outer.size());
    const std::vector<Index> innerNames = namesFrom(widens ? firstOfA : firstOfB, inner.size(), true);
    names.insert(names.end(), innerNames.begin(), innerNames.end());
    std::reverse(inner.begin(), inner.end());
    addFlat(m, {outer, inner}, names, !widens);
}

void addWall(mesh::Mesh& m, std::size_t corners, Index low, Index high)
{
    const auto n = static_cast<Index>(corners);
    for (Index i = 0; i < n; ++i) {
        const Index next = (i + 1) % n;
        m.triangles.push_back({low + i, low + next, high + next});
        m.triangles.push_back({low + i, high + next, high + i});
    }
}

} // namespace

mesh::Mesh openStack(const ProfileStack& stack, const mesh::PlaneFrame& frame)
{
    if (stack.size() < 2)
        throw std::invalid_argument("a stack of outlines needs two levels");
    mesh::Mesh m;
    Index low = 0;
    for (std::size_t i = 0; i < stack.size(); ++i) {
        const auto high = static_cast<Index>(m.points.size());
        for (const Vec2 p : stack[i].outline)
            m.points.push_back(frame.space(p, stack[i].heightMm));
        if (i > 0 && stack[i].heightMm == stack[i - 1].heightMm)
            addStep(m, stack[i - 1].outline, low, stack[i].outline, high);
        else if (i > 0 && stack[i].outline.size() == stack[i - 1].outline.size())
            addWall(m, stack[i].outline.size(), low, high);
        else if (i > 0)
            throw std::invalid_argument("levels of a stack need equally many corners");
        low = high;
    }
    const Loop& top = stack.back().outline;
    addFlat(m, {top}, namesFrom(low, top.size()), true);
    return m;
}

mesh::Mesh closedStack(const ProfileStack& stack, const mesh::PlaneFrame& frame)
{
    mesh::Mesh m = openStack(stack, frame);
    const Loop& bottom = stack.front().outline;
    addFlat(m, {bottom}, namesFrom(0, bottom.size()), false);
    return m;
}

Loop movedEdges(const Loop& outline, const std::vector<double>& distanceMm)
{
    const std::size_t n = outline.size();
    Loop moved(n);
    for (std::size_t i = 0; i < n; ++i) {
        const std::size_t before = (i + n - 1) % n;
        const Vec2 in = outline[i] - outline[before], out = outline[(i + 1) % n] - outline[i];
        const double lengthIn = mesh::length(in), lengthOut = mesh::length(out);
        const Vec2 outwardIn{in.y / lengthIn, -in.x / lengthIn}, outwardOut{out.y / lengthOut, -out.x / lengthOut};
        // p with outwardIn . p = distance before and outwardOut . p = distance here, about the old corner.
        const double det = mesh::cross(outwardIn, outwardOut);
        const double a = distanceMm[before], b = distanceMm[i];
        moved[i] =
            outline[i] + Vec2{(a * outwardOut.y - b * outwardIn.y) / det, (b * outwardIn.x - a * outwardOut.x) / det};
    }
    for (std::size_t i = 0; i < n; ++i)
        if (mesh::dot(moved[(i + 1) % n] - moved[i], outline[(i + 1) % n] - outline[i]) <= 0)
            return {};
    return moved;
}

Loop movedEdges(const Loop& outline, double distanceMm)
{
    return movedEdges(outline, std::vector<double>(outline.size(), distanceMm));
}

Loop scaledBy(Loop outline, double factor)
{
    for (Vec2& p : outline)
        p = factor * p;
    return outline;
}

Loop circleRound(double radiusMm, int sides)
{
    Loop loop;
    const double corner = radiusMm / std::cos(M_PI / sides);
    for (int i = 0; i < sides; ++i)
        loop.push_back({corner * std::cos(2 * M_PI * i / sides), corner * std::sin(2 * M_PI * i / sides)});
    return loop;
}

double reachOf(const Loop& outline)
{
    double reach = 0;
    for (const Vec2 p : outline)
        reach = std::max(reach, mesh::length(p));
    return reach;
}

Loop seenFromSide(const Loop& outline, Vec2 at, const mesh::Plane& cut, bool above)
{
    const mesh::PlaneFrame frame = mesh::frameOf(cut);
    const mesh::PlaneFrame own = mesh::frameOf(outwardPlane(cut, above));
    Loop seen;
    for (const Vec2 p : outline)
        seen.push_back(own.flat(frame.space(at + p)));
    if (above)
        std::reverse(seen.begin(), seen.end());
    return seen;
}

} // namespace quoin::core
