// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
// GLEW must come before any other OpenGL header.
#include <GL/glew.h>

#include "ui/gl_context.h"

#include <EGL/egl.h>
#include <EGL/eglext.h>
#include <array>
#include <mutex>

namespace quoin::ui {

struct GlContext::Inside {
    EGLDisplay display = EGL_NO_DISPLAY;
    EGLContext context = EGL_NO_CONTEXT;
    bool current = false;

    Inside()
    {
        const auto getDisplay =
            reinterpret_cast<PFNEGLGETPLATFORMDISPLAYEXTPROC>(eglGetProcAddress("eglGetPlatformDisplayEXT"));
        if (getDisplay == nullptr)
            return;
        display = getDisplay(EGL_PLATFORM_SURFACELESS_MESA, EGL_DEFAULT_DISPLAY, nullptr);
        if (display == EGL_NO_DISPLAY || !eglInitialize(display, nullptr, nullptr) || !eglBindAPI(EGL_OPENGL_API))
            return;
        constexpr std::array<EGLint, 5> configWanted{EGL_SURFACE_TYPE, EGL_PBUFFER_BIT, EGL_RENDERABLE_TYPE,
                                                     EGL_OPENGL_BIT, EGL_NONE};
        EGLConfig config = nullptr;
        EGLint found = 0;
        if (!eglChooseConfig(display, configWanted.data(), &config, 1, &found) || found == 0)
            return;
        constexpr std::array<EGLint, 7> contextWanted{
            EGL_CONTEXT_MAJOR_VERSION,           3,       EGL_CONTEXT_MINOR_VERSION, 2, EGL_CONTEXT_OPENGL_PROFILE_MASK,
            EGL_CONTEXT_OPENGL_CORE_PROFILE_BIT, EGL_NONE};
        context = eglCreateContext(display, config, EGL_NO_CONTEXT, contextWanted.data());
        current = context != EGL_NO_CONTEXT && eglMakeCurrent(display, EGL_NO_SURFACE, EGL_NO_SURFACE, context);
    }
    ~Inside()
    {
        // The display isn't terminated: it is one for the process, and another thread may be drawing on it.
        if (current)
            eglMakeCurrent(display, EGL_NO_SURFACE, EGL_NO_SURFACE, EGL_NO_CONTEXT);
        if (context != EGL_NO_CONTEXT)
            eglDestroyContext(display, context);
        eglReleaseThread();
    }
    Inside(const Inside&) = delete;
    Inside& operator=(const Inside&) = delete;
};

GlContext::GlContext(std::unique_ptr<Inside> inside) : m_inside(std::move(inside)) {}

GlContext::~GlContext() = default;

Result<std::unique_ptr<GlContext>> GlContext::openSurfaceless()
{
    auto inside = std::make_unique<Inside>();
    if (!inside->current || !loadGlFunctions())
        return noOpenGl();
    return std::unique_ptr<GlContext>(new GlContext(std::move(inside)));
}

bool loadGlFunctions()
{
    // GLEW keeps its pointers in one place for all threads; they are the same for all contexts of a machine.
    static std::mutex one;
    const std::lock_guard lock(one);
    const GLenum state = glewInit();
    // GLEW loads all functions first and then reports that there is no GLX display, which a surfaceless context
    // doesn't have or need.
    return (state == GLEW_OK || state == GLEW_ERROR_NO_GLX_DISPLAY) && GLEW_VERSION_3_2;
}

Problem noOpenGl()
{
    return {Reason::FileUnwritable,
            "can't draw pictures: this machine has no OpenGL 3.2 that works without a display",
            {},
            {},
            "Install the Debian packages libegl1, libegl-mesa0 and libgl1-mesa-dri."};
}

} // namespace quoin::ui
