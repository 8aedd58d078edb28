// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/scene.h"

#include "mesh/atomic_file.h"
#include "ui/scene_draw.h"
#include "ui/yardstick.h"

#include <algorithm>
#include <functional>
#include <future>

#include <fmt/format.h>

namespace quoin::ui {

using mesh::Box3;
using mesh::Mesh;
using mesh::Vec3;

namespace {

/// The outermost points of a scene; all of them, since a camera must not cut any off.
std::vector<Vec3> pointsOf(const Scene& scene)
{
    std::vector<Vec3> points;
    std::vector<bool> used;
    for (const SceneItem& item : scene.items) {
        const Mesh& mesh = *item.mesh;
        used.assign(mesh.points.size(), false);
        for (const auto& t : mesh.triangles)
            for (const mesh::Index v : t)
                used[v] = true;
        for (std::size_t v = 0; v < used.size(); ++v)
            if (used[v])
                points.push_back(item.placement.point(mesh.points[v]));
    }
    for (const SceneLine& line : scene.lines) {
        points.push_back(line.from);
        points.push_back(line.to);
    }
    return points;
}

Vec3 directionFor(const Scene& scene, const Box3& box)
{
    return length(scene.viewFrom) > 0 ? normalized(scene.viewFrom) : defaultViewFrom(box);
}

/// Room that the scene takes along a direction.
struct Span {
    double low = 1e300, high = -1e300;
};
Span spanAlong(const std::vector<Vec3>& points, Vec3 direction)
{
    Span span;
    for (const Vec3 p : points) {
        span.low = std::min(span.low, dot(p, direction));
        span.high = std::max(span.high, dot(p, direction));
    }
    return span;
}

std::string lengthText(double mm)
{
    return mm >= 1000 ? fmt::format("{:g} m", mm / 1000) : fmt::format("{:g} mm", mm);
}

/// The things beside the model that tell its size.
void addYardsticks(const Scene& scene, const Box3& box, std::vector<Vec3>& points, DrawnScene& out)
{
    const Vec3 towards = directionFor(scene, box);
    const bool fromAbove = std::hypot(towards.x, towards.y) < 1e-6;
    const Vec3 front = fromAbove ? Vec3{0, -1, 0} : normalized(Vec3{towards.x, towards.y, 0});
    const Vec3 right = cross(Vec3{0, 0, 1}, front);
    const Span across = spanAlong(points, right), deep = spanAlong(points, front);
    const double width = across.high - across.low;
    if (scene.person) {
        constexpr double halfShoulders = 0.16 * personHeightMm;
        const double at = across.high + halfShoulders + std::max(0.06 * width, 120.0);
        const Vec3 foot = at * right + (deep.low + deep.high) / 2 * front + box.min.z * Vec3{0, 0, 1};
        out.person = personOutline(foot, right);
        points.insert(points.end(), out.person.points.begin(), out.person.points.end());
    }
    if (scene.scaleBar) {
        constexpr double shareOfWidth = 0.3, thickness = 0.02, leastOfScene = 0.005;
        const double lengthMm = roundLengthMm(shareOfWidth * std::max(width, 0.3 * length(box.extents())));
        const double side = std::max(thickness * lengthMm, leastOfScene * length(box.extents()));
        const Vec3 start =
            across.low * right + (deep.high + 0.05 * width + 2 * side) * front + box.min.z * Vec3{0, 0, 1};
        out.rodLight = rodFields(start, right, lengthMm, side, false);
        out.rodDark = rodFields(start, right, lengthMm, side, true);
        out.rodWord = {start + lengthMm / 2 * right, lengthText(lengthMm)};
        points.insert(points.end(), out.rodLight.points.begin(), out.rodLight.points.end());
    }
}

void addBadgesAndShadow(const Scene& scene, DrawnScene& out)
{
    std::vector<PlacedMesh> placed;
    std::vector<std::size_t> wanted;
    for (std::size_t i = 0; i < scene.items.size(); ++i) {
        placed.push_back({scene.items[i].mesh, scene.items[i].placement});
        if (!scene.items[i].label.empty())
            wanted.push_back(i);
    }
    if (!wanted.empty())
        out.badges = placeBadges(visibleMap(placed, out.camera), wanted, badgeRadiusPx);
    // Seen from below, the floor would hide everything.
    if (scene.floor && out.camera.back.z > 0.05)
        out.shadow = floorShadow(placed, out.box);
}

} // namespace

Vec3 defaultViewFrom(const Box3& box)
{
    const Vec3 e = box.extents();
    return normalized(e.x >= e.y ? Vec3{0.55, -1, 0.42} : Vec3{1, 0.55, 0.42});
}

Status drawScene(const std::filesystem::path& png, const Scene& scene)
{
    std::vector<Vec3> points = pointsOf(scene);
    if (points.empty() || scene.widthPx < 16 || scene.heightPx < 16)
        return Problem{Reason::BadArgument, "there is nothing to draw", png.string(), {}, {}};
    Box3 box;
    for (const Vec3 p : points)
        box.add(p);
    DrawnScene drawn;
    drawn.scene = &scene;
    drawn.box = box;
    addYardsticks(scene, box, points, drawn);
    drawn.camera = fittedCamera(points, directionFor(scene, box), scene.widthPx, scene.heightPx);
    addBadgesAndShadow(scene, drawn);

    // On a thread of its own: the caller's may have a window's OpenGL context, which must stay current there.
    const Result<std::string> image = std::async(std::launch::async, pngOf, std::cref(drawn)).get();
    if (!image) {
        Problem problem = image.problem();
        problem.file = png.string();
        return problem;
    }
    return mesh::writeAtomically(png, std::string_view(*image));
}

} // namespace quoin::ui
