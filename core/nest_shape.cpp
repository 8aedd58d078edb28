// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/nest_shape.h"

#include "core/nest_outline.h"
#include "mesh/region.h"
#include "mesh/triangulate.h"

#include <polyclipping/clipper.hpp>

#include <algorithm>
#include <cmath>
#include <optional>

namespace quoin::core {

using mesh::Loop;
using mesh::Region;
using mesh::Vec2;

namespace {

constexpr std::size_t fewCorners = 16;         ///< are left as they are
constexpr std::size_t manyCorners = 40;        ///< are thinned further
constexpr int mostThinnings = 3;               ///< each twice as coarse
constexpr double gridSlackMm = 2 * nestStepMm; ///< what rounding to the grid may cost, with room to spare
constexpr double onGridMm = 1e-9;

bool onGrid(const Region& region)
{
    for (const Loop& loop : region)
        for (const Vec2 p : loop)
            for (const double v : {p.x, p.y})
                if (std::abs(v - std::round(v / nestStepMm) * nestStepMm) > onGridMm)
                    return false;
    return true;
}

std::size_t corners(const Region& region)
{
    std::size_t n = 0;
    for (const Loop& loop : region)
        n += loop.size();
    return n;
}

/// Grown with mitred corners: fewer of them than round ones, and further out.
Region grown(const Region& region, double byMm)
{
    ClipperLib::Paths in, out;
    for (const Loop& loop : region) {
        ClipperLib::Path path;
        for (const Vec2 p : loop)
            path.emplace_back(std::llround(p.x / mesh::regionStepMm), std::llround(p.y / mesh::regionStepMm));
        in.push_back(std::move(path));
    }
    ClipperLib::ClipperOffset offsetter(2.0);
    offsetter.AddPaths(in, ClipperLib::jtMiter, ClipperLib::etClosedPolygon);
    offsetter.Execute(out, byMm / mesh::regionStepMm);
    Region grownRegion;
    for (const ClipperLib::Path& path : out) {
        Loop loop;
        for (const ClipperLib::IntPoint& p : path)
            loop.push_back(
                {static_cast<double>(p.X) * mesh::regionStepMm, static_cast<double>(p.Y) * mesh::regionStepMm});
        grownRegion.push_back(std::move(loop));
    }
    return grownRegion;
}

/// Without holes that nothing fits into.
Region withoutSmallHoles(const Region& region, double leastMm)
{
    Region out;
    for (const Loop& loop : region) {
        if (mesh::signedArea(loop) < 0) {
            const FlatBox box = flatBounds({loop});
            if (std::min(box.high.x - box.low.x, box.high.y - box.low.y) < leastMm)
                continue;
        }
        out.push_back(loop);
    }
    return out;
}

NestPoint gridPoint(Vec2 p)
{
    return {std::llround(p.x / nestStepMm), std::llround(p.y / nestStepMm)};
}

/// On the grid, simple again after rounding, no corner that does nothing.
Region rounded(const Region& region)
{
    ClipperLib::Paths in, out;
    for (const Loop& loop : region) {
        ClipperLib::Path path;
        for (const Vec2 p : loop) {
            const NestPoint g = gridPoint(p);
            path.emplace_back(g.x, g.y);
        }
        in.push_back(std::move(path));
    }
    ClipperLib::Clipper clipper;
    clipper.StrictlySimple(true);
    clipper.AddPaths(in, ClipperLib::ptSubject, true);
    clipper.Execute(ClipperLib::ctUnion, out, ClipperLib::pftNonZero, ClipperLib::pftNonZero);
    Region simple;
    for (const ClipperLib::Path& path : out) {
        Loop loop;
        for (const ClipperLib::IntPoint& p : path)
            loop.push_back({static_cast<double>(p.X) * nestStepMm, static_cast<double>(p.Y) * nestStepMm});
        if (loop.size() >= 3)
            simple.push_back(std::move(loop));
    }
    return simple;
}

bool isConvex(const NestLoop& loop)
{
    for (std::size_t i = 0; i < loop.size(); ++i) {
        const NestPoint a = loop[i], b = loop[(i + 1) % loop.size()], c = loop[(i + 2) % loop.size()];
        if (cross(b - a, c - b) < 0)
            return false;
    }
    return true;
}

/// Two loops with a common edge as one, when it is convex.
std::optional<NestLoop> merged(const NestLoop& a, const NestLoop& b)
{
    for (std::size_t i = 0; i < a.size(); ++i)
        for (std::size_t j = 0; j < b.size(); ++j) {
            if (!(a[i] == b[(j + 1) % b.size()]) || !(a[(i + 1) % a.size()] == b[j]))
                continue;
            NestLoop loop;
            for (std::size_t k = 0; k < a.size(); ++k)
                loop.push_back(a[(i + 1 + k) % a.size()]); // from the edge's end round to its beginning
            for (std::size_t k = 1; k + 1 < b.size(); ++k)
                loop.push_back(b[(j + 1 + k) % b.size()]);
            // Corners in line with their neighbours go.
            NestLoop clean;
            for (std::size_t k = 0; k < loop.size(); ++k) {
                const NestPoint p = loop[(k + loop.size() - 1) % loop.size()], q = loop[k],
                                r = loop[(k + 1) % loop.size()];
                if (cross(q - p, r - q) != 0)
                    clean.push_back(q);
            }
            if (clean.size() >= 3 && isConvex(clean))
                return clean;
        }
    return std::nullopt;
}

/// Triangles put together to convex parts while that works (Hertel and Mehlhorn 1983).
std::vector<NestLoop> convexParts(const Region& region)
{
    const auto triangles = mesh::triangulateRegion(region);
    if (!triangles)
        return {};
    NestLoop points;
    for (const Loop& loop : region)
        for (const Vec2 p : loop)
            points.push_back(gridPoint(p));
    std::vector<NestLoop> parts;
    for (const mesh::Triangle& t : *triangles)
        if (NestLoop loop{points[t[0]], points[t[1]], points[t[2]]}; cross(loop[1] - loop[0], loop[2] - loop[0]) > 0)
            parts.push_back(std::move(loop));
    for (std::size_t i = 0; i < parts.size(); ++i)
        for (std::size_t j = i + 1; j < parts.size();) {
            auto both = merged(parts[i], parts[j]);
            if (!both) {
                ++j;
                continue;
            }
            parts[i] = std::move(*both);
            parts.erase(parts.begin() + static_cast<std::ptrdiff_t>(j));
            j = i + 1;
        }
    return parts;
}

} // namespace

void NestBox::add(NestPoint p)
{
    low = {std::min(low.x, p.x), std::min(low.y, p.y)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y)};
}

NestBox boxOf(const NestLoop& loop)
{
    NestBox box;
    for (const NestPoint p : loop)
        box.add(p);
    return box;
}

NestLoop quarterTurned(const NestLoop& loop, int quarters)
{
    NestLoop out = loop;
    for (int k = 0; k < quarters; ++k)
        for (NestPoint& p : out)
            p = {-p.y, p.x};
    return out;
}

NestShape quarterTurned(const NestShape& shape, int quarters)
{
    NestShape out;
    for (const NestLoop& part : shape.parts)
        out.parts.push_back(quarterTurned(part, quarters));
    out.hull = quarterTurned(shape.hull, quarters);
    out.box = boxOf(out.hull);
    return out;
}

NestLoop nestHull(std::vector<NestPoint> points)
{
    std::sort(points.begin(), points.end(),
              [](NestPoint a, NestPoint b) { return a.x != b.x ? a.x < b.x : a.y < b.y; });
    points.erase(std::unique(points.begin(), points.end()), points.end());
    if (points.size() < 3)
        return points;
    NestLoop hull; // Andrew 1979
    for (int side = 0; side < 2; ++side) {
        const std::size_t base = hull.size();
        for (const NestPoint p : points) {
            while (hull.size() >= base + 2 && cross(hull.back() - hull[hull.size() - 2], p - hull.back()) <= 0)
                hull.pop_back();
            hull.push_back(p);
        }
        hull.pop_back();
        std::reverse(points.begin(), points.end());
    }
    return hull;
}

NestShape nestShape(const Region& outline, double turn, double growMm, double thinMm, double leastHoleMm)
{
    Region region = withoutSmallHoles(turned(outline, turn), leastHoleMm);
    NestShape shape;
    std::vector<NestPoint> points;
    for (const Loop& loop : region)
        for (const Vec2 p : loop)
            points.push_back(gridPoint(p));
    shape.hull = nestHull(std::move(points));
    shape.box = boxOf(shape.hull);
    const bool thin = corners(region) > fewCorners;
    if (thin) {
        const double notchMm = leastHoleMm / 4;
        // Closed: grown and shrunk again; never less than it was.
        const Region wide = mesh::offset(region, notchMm, thinMm / 8);
        region = mesh::unionOf(region, mesh::offset(wide, -notchMm, thinMm / 8));
        const Region closed = grown(region, growMm + gridSlackMm);
        double byMm = thinMm / 2;
        for (int n = 0;; ++n, byMm *= 2) {
            region = thinned(grown(closed, byMm), byMm);
            if (corners(region) <= manyCorners || n + 1 == mostThinnings)
                break;
        }
    } else if (growMm > 0 || !onGrid(region)) {
        region = grown(region, growMm + gridSlackMm);
    }
    region = rounded(region);
    shape.parts = convexParts(region);
    if (shape.parts.empty()) { // more than the outline then, never less
        std::vector<NestPoint> all;
        for (const Loop& loop : region)
            for (const Vec2 p : loop)
                all.push_back(gridPoint(p));
        if (NestLoop hull = nestHull(std::move(all)); hull.size() >= 3)
            shape.parts.push_back(std::move(hull));
    }
    if (shape.parts.empty() && shape.hull.size() >= 3) { // next to nothing: the box round it
        const std::int64_t by = std::llround((growMm + thinMm + gridSlackMm) / nestStepMm);
        const NestPoint l = shape.box.low - NestPoint{by, by}, h = shape.box.high + NestPoint{by, by};
        shape.parts.push_back({l, {h.x, l.y}, h, {l.x, h.y}});
    }
    return shape;
}

} // namespace quoin::core
