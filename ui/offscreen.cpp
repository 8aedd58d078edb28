// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
// GLEW must come before any other OpenGL header.
#include <GL/glew.h>

#include "ui/offscreen.h"

#include "ui/gl_context.h"

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
        this->GlewInitValid = loadGlFunctions();
        this->Initialized = this->GlewInitValid;
        this->MaximumHardwareLineWidth = 1; // wider ones are drawn by VTK's shader, which every driver can
    }
    bool usable() const { return this->Initialized; }

protected:
    SurfacelessWindow() = default;
};
vtkStandardNewMacro(SurfacelessWindow)

} // namespace

/// The window first goes away, then the context that its buffers live in.
struct Offscreen::Inside {
    std::unique_ptr<GlContext> context;
    vtkNew<SurfacelessWindow> window;
};

Offscreen::Offscreen(std::unique_ptr<Inside> inside) : m_inside(std::move(inside)) {}

Offscreen::~Offscreen()
{
    m_inside->window->Finalize();
}

Result<std::unique_ptr<Offscreen>> Offscreen::open(int widthPx, int heightPx)
{
    auto context = GlContext::openSurfaceless();
    if (!context)
        return context.problem();
    auto inside = std::make_unique<Inside>();
    inside->context = *std::move(context);
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
