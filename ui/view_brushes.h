// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/gl_parts.h"

#include "ui/colour.h"

#include <array>

namespace quoin::ui {

/// The shader programs of the view. A `with...` function makes one ready; then arrays are drawn.
class ViewBrushes {
public:
    using Matrix = std::array<float, 16>;
    using NormalMatrix = std::array<float, 9>;

    ViewBrushes();

    /// Fills the whole picture.
    void fill(const Colour& top, const Colour& bottom) const;
    /// @param glow  strength from 0 to 1
    void withFaces(const Matrix& toClip, const NormalMatrix& normalToView, bool mirrored, const Colour& glowColour,
                   double glow) const;
    void faceColour(const Colour& colour, double alpha) const { set(m_faces, "colour", colour, alpha); }
    /// Widths and sizes in pixels of what is drawn on.
    void withLines(const Matrix& toClip, const Colour& colour, double opacity, double lineWidthPx, int widthPx,
                   int heightPx) const;
    void withPlain(const Matrix& toClip, const Colour& colour, double opacity) const;

private:
    static void set(const GlProgram& program, const char* name, const Colour& colour, double alpha);
    static void set(const GlProgram& program, const Matrix& toClip);

    GlProgram m_faces, m_lines, m_plain, m_background;
    GlArrays m_nothing;
};

} // namespace quoin::ui
