// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
// GLEW must come before any other OpenGL header.
#include <GL/glew.h>

#include "ui/offscreen.h"

#include <EGL/egl.h>
#include <EGL/eglext.h>
#include <array>
#include <string>
#include <vtkGenericOpenGLRenderWindow.h>
#include <vtkNew.h>
#include <vtkObjectFactory.h>
#include <vtkOpenGLState.h>

namespace quoin::ui {

namespace {

/// VTK's window for contexts that someone else made, except that it accepts a context without GLX: GLEW loads all
/// functions first and then reports that there is no GLX display, which a surfaceless context doesn't have or need.
class SurfacelessWindow : public vtkGenericOpenGLRenderWindow {
public:
    static SurfacelessWindow* New();
    SurfacelessWindow(const SurfacelessWindow&) = delete;
    SurfacelessWindow& operator=(const SurfacelessWindow&) = delete;

    void OpenGLInitContext() override
    {
        this->ContextCreationTime.Modified();
        if (this->Initialized)
            return;
        const GLenum state = glewInit();
        this->GlewInitValid = (state == GLEW_OK || state == GLEW_ERROR_NO_GLX_DISPLAY) && GLEW_VERSION_3_2;
        this->Initialized = this->GlewInitValid;
        this->MaximumHardwareLineWidth = 1; // wider ones are drawn by VTK's shader, which every driver can
    }
    bool usable() const { return this->Initialized; }

protected:
    SurfacelessWindow() = default;
};
vtkStandardNewMacro(SurfacelessWindow)

    /// An OpenGL 3.2 context without a surface, made current; let go of at the end.
    class Context {
public:
    Context()
    {
        const auto getDisplay =
            reinterpret_cast<PFNEGLGETPLATFORMDISPLAYEXTPROC>(eglGetProcAddress("eglGetPlatformDisplayEXT"));
        if (getDisplay == nullptr)
            return;
        m_display = getDisplay(EGL_PLATFORM_SURFACELESS_MESA, EGL_DEFAULT_DISPLAY, nullptr);
        if (m_display == EGL_NO_DISPLAY || !eglInitialize(m_display, nullptr, nullptr) || !eglBindAPI(EGL_OPENGL_API))
            return;
        constexpr std::array<EGLint, 5> configWanted{EGL_SURFACE_TYPE, EGL_PBUFFER_BIT, EGL_RENDERABLE_TYPE,
                                                     EGL_OPENGL_BIT, EGL_NONE};
        EGLConfig config = nullptr;
        EGLint found = 0;
        if (!eglChooseConfig(m_display, configWanted.data(), &config, 1, &found) || found == 0)
            return;
        constexpr std::array<EGLint, 7> contextWanted{
            EGL_CONTEXT_MAJOR_VERSION,           3,       EGL_CONTEXT_MINOR_VERSION, 2, EGL_CONTEXT_OPENGL_PROFILE_MASK,
            EGL_CONTEXT_OPENGL_CORE_PROFILE_BIT, EGL_NONE};
        m_context = eglCreateContext(m_display, config, EGL_NO_CONTEXT, contextWanted.data());
        m_current = m_context != EGL_NO_CONTEXT && eglMakeCurrent(m_display, EGL_NO_SURFACE, EGL_NO_SURFACE, m_context);
    }
    ~Context()
    {
        // The display isn't terminated: it is one for the process, and another thread may be drawing on it.
        if (m_current)
            eglMakeCurrent(m_display, EGL_NO_SURFACE, EGL_NO_SURFACE, EGL_NO_CONTEXT);
        if (m_context != EGL_NO_CONTEXT)
            eglDestroyContext(m_display, m_context);
        eglReleaseThread();
    }
    Context(const Context&) = delete;
    Context& operator=(const Context&) = delete;
    bool current() const { return m_current; }

private:
    EGLDisplay m_display = EGL_NO_DISPLAY;
    EGLContext m_context = EGL_NO_CONTEXT;
    bool m_current = false;
};

Problem noOpenGl()
{
    return {Reason::FileUnwritable,
            "can't draw pictures: this machine has no OpenGL 3.2 that works without a display",
            {},
            {},
            "Install the Debian packages libegl1, libegl-mesa0 and libgl1-mesa-dri."};
}

} // namespace

/// The window first goes away, then the context that its buffers live in.
struct Offscreen::Inside {
    Context context;
    vtkNew<SurfacelessWindow> window;
};

Offscreen::Offscreen(std::unique_ptr<Inside> inside) : m_inside(std::move(inside)) {}

Offscreen::~Offscreen()
{
    m_inside->window->Finalize();
}

Result<std::unique_ptr<Offscreen>> Offscreen::open(int widthPx, int heightPx)
{
    auto inside = std::make_unique<Inside>();
    if (!inside->context.current())
        return noOpenGl();
    SurfacelessWindow& window = *inside->window;
    window.SetOwnContext(0);
    window.SetReadyForRendering(true);
    window.SetIsCurrent(true);
    window.SetFrameBlitModeToNoBlit();
    window.SetSize(widthPx, heightPx);
    window.OpenGLInit();
    if (!window.usable())
        return noOpenGl();
    // What VTK's own windows ask for too; without it a flat thing hides all that is laid over it later.
    window.GetState()->vtkglDepthFunc(GL_LEQUAL);
    return std::unique_ptr<Offscreen>(new Offscreen(std::move(inside)));
}

vtkRenderWindow* Offscreen::window() const
{
    return m_inside->window;
}

} // namespace quoin::ui
