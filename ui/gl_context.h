// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/result.h"

#include <memory>

namespace quoin::ui {

/// An OpenGL 3.2 core context of EGL's surfaceless platform (Mesa), with or without a display. It is current on the
/// thread that opened it until it goes away; one at a time there.
class GlContext {
public:
    /// FileUnwritable, naming the packages to install, when the machine has no such OpenGL.
    static Result<std::unique_ptr<GlContext>> openSurfaceless();
    ~GlContext();
    GlContext(const GlContext&) = delete;
    GlContext& operator=(const GlContext&) = delete;

private:
    struct Inside;
    explicit GlContext(std::unique_ptr<Inside> inside);
    std::unique_ptr<Inside> m_inside;
};

/// Finds the functions of the context that is current on this thread, whoever made it. False when it has no OpenGL
/// 3.2. May be called on several threads at once.
bool loadGlFunctions();

/// What to say when there is no OpenGL.
Problem noOpenGl();

} // namespace quoin::ui
