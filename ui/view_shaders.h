// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

namespace quoin::ui {

/// Sources in OpenGL's shading language 1.50, for GlProgram.
struct ShaderSources {
    std::string vertex, geometry, fragment;
};

/// Lit faces. Uniforms: mat4 toClip; mat3 normalToView; float front (1, or -1 when the map mirrors); vec4 colour
/// (opacity last); vec4 glow (strength last).
ShaderSources faceShaders();
/// Lines of any width as rectangles, since drivers need not know wide ones. Uniforms: mat4 toClip; vec2 halfSizePx
/// (of the picture); float halfWidthPx; vec4 colour.
ShaderSources lineShaders();
/// One colour, unlit. Uniforms: mat4 toClip; vec4 colour.
ShaderSources plainShaders();
/// The whole picture filled, from `top` to `bottom` (vec4); needs three vertices and no arrays.
ShaderSources backgroundShaders();

} // namespace quoin::ui
