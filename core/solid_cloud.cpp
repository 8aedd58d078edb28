// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/solid_cloud.h"

#include "mesh/distance.h"

#include <algorithm>

namespace quoin::core {

using mesh::Vec3;

namespace {

constexpr std::size_t surfacePoints = 20'000;
constexpr int columnsAlong = 40;

/// Vertical columns through a solid, on a square raster: where each enters and leaves the material.
class Columns {
public:
    explicit Columns(const mesh::Mesh& mesh)
    {
        const mesh::Box3 box = mesh::bounds(mesh);
        const Vec3 size = box.extents();
        m_step = std::max({size.x, size.y, size.z}) / columnsAlong;
        m_nx = static_cast<int>(size.x / m_step) + 1;
        m_ny = static_cast<int>(size.y / m_step) + 1;
        // They stand off the round numbers that edges of models like to lie on.
        m_x0 = box.min.x + 0.4871 * m_step;
        m_y0 = box.min.y + 0.5173 * m_step;
        m_walls.resize(static_cast<std::size_t>(m_nx) * static_cast<std::size_t>(m_ny));
        for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
            pierce(mesh.corner(t, 0), mesh.corner(t, 1), mesh.corner(t, 2));
    }

    /// Between each second pair of walls there is material.
    void fill(mesh::Buffer<Vec3>& points)
    {
        for (int i = 0; i < m_nx; ++i)
            for (int j = 0; j < m_ny; ++j) {
                std::vector<double>& z = at(i, j);
                std::sort(z.begin(), z.end());
                for (std::size_t k = 0; k + 1 < z.size(); k += 2)
                    for (double h = z[k] + m_step / 2; h < z[k + 1]; h += m_step)
                        points.push_back({m_x0 + i * m_step, m_y0 + j * m_step, h});
            }
    }

private:
    std::vector<double>& at(int i, int j) { return m_walls[static_cast<std::size_t>(i * m_ny + j)]; }
    int first(double low, double origin) const
    {
        return std::max(0, static_cast<int>(std::ceil((low - origin) / m_step)));
    }
    int last(double high, double origin, int count) const
    {
        return std::min(count - 1, static_cast<int>(std::floor((high - origin) / m_step)));
    }

    /// Notes where the columns under a triangle meet it.
    void pierce(Vec3 a, Vec3 b, Vec3 c)
    {
        const double twice = (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
        if (twice == 0)
            return;
        const int endX = last(std::max({a.x, b.x, c.x}), m_x0, m_nx);
        const int endY = last(std::max({a.y, b.y, c.y}), m_y0, m_ny);
        for (int i = first(std::min({a.x, b.x, c.x}), m_x0); i <= endX; ++i)
            for (int j = first(std::min({a.y, b.y, c.y}), m_y0); j <= endY; ++j) {
                const double x = m_x0 + i * m_step, y = m_y0 + j * m_step;
                const double u = ((b.x - x) * (c.y - y) - (b.y - y) * (c.x - x)) / twice;
                const double v = ((c.x - x) * (a.y - y) - (c.y - y) * (a.x - x)) / twice;
                if (u >= 0 && v >= 0 && u + v <= 1)
                    at(i, j).push_back(u * a.z + v * b.z + (1 - u - v) * c.z);
            }
    }

    double m_step = 1, m_x0 = 0, m_y0 = 0;
    int m_nx = 1, m_ny = 1;
    std::vector<std::vector<double>> m_walls;
};

} // namespace

SolidCloud::SolidCloud(const mesh::Mesh& mesh, const mesh::Buffer<Vec3>& outline, unsigned seed)
{
    if (mesh.empty())
        return;
    for (const mesh::SurfacePoint& s : mesh::sampledSurface(mesh, surfacePoints, seed))
        m_points.push_back(s.point);
    m_points.insert(m_points.end(), outline.begin(), outline.end());
    Columns(mesh).fill(m_points);
}

std::size_t SolidCloud::cellsHeld(const GridFrame& frame, const CellCounts& counts) const
{
    const mesh::Box3 box = boundsIn(frame, m_points);
    const Vec3 size = box.extents();
    std::vector<char> held(static_cast<std::size_t>(counts[0]) * static_cast<std::size_t>(counts[1]) *
                           static_cast<std::size_t>(counts[2]));
    const auto along = [](double from, double extent, int n, double v) {
        return extent > 0 ? std::clamp(static_cast<int>((v - from) / extent * n), 0, n - 1) : 0;
    };
    for (const Vec3 p : m_points) {
        const int i = along(box.min.x, size.x, counts[0], dot(frame.axes[0], p));
        const int j = along(box.min.y, size.y, counts[1], dot(frame.axes[1], p));
        const int k = along(box.min.z, size.z, counts[2], dot(frame.axes[2], p));
        held[static_cast<std::size_t>((i * counts[1] + j) * counts[2] + k)] = 1;
    }
    return static_cast<std::size_t>(std::count(held.begin(), held.end(), 1));
}

SolidCloud SolidCloud::side(const mesh::Plane& plane, bool above) const
{
    SolidCloud out;
    for (const Vec3 p : m_points)
        if ((plane.distance(p) >= 0) == above)
            out.m_points.push_back(p);
    return out;
}

} // namespace quoin::core
