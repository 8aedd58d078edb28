// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/seam_view.h"

#include "core/parallel.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <unordered_map>

namespace quoin::core {

using mesh::Vec3;

namespace {

constexpr int views = 64;
constexpr int side = 256; ///< pixels of a picture
/// How far a place is lifted off the surface, and how far the picture may be nearer, in pixels: what a pixel's own
/// width makes of a slope.
constexpr double liftPixels = 1, tolerancePixels = 0.5;
/// In a picture of nothing.
constexpr float nowhere = -1e30F;

Vec3 onSphere(int i, int count)
{
    const double z = 1 - (2.0 * i + 1) / count, r = std::sqrt(1 - z * z);
    const double turn = std::numbers::pi * (3 - std::sqrt(5.0)) * i;
    return {r * std::cos(turn), r * std::sin(turn), z};
}

/// Meshes of more triangles are drawn with the points of each cube of so many pixels made one.
constexpr std::size_t mostDrawn = 200'000;
constexpr double cubePixels = 0.75;

/// Points close to each other made one, in their middle (Rossignac and Borrel 1993); what is left of the triangles.
mesh::Mesh clustered(const mesh::Mesh& mesh, const mesh::Box3& box, double cubeMm)
{
    mesh::Mesh out;
    std::unordered_map<std::uint64_t, mesh::Index> cubes;
    std::vector<mesh::Index> of(mesh.points.size());
    std::vector<double> count;
    for (std::size_t i = 0; i < mesh.points.size(); ++i) {
        const Vec3 p = (mesh.points[i] - box.min) / cubeMm;
        const auto step = [](double v) { return static_cast<std::uint64_t>(std::clamp(v, 0.0, 1e6)); };
        const auto [at, isNew] =
            cubes.emplace(step(p.x) << 42 | step(p.y) << 21 | step(p.z), static_cast<mesh::Index>(out.points.size()));
        if (isNew) {
            out.points.push_back({0, 0, 0});
            count.push_back(0);
        }
        of[i] = at->second;
        out.points[of[i]] = out.points[of[i]] + mesh.points[i];
        count[of[i]] += 1;
    }
    for (std::size_t i = 0; i < count.size(); ++i)
        out.points[i] = out.points[i] / count[i];
    for (const mesh::Triangle& t : mesh.triangles) {
        const mesh::Triangle c{of[t[0]], of[t[1]], of[t[2]]};
        if (c[0] != c[1] && c[1] != c[2] && c[2] != c[0])
            out.triangles.push_back(c);
    }
    return out;
}

Vec3 besides(Vec3 d)
{
    const Vec3 least = std::abs(d.x) < 0.6 ? Vec3{1, 0, 0} : Vec3{0, 1, 0};
    return normalized(cross(d, least));
}

} // namespace

SeamView::SeamView(const mesh::Mesh& mesh, Vec3 up)
{
    const mesh::Box3 box = mesh::bounds(mesh);
    if (box.empty())
        return;
    m_middle = box.centre();
    m_radiusMm = length(box.extents()) / 2;
    m_pixelMm = 2 * m_radiusMm / (side - 1);
    const bool large = mesh.triangles.size() > mostDrawn;
    const mesh::Mesh coarse = large ? clustered(mesh, box, cubePixels * m_pixelMm) : mesh::Mesh{};
    const mesh::Mesh& drawn = large ? coarse : mesh;
    up = normalized(up);
    double sum = 0;
    for (int i = 0; i < views; ++i) {
        View view;
        view.towards = onSphere(i, views);
        view.u = besides(view.towards);
        view.v = cross(view.towards, view.u);
        view.weight = std::min(1.0, 1 + dot(view.towards, up));
        sum += view.weight;
        m_views.push_back(std::move(view));
    }
    m_halfWeight = sum / 2;
    forEachIndex(m_views.size(), [&](std::size_t i) { draw(m_views[i], drawn); });
}

/// Each triangle that faces the viewer fills the pixels whose middles it covers; of a closed surface no middle is left
/// out.
void SeamView::draw(View& view, const mesh::Mesh& mesh) const
{
    view.depth.assign(static_cast<std::size_t>(side) * side, nowhere);
    struct Point {
        float x, y, z;
    };
    std::vector<Point> points(mesh.points.size());
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Vec3 p = mesh.points[i];
        points[i] = {static_cast<float>(pixelOf(p, view.u)), static_cast<float>(pixelOf(p, view.v)),
                     static_cast<float>(dot(p - m_middle, view.towards))};
    }
    for (const mesh::Triangle& t : mesh.triangles) {
        const Point a = points[t[0]], b = points[t[1]], c = points[t[2]];
        const float area = (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
        if (!(area > 0))
            continue;
        const int left = std::max(0, static_cast<int>(std::ceil(std::min({a.x, b.x, c.x}))));
        const int right = std::min(side - 1, static_cast<int>(std::floor(std::max({a.x, b.x, c.x}))));
        const int low = std::max(0, static_cast<int>(std::ceil(std::min({a.y, b.y, c.y}))));
        const int high = std::min(side - 1, static_cast<int>(std::floor(std::max({a.y, b.y, c.y}))));
        for (int y = low; y <= high; ++y)
            for (int x = left; x <= right; ++x) {
                const float fx = static_cast<float>(x), fy = static_cast<float>(y);
                const float wa = (b.x - fx) * (c.y - fy) - (b.y - fy) * (c.x - fx);
                const float wb = (c.x - fx) * (a.y - fy) - (c.y - fy) * (a.x - fx);
                const float wc = area - wa - wb;
                const float slack = -1e-4F * area;
                if (wa < slack || wb < slack || wc < slack)
                    continue;
                float& nearest = view.depth[static_cast<std::size_t>(y) * side + static_cast<std::size_t>(x)];
                nearest = std::max(nearest, (wa * a.z + wb * b.z + wc * c.z) / area);
            }
    }
}

double SeamView::seen(Vec3 at, Vec3 outward) const
{
    const Vec3 p = at + liftPixels * m_pixelMm * outward;
    double sum = 0;
    for (const View& view : m_views) {
        if (!(dot(view.towards, outward) > 0))
            continue; // it faces away
        const long x = std::lround(pixelOf(p, view.u)), y = std::lround(pixelOf(p, view.v));
        if (x >= 0 && y >= 0 && x < side && y < side) {
            const double nearest =
                static_cast<double>(view.depth[static_cast<std::size_t>(y) * side + static_cast<std::size_t>(x)]);
            if (nearest > dot(p - m_middle, view.towards) + tolerancePixels * m_pixelMm)
                continue;
        }
        sum += view.weight;
    }
    return m_views.empty() ? 0 : std::min(1.0, sum / m_halfWeight);
}

} // namespace quoin::core
