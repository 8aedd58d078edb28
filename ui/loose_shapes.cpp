// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/loose_shapes.h"

#include <algorithm>

namespace quoin::ui {

using mesh::Vec3;

void LooseShapes::send(const ViewScene& scene)
{
    std::vector<std::array<float, 3>> points;
    const auto add = [&](Vec3 p) {
        points.push_back({static_cast<float>(p.x), static_cast<float>(p.y), static_cast<float>(p.z)});
    };
    const auto rangeSince = [&](std::size_t first) {
        return Range{static_cast<int>(first), static_cast<int>(points.size() - first)};
    };
    m_lines.clear();
    for (const ViewPolyline& line : scene.lines) {
        const std::size_t first = points.size();
        for (std::size_t i = 0; i + 1 < line.points.size(); ++i) {
            add(line.points[i]);
            add(line.points[i + 1]);
        }
        if (line.closed && line.points.size() > 2) {
            add(line.points.back());
            add(line.points.front());
        }
        m_lines.push_back(rangeSince(first));
    }
    std::vector<std::vector<Vec3>> patches;
    for (const ViewPatch& patch : scene.patches)
        patches.push_back(patch.corners);
    m_patches = PatchOrder(patches);
    m_pieces.clear();
    for (const PatchPiece& piece : m_patches.pieces()) {
        const std::size_t first = points.size();
        std::ranges::for_each(piece.corners, add);
        m_pieces.push_back(rangeSince(first));
    }
    m_points.setVertices(std::as_bytes(std::span(points)), {3});
}

void LooseShapes::drawLine(std::size_t line) const
{
    m_points.bind();
    glDrawArrays(GL_LINES, m_lines[line].first, m_lines[line].count);
}

void LooseShapes::drawPiece(std::size_t piece) const
{
    m_points.bind();
    glDrawArrays(GL_TRIANGLE_FAN, m_pieces[piece].first, m_pieces[piece].count);
}

} // namespace quoin::ui
