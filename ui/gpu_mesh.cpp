// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/gpu_mesh.h"

namespace quoin::ui {

std::size_t GpuMesh::trianglesToSend(std::size_t level) const
{
    const Sent& sent = m_levels[level];
    std::size_t count = 0;
    for (std::size_t c = 0; c < m_mesh->levels[level].chunks.size(); ++c)
        if (c >= sent.chunks.size() || !sent.chunks[c])
            count += m_mesh->levels[level].chunks[c].triangles.size();
    return count;
}

void GpuMesh::drawFaces(std::size_t level, std::size_t chunk, Part part)
{
    const DrawChunk& data = m_mesh->levels[level].chunks[chunk];
    const std::size_t first = part == Part::Labelled ? data.skinTriangles : 0;
    const std::size_t end = part == Part::Skin ? data.skinTriangles : data.triangles.size();
    if (first >= end)
        return;
    Sent& sent = m_levels[level];
    sent.chunks.resize(m_mesh->levels[level].chunks.size());
    if (!sent.chunks[chunk]) {
        sent.chunks[chunk].emplace();
        sent.chunks[chunk]->setVertices(std::as_bytes(std::span(data.vertices)), {3, 3});
        sent.chunks[chunk]->setIndices(std::as_bytes(std::span(data.triangles)));
    }
    sent.chunks[chunk]->bind();
    glDrawRangeElements(GL_TRIANGLES, 0, static_cast<GLuint>(data.vertices.size() - 1),
                        static_cast<GLsizei>(3 * (end - first)), GL_UNSIGNED_INT,
                        reinterpret_cast<const void*>(first * sizeof(mesh::Triangle)));
}

void GpuMesh::drawBorders(std::size_t level)
{
    const auto& points = m_mesh->levels[level].borders;
    if (points.empty())
        return;
    auto& arrays = m_levels[level].borders;
    if (!arrays) {
        arrays.emplace();
        arrays->setVertices(std::as_bytes(std::span(points)), {3});
    }
    arrays->bind();
    glDrawArrays(GL_LINES, 0, static_cast<GLsizei>(points.size()));
}

} // namespace quoin::ui
