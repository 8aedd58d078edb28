// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/view_shaders.h"

#include "ui/studio_light.h"

#include <fmt/format.h>

namespace quoin::ui {

namespace {

constexpr const char* plainFragment = R"(#version 150
uniform vec4 colour;
out vec4 pixel;
void main() { pixel = colour; }
)";

constexpr const char* plainVertex = R"(#version 150
in vec3 point;
uniform mat4 toClip;
void main() { gl_Position = toClip * vec4(point, 1.0); }
)";

/// The lamps as sums written out: a loop over uniforms costs a software driver a third of its time.
std::string lampTerms()
{
    std::string text;
    for (const Lamp& lamp : studioLamps) {
        const mesh::Vec3 d = normalized(lamp.from);
        // The mirrored ray towards the viewer, who is taken to be far away: r.z = 2 (n.l) n.z - l.z
        text += fmt::format("    at = dot(n, vec3({:.5f}, {:.5f}, {:.5f}));\n"
                            "    lit += {:.5f} * max(at, 0.0);\n"
                            "    shine += {:.5f} * step(0.0, at) * pow(max(2.0 * at * n.z - {:.5f}, 0.0), {:.1f});\n",
                            d.x, d.y, d.z, lamp.strength, lamp.strength, d.z, specularPower);
    }
    return text;
}

} // namespace

ShaderSources faceShaders()
{
    const std::string vertex = R"(#version 150
in vec3 point;
in vec3 normal;
uniform mat4 toClip;
uniform mat3 normalToView;
out vec3 across;
void main() {
    gl_Position = toClip * vec4(point, 1.0);
    across = normalToView * normal;
}
)";
    const std::string fragment = fmt::format(R"(#version 150
in vec3 across;
uniform float front;
uniform vec4 colour;
uniform vec4 glow;
out vec4 pixel;
void main() {{
    vec3 n = normalize(across) * (gl_FrontFacing ? front : -front);
    float lit = 0.0, shine = 0.0, at;
{}    vec3 seen = colour.rgb * ({:.3f} + {:.3f} * lit) + {:.3f} * shine;
    float rim = 1.0 - abs(n.z);
    seen = mix(seen, glow.rgb, glow.a * (0.2 + 0.4 * rim * rim));
    pixel = vec4(min(seen, 1.0), colour.a);
}}
)",
                                             lampTerms(), ambientShare, diffuseShare, specularShare);
    return {vertex, {}, fragment};
}

ShaderSources lineShaders()
{
    const std::string geometry = R"(#version 150
layout(lines) in;
layout(triangle_strip, max_vertices = 4) out;
uniform vec2 halfSizePx;
uniform float halfWidthPx;
void main() {
    vec4 a = gl_in[0].gl_Position, b = gl_in[1].gl_Position;
    // Only what is before the near plane (z > -w) has a place in the picture.
    float da = a.z + a.w, db = b.z + b.w;
    if (da <= 0.0 && db <= 0.0)
        return;
    if (da < 0.0)
        a = mix(a, b, da / (da - db));
    else if (db < 0.0)
        b = mix(b, a, db / (db - da));
    vec2 along = b.xy / b.w * halfSizePx - a.xy / a.w * halfSizePx;
    float size = length(along);
    along = size > 1e-4 ? along / size : vec2(1.0, 0.0);
    vec2 aside = halfWidthPx * vec2(-along.y, along.x) / halfSizePx;
    // A little past both ends, so that corners of a polyline close.
    vec2 past = 0.5 * halfWidthPx * along / halfSizePx;
    gl_Position = vec4(a.xy + (aside - past) * a.w, a.zw); EmitVertex();
    gl_Position = vec4(a.xy + (-aside - past) * a.w, a.zw); EmitVertex();
    gl_Position = vec4(b.xy + (aside + past) * b.w, b.zw); EmitVertex();
    gl_Position = vec4(b.xy + (-aside + past) * b.w, b.zw); EmitVertex();
    EndPrimitive();
}
)";
    return {plainVertex, geometry, plainFragment};
}

ShaderSources plainShaders()
{
    return {plainVertex, {}, plainFragment};
}

ShaderSources backgroundShaders()
{
    const std::string vertex = R"(#version 150
out float height;
void main() {
    vec2 at = vec2(gl_VertexID == 1 ? 3.0 : -1.0, gl_VertexID == 2 ? 3.0 : -1.0);
    height = 0.5 - 0.5 * at.y;
    gl_Position = vec4(at, 0.0, 1.0);
}
)";
    const std::string fragment = R"(#version 150
in float height;
uniform vec4 top;
uniform vec4 bottom;
out vec4 pixel;
void main() { pixel = mix(bottom, top, height); }
)";
    return {vertex, {}, fragment};
}

} // namespace quoin::ui
