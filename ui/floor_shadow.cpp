// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/floor_shadow.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace quoin::ui {

using mesh::Box3;
using mesh::Vec3;

namespace {

constexpr int longestSideCells = 240;
constexpr double borderShare = 0.22;     ///< room for the blur, of the larger side
constexpr double fadeHeightShare = 0.45; ///< of the larger side: things this high darken by 1/e
constexpr int blurRounds = 3;

class Canvas {
public:
    Canvas(const Box3& box)
    {
        const Vec3 e = box.extents();
        m_larger = std::max({e.x, e.y, 0.25 * e.z, 1e-6});
        const double border = borderShare * m_larger;
        m_shadow.corner = box.min - Vec3{border, border, 0};
        m_shadow.widthMm = e.x + 2 * border;
        m_shadow.depthMm = e.y + 2 * border;
        m_cell = std::max(m_shadow.widthMm, m_shadow.depthMm) / longestSideCells;
        m_shadow.columns = std::max(1, static_cast<int>(std::lround(m_shadow.widthMm / m_cell)));
        m_shadow.rows = std::max(1, static_cast<int>(std::lround(m_shadow.depthMm / m_cell)));
        m_dark.assign(static_cast<std::size_t>(m_shadow.columns) * static_cast<std::size_t>(m_shadow.rows), 0.0F);
    }

    void add(const std::array<Vec3, 3>& corner)
    {
        std::array<double, 3> x{}, y{};
        for (std::size_t k = 0; k < 3; ++k) {
            x[k] = (corner[k].x - m_shadow.corner.x) / m_cell;
            y[k] = (corner[k].y - m_shadow.corner.y) / m_cell;
        }
        const double height = std::min({corner[0].z, corner[1].z, corner[2].z}) - m_shadow.corner.z;
        const float dark = static_cast<float>(std::exp(-height / (fadeHeightShare * m_larger)));
        const auto [xLow, xHigh] = std::ranges::minmax(x);
        const auto [yLow, yHigh] = std::ranges::minmax(y);
        const double twice = (x[1] - x[0]) * (y[2] - y[0]) - (x[2] - x[0]) * (y[1] - y[0]);
        for (int j = static_cast<int>(yLow); j <= std::min(static_cast<int>(yHigh), m_shadow.rows - 1); ++j)
            for (int i = static_cast<int>(xLow); i <= std::min(static_cast<int>(xHigh), m_shadow.columns - 1); ++i) {
                const double px = i + 0.5 - x[0], py = j + 0.5 - y[0];
                const double b = (px * (y[2] - y[0]) - py * (x[2] - x[0])) / twice;
                const double c = (py * (x[1] - x[0]) - px * (y[1] - y[0])) / twice;
                if (b >= 0 && c >= 0 && b + c <= 1) {
                    float& at = m_dark[index(i, j)];
                    at = std::max(at, dark);
                }
            }
    }

    FloorShadow blurred() &&
    {
        const int radius = std::max(1, static_cast<int>(borderShare * m_larger / m_cell / (blurRounds + 1)));
        for (int round = 0; round < blurRounds; ++round) {
            blurLines(m_shadow.columns, m_shadow.rows, 1, m_shadow.columns, radius);
            blurLines(m_shadow.rows, m_shadow.columns, m_shadow.columns, 1, radius);
        }
        m_shadow.darkness.resize(m_dark.size());
        std::ranges::transform(m_dark, m_shadow.darkness.begin(), [](float d) {
            return static_cast<std::uint8_t>(std::lround(255 * std::clamp(d, 0.0F, 1.0F)));
        });
        return std::move(m_shadow);
    }

private:
    std::size_t index(int column, int row) const
    {
        return static_cast<std::size_t>(row) * static_cast<std::size_t>(m_shadow.columns) +
               static_cast<std::size_t>(column);
    }
    /// Running mean along each of `lines` lines of `count` cells, `step` apart; lines are `stride` apart.
    void blurLines(int count, int lines, int step, int stride, int radius)
    {
        std::vector<float> line(static_cast<std::size_t>(count));
        for (int l = 0; l < lines; ++l) {
            const auto cell = [&](int i) -> float& { return m_dark[static_cast<std::size_t>(l * stride + i * step)]; };
            for (int i = 0; i < count; ++i)
                line[static_cast<std::size_t>(i)] = cell(i);
            double sum = 0;
            for (int i = 0; i < std::min(radius, count); ++i)
                sum += line[static_cast<std::size_t>(i)];
            for (int i = 0; i < count; ++i) {
                if (i + radius < count)
                    sum += line[static_cast<std::size_t>(i + radius)];
                if (i - radius - 1 >= 0)
                    sum -= line[static_cast<std::size_t>(i - radius - 1)];
                cell(i) = static_cast<float>(sum / (2 * radius + 1));
            }
        }
    }

    FloorShadow m_shadow;
    double m_larger = 1, m_cell = 1;
    std::vector<float> m_dark;
};

} // namespace

FloorShadow floorShadow(const std::vector<PlacedMesh>& items, const Box3& box)
{
    Canvas canvas(box);
    for (const PlacedMesh& item : items)
        for (const auto& t : item.mesh->triangles) {
            const auto& p = item.mesh->points;
            canvas.add({item.placement.point(p[t[0]]), item.placement.point(p[t[1]]), item.placement.point(p[t[2]])});
        }
    return std::move(canvas).blurred();
}

} // namespace quoin::ui
