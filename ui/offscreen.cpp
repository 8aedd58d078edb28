// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/offscreen.h"

#include "ui/gl_context.h"
#include "ui/vtk_parts.h"

#include <vtkRenderWindow.h>

namespace quoin::ui {

/// The window first goes away, then the context that its buffers live in.
struct Offscreen::Inside {
    std::unique_ptr<GlContext> context;
    vtkSmartPointer<vtkRenderWindow> window;
};

Offscreen::Offscreen(std::unique_ptr<Inside> inside) : m_inside(std::move(inside)) {}

Offscreen::~Offscreen()
{
    if (m_inside->window)
        m_inside->window->Finalize();
}

Result<std::unique_ptr<Offscreen>> Offscreen::open(int widthPx, int heightPx)
{
    auto context = GlContext::openSurfaceless();
    if (!context)
        return context.problem();
    auto inside = std::make_unique<Inside>();
    inside->context = *std::move(context);
    inside->window = windowOnCurrentContext(widthPx, heightPx);
    if (!inside->window)
        return noOpenGl();
    return std::unique_ptr<Offscreen>(new Offscreen(std::move(inside)));
}

vtkRenderWindow* Offscreen::window() const
{
    return m_inside->window;
}

} // namespace quoin::ui
