// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/gl_parts.h"

#include <numeric>
#include <stdexcept>
#include <utility>

namespace quoin::ui {

namespace {

constexpr GLsizei logLength = 2000;

GLuint compiled(GLenum stage, const std::string& source)
{
    const GLuint shader = glCreateShader(stage);
    const char* text = source.c_str();
    glShaderSource(shader, 1, &text, nullptr);
    glCompileShader(shader);
    GLint done = 0;
    glGetShaderiv(shader, GL_COMPILE_STATUS, &done);
    if (done == GL_TRUE)
        return shader;
    std::string log(logLength, '\0');
    GLsizei used = 0;
    glGetShaderInfoLog(shader, logLength, &used, log.data());
    log.resize(static_cast<std::size_t>(used));
    glDeleteShader(shader);
    throw std::runtime_error("a shader can't be compiled: " + log);
}

} // namespace

GlProgram::GlProgram(const std::string& vertex, const std::string& geometry, const std::string& fragment)
    : m_program(glCreateProgram())
{
    for (const auto& [stage, source] : {std::pair<GLenum, const std::string&>{GL_VERTEX_SHADER, vertex},
                                        {GL_GEOMETRY_SHADER, geometry},
                                        {GL_FRAGMENT_SHADER, fragment}}) {
        if (source.empty())
            continue;
        const GLuint shader = compiled(stage, source);
        glAttachShader(m_program, shader);
        glDeleteShader(shader); // it lives as long as the program that it is attached to
    }
    glBindAttribLocation(m_program, 0, "point");
    glBindAttribLocation(m_program, 1, "normal");
    glLinkProgram(m_program);
    GLint done = 0;
    glGetProgramiv(m_program, GL_LINK_STATUS, &done);
    if (done != GL_TRUE)
        throw std::runtime_error("a shader program can't be linked");
}

GlArrays::GlArrays()
{
    glGenVertexArrays(1, &m_array);
}

GlArrays::GlArrays(GlArrays&& other) noexcept
    : m_array(std::exchange(other.m_array, 0)),
      m_vertices(std::exchange(other.m_vertices, 0)),
      m_indices(std::exchange(other.m_indices, 0))
{
}

GlArrays::~GlArrays()
{
    // Zero is let go of silently.
    glDeleteVertexArrays(1, &m_array);
    glDeleteBuffers(1, &m_vertices);
    glDeleteBuffers(1, &m_indices);
}

void GlArrays::setVertices(std::span<const std::byte> bytes, std::initializer_list<int> floatsEach)
{
    if (m_vertices == 0)
        glGenBuffers(1, &m_vertices);
    glBindVertexArray(m_array);
    glBindBuffer(GL_ARRAY_BUFFER, m_vertices);
    glBufferData(GL_ARRAY_BUFFER, static_cast<GLsizeiptr>(bytes.size()), bytes.data(), GL_STATIC_DRAW);
    const int floats = std::accumulate(floatsEach.begin(), floatsEach.end(), 0);
    GLuint attribute = 0;
    std::size_t offset = 0;
    for (const int n : floatsEach) {
        glEnableVertexAttribArray(attribute);
        glVertexAttribPointer(attribute, n, GL_FLOAT, GL_FALSE, floats * static_cast<int>(sizeof(float)),
                              reinterpret_cast<const void*>(offset));
        offset += static_cast<std::size_t>(n) * sizeof(float);
        ++attribute;
    }
}

void GlArrays::setIndices(std::span<const std::byte> bytes)
{
    if (m_indices == 0)
        glGenBuffers(1, &m_indices);
    glBindVertexArray(m_array);
    glBindBuffer(GL_ELEMENT_ARRAY_BUFFER, m_indices);
    glBufferData(GL_ELEMENT_ARRAY_BUFFER, static_cast<GLsizeiptr>(bytes.size()), bytes.data(), GL_STATIC_DRAW);
}

bool GlTarget::bind(int widthPx, int heightPx)
{
    if (widthPx == m_widthPx && heightPx == m_heightPx) {
        glBindFramebuffer(GL_FRAMEBUFFER, m_frame);
        return true;
    }
    clear();
    glGenFramebuffers(1, &m_frame);
    glBindFramebuffer(GL_FRAMEBUFFER, m_frame);
    const auto attach = [&](GLuint& buffer, GLenum format, GLenum place) {
        glGenRenderbuffers(1, &buffer);
        glBindRenderbuffer(GL_RENDERBUFFER, buffer);
        glRenderbufferStorage(GL_RENDERBUFFER, format, widthPx, heightPx);
        glFramebufferRenderbuffer(GL_FRAMEBUFFER, place, GL_RENDERBUFFER, buffer);
    };
    attach(m_colour, GL_RGBA8, GL_COLOR_ATTACHMENT0);
    attach(m_depth, GL_DEPTH24_STENCIL8, GL_DEPTH_STENCIL_ATTACHMENT);
    if (glCheckFramebufferStatus(GL_FRAMEBUFFER) != GL_FRAMEBUFFER_COMPLETE) {
        clear();
        return false;
    }
    m_widthPx = widthPx;
    m_heightPx = heightPx;
    return true;
}

void GlTarget::clear()
{
    if (m_frame == 0)
        return;
    glDeleteFramebuffers(1, &m_frame);
    glDeleteRenderbuffers(1, &m_colour);
    glDeleteRenderbuffers(1, &m_depth);
    m_frame = m_colour = m_depth = 0;
    m_widthPx = m_heightPx = 0;
}

} // namespace quoin::ui
