// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

// GLEW must come before any other OpenGL header: include this file first.
#include <GL/glew.h>

#include <array>
#include <cstddef>
#include <span>
#include <string>

/// Small owners of OpenGL objects. Made, used and let go of on the thread whose context they belong to.
namespace quoin::ui {

/// A shader program; attribute 0 is `point`, attribute 1 is `normal`.
class GlProgram {
public:
    /// An empty geometry stage is left out. Throws std::runtime_error with the driver's words when it can't be built:
    /// the sources are our own.
    GlProgram(const std::string& vertex, const std::string& geometry, const std::string& fragment);
    ~GlProgram() { glDeleteProgram(m_program); }
    GlProgram(const GlProgram&) = delete;
    GlProgram& operator=(const GlProgram&) = delete;

    void use() const { glUseProgram(m_program); }
    GLint uniform(const char* name) const { return glGetUniformLocation(m_program, name); }

private:
    GLuint m_program = 0;
};

/// Vertices, and perhaps indices, on the card.
class GlArrays {
public:
    GlArrays();
    ~GlArrays();
    GlArrays(GlArrays&& other) noexcept;
    GlArrays& operator=(GlArrays&&) = delete;
    GlArrays(const GlArrays&) = delete;

    /// Attributes of `floatsEach` floats lie one after another in each vertex, attribute 0 first.
    void setVertices(std::span<const std::byte> bytes, std::initializer_list<int> floatsEach);
    void setIndices(std::span<const std::byte> bytes);
    void bind() const { glBindVertexArray(m_array); }

private:
    GLuint m_array = 0, m_vertices = 0, m_indices = 0;
};

/// A picture in memory to draw on: colour with alpha, depth and stencil.
class GlTarget {
public:
    GlTarget() = default;
    ~GlTarget() { clear(); }
    GlTarget(const GlTarget&) = delete;
    GlTarget& operator=(const GlTarget&) = delete;

    /// Made anew only when the size differs. False when the driver refuses.
    bool bind(int widthPx, int heightPx);
    int widthPx() const { return m_widthPx; }
    int heightPx() const { return m_heightPx; }

private:
    void clear();
    GLuint m_frame = 0, m_colour = 0, m_depth = 0;
    int m_widthPx = 0, m_heightPx = 0;
};

} // namespace quoin::ui
