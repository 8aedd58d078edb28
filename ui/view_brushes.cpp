// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/view_brushes.h"

#include "ui/view_shaders.h"

namespace quoin::ui {

namespace {

GlProgram programOf(const ShaderSources& sources)
{
    return {sources.vertex, sources.geometry, sources.fragment};
}

} // namespace

ViewBrushes::ViewBrushes()
    : m_faces(programOf(faceShaders())),
      m_lines(programOf(lineShaders())),
      m_plain(programOf(plainShaders())),
      m_background(programOf(backgroundShaders()))
{
}

void ViewBrushes::set(const GlProgram& program, const char* name, const Colour& colour, double alpha)
{
    glUniform4f(program.uniform(name), static_cast<float>(colour.r), static_cast<float>(colour.g),
                static_cast<float>(colour.b), static_cast<float>(alpha));
}

void ViewBrushes::set(const GlProgram& program, const Matrix& toClip)
{
    glUniformMatrix4fv(program.uniform("toClip"), 1, GL_FALSE, toClip.data());
}

void ViewBrushes::fill(const Colour& top, const Colour& bottom) const
{
    glDisable(GL_DEPTH_TEST);
    m_background.use();
    set(m_background, "top", top, 1);
    set(m_background, "bottom", bottom, 1);
    m_nothing.bind();
    glDrawArrays(GL_TRIANGLES, 0, 3);
    glEnable(GL_DEPTH_TEST);
}

void ViewBrushes::withFaces(const Matrix& toClip, const NormalMatrix& normalToView, bool mirrored,
                            const Colour& glowColour, double glow) const
{
    m_faces.use();
    set(m_faces, toClip);
    glUniformMatrix3fv(m_faces.uniform("normalToView"), 1, GL_FALSE, normalToView.data());
    glUniform1f(m_faces.uniform("front"), mirrored ? -1.0F : 1.0F);
    set(m_faces, "glow", glowColour, glow);
}

void ViewBrushes::withLines(const Matrix& toClip, const Colour& colour, double opacity, double lineWidthPx, int widthPx,
                            int heightPx) const
{
    m_lines.use();
    set(m_lines, toClip);
    glUniform2f(m_lines.uniform("halfSizePx"), static_cast<float>(widthPx) / 2, static_cast<float>(heightPx) / 2);
    glUniform1f(m_lines.uniform("halfWidthPx"), static_cast<float>(lineWidthPx / 2));
    set(m_lines, "colour", colour, opacity);
}

void ViewBrushes::withPlain(const Matrix& toClip, const Colour& colour, double opacity) const
{
    m_plain.use();
    set(m_plain, toClip);
    set(m_plain, "colour", colour, opacity);
}

} // namespace quoin::ui
