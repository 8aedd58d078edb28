// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/gl_parts.h"
#include "ui/patch_order.h"
#include "ui/view_scene.h"

#include <vector>

namespace quoin::ui {

/// The polylines and patches of a scene on the graphics card: few points, sent anew with each scene.
class LooseShapes {
public:
    void send(const ViewScene& scene);

    const PatchOrder& patches() const { return m_patches; }
    /// A polyline as line segments.
    void drawLine(std::size_t line) const;
    void drawPiece(std::size_t piece) const;

private:
    struct Range {
        int first, count;
    };
    PatchOrder m_patches;
    GlArrays m_points;
    std::vector<Range> m_lines, m_pieces;
};

} // namespace quoin::ui
