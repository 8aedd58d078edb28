// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/mark.h"

#include "core/joint_dowel.h"
#include "core/stroke_font.h"
#include "mesh/region.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace quoin::core {

namespace {

// Letters: readable at arm's length and printable with a 0.4 to 0.8 mm nozzle (common practice, no source).
constexpr std::array<double, 7> heightsMm{25, 20, 16, 12, 10, 8, 6};
constexpr double strokeShare = 0.14;
constexpr double leastStrokeMm = 0.9;
constexpr double depthMm = 0.6;
constexpr double wallBesideMm = 1.2; ///< from the letters to the outline, a bore, or a surface below
constexpr double arcErrorMm = 0.03;
constexpr int places = 24; ///< grid of places tried along the longer side of the seam

double strokeOf(double height)
{
    return std::max(strokeShare * height, leastStrokeMm);
}

struct Extent {
    mesh::Vec2 min{1e300, 1e300}, max{-1e300, -1e300};
};

Extent extentOf(const mesh::Region& region)
{
    Extent e;
    for (const mesh::Loop& loop : region)
        for (const mesh::Vec2 p : loop) {
            e.min = {std::min(e.min.x, p.x), std::min(e.min.y, p.y)};
            e.max = {std::max(e.max.x, p.x), std::max(e.max.y, p.y)};
        }
    return e;
}

mesh::Vec2 along(double angle)
{
    return {std::cos(angle), std::sin(angle)};
}

/// Points over a text's box, its edges included: dense enough that no bore or wall slips between.
std::vector<mesh::Vec2> boxPoints(mesh::Vec2 at, double angle, double width, double height)
{
    const mesh::Vec2 x = along(angle), y{-x.y, x.x};
    const int nx = std::max(2, static_cast<int>(std::ceil(width / 2.5))),
              ny = std::max(2, static_cast<int>(std::ceil(height / 2.5)));
    std::vector<mesh::Vec2> points;
    for (int i = 0; i <= nx; ++i)
        for (int j = 0; j <= ny; ++j)
            points.push_back(at + (width * (double(i) / nx - 0.5)) * x + (height * (double(j) / ny - 0.5)) * y);
    return points;
}

/// Longest first: directions in which a text might run.
std::vector<double> anglesOf(const mesh::Region& region)
{
    // The principal direction of the outline's points, and the frame's own axes.
    mesh::Vec2 middle{0, 0};
    double n = 0, xx = 0, yy = 0, xy = 0;
    for (const mesh::Loop& loop : region)
        for (const mesh::Vec2 p : loop) {
            middle = middle + p;
            n += 1;
        }
    middle = (1 / n) * middle;
    for (const mesh::Loop& loop : region)
        for (const mesh::Vec2 p : loop) {
            const mesh::Vec2 d = p - middle;
            xx += d.x * d.x;
            yy += d.y * d.y;
            xy += d.x * d.y;
        }
    const double principal = 0.5 * std::atan2(2 * xy, xx - yy);
    return {0, M_PI / 2, principal, principal + M_PI / 2};
}

bool clear(const std::vector<mesh::Vec2>& points, const Seam& seam, const mesh::PlaneFrame& frame,
           const JointRoom& room, const std::vector<Capsule>& taken)
{
    for (const mesh::Vec2 p : points) {
        const mesh::Vec3 s = frame.space(p);
        for (const Capsule& c : taken)
            if (segmentDistance(s, s, c.from, c.to) < c.radiusMm + 2 * wallBesideMm)
                return false;
    }
    for (const mesh::Vec2 p : points)
        for (const bool above : {false, true})
            if (room.distance(above ? seam.pieceAbove : seam.pieceBelow, seam.cut,
                              frame.space(p, (above ? 1 : -1) * depthMm)) < 2 * wallBesideMm)
                return false;
    return true;
}

} // namespace

std::pair<std::string, std::string> markTexts(const Seam& seam, int shortness)
{
    const auto text = [&](int own, int other) {
        return shortness == 0   ? fmt::format("{}-{} {}", own, other, seam.mark)
               : shortness == 1 ? fmt::format("{} {}", own, seam.mark)
                                : seam.mark;
    };
    return {text(seam.pieceBelow, seam.pieceAbove), text(seam.pieceAbove, seam.pieceBelow)};
}

std::vector<mesh::Recess> markRecesses(const Mark& mark, const mesh::Plane& cut, bool above)
{
    const mesh::PlaneFrame frame = mesh::frameOf(cut);
    const mesh::PlaneFrame own = mesh::frameOf(outwardPlane(cut, above));
    // Seen from above the text runs along x; seen from below it must run the other way to be read, and stays upright.
    const mesh::Vec2 x = along(mark.angle);
    const mesh::Vec3 run = (above ? -1.0 : 1.0) * (x.x * frame.u + x.y * frame.v);
    const mesh::Vec2 right{dot(run, own.u), dot(run, own.v)}, up{-right.y, right.x};
    const mesh::Vec2 middle = own.flat(frame.space(mark.at));
    const StrokeText text = strokeText(above ? mark.textAbove : mark.textBelow);
    std::vector<std::vector<mesh::Vec2>> paths = text.paths;
    for (auto& path : paths)
        for (mesh::Vec2& p : path)
            p = middle + (mark.heightMm * (p.x - text.width / 2)) * right + (mark.heightMm * (p.y - 0.5 * (1 + strokeBarY))) * up;
    std::vector<mesh::Recess> recesses;
    for (const mesh::Region& letter : mesh::islands(mesh::strokes(paths, mark.strokeMm, arcErrorMm)))
        recesses.push_back({{{0, letter}, {mark.depthMm, letter}}});
    return recesses;
}

std::optional<Mark> placeMark(std::size_t seamIndex, const Seam& seam, const CutPlan& plan, const JointRoom& room,
                              const std::vector<Capsule>& taken)
{
    const mesh::PlaneFrame frame = mesh::frameOf(plan.nodes[static_cast<std::size_t>(seam.cut)].plane);
    const Extent extent = extentOf(seam.region);
    const mesh::Vec2 size = extent.max - extent.min;
    const double step = std::max({size.x, size.y, 1.0}) / places;
    std::vector<mesh::Vec2> sites;
    for (double x = extent.min.x + step / 2; x < extent.max.x; x += step)
        for (double y = extent.min.y + step / 2; y < extent.max.y; y += step)
            if (mesh::contains(seam.region, {x, y}))
                sites.push_back({x, y});
    // Nearest to the middle first, so that marks stand where people look.
    const mesh::Vec2 centre = 0.5 * (extent.min + extent.max);
    std::stable_sort(sites.begin(), sites.end(),
                     [&](mesh::Vec2 a, mesh::Vec2 b) { return mesh::length(a - centre) < mesh::length(b - centre); });
    const std::vector<double> angles = anglesOf(seam.region);
    for (int shortness = 0; shortness < 3; ++shortness) {
        const auto [below, above] = markTexts(seam, shortness);
        const double width = std::max(strokeText(below).width, strokeText(above).width);
        for (const double height : heightsMm) {
            // A mark takes a modest part of its face, or it would compete with the joints.
            const double stroke = strokeOf(height);
            const double w = width * height + stroke, h = (1 - strokeBarY) * height + stroke;
            if (w * h > 0.25 * seam.areaMm2)
                continue;
            for (const mesh::Vec2 site : sites) {
                if (mesh::distanceToOutline(seam.region, site) < h / 2 + wallBesideMm)
                    continue;
                for (const double angle : angles) {
                    const auto points = boxPoints(site, angle, w, h);
                    const auto inside = [&](mesh::Vec2 p) { return mesh::contains(seam.region, p); };
                    if (std::all_of(points.begin(), points.end(), inside) && clear(points, seam, frame, room, taken))
                        return Mark{seamIndex, site, angle, height, stroke, depthMm, below, above};
                }
            }
        }
    }
    return std::nullopt;
}

} // namespace quoin::core
