// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/draw_mesh_data.h"
#include "ui/gl_parts.h"
#include "ui/view_scene.h"

#include <optional>
#include <vector>

namespace quoin::ui {

/// A mesh on the graphics card. Each chunk goes there when it is first drawn, so that a large mesh arrives in slices.
class GpuMesh {
public:
    explicit GpuMesh(DrawMeshPtr mesh) : m_mesh(std::move(mesh)), m_levels(m_mesh->levels.size()) {}

    const DrawMesh& mesh() const { return *m_mesh; }
    const DrawLevel& level(std::size_t i) const { return m_mesh->levels[i]; }
    /// Triangles that would have to be sent before this level could be drawn.
    std::size_t trianglesToSend(std::size_t level) const;

    enum class Part { Skin, Labelled, All };
    void drawFaces(std::size_t level, std::size_t chunk, Part part);
    /// As line segments.
    void drawBorders(std::size_t level);

private:
    struct Sent {
        std::vector<std::optional<GlArrays>> chunks;
        std::optional<GlArrays> borders;
    };
    DrawMeshPtr m_mesh;
    std::vector<Sent> m_levels;
};

} // namespace quoin::ui
