// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/result.h"

#include <memory>

class vtkRenderWindow;

namespace quoin::ui {

/// A place to draw in memory, with or without a display: an OpenGL context of EGL's surfaceless platform (Mesa). It
/// is current on the thread that opened it until it goes away; use it on that thread only, one at a time there.
class Offscreen {
public:
    /// FileUnwritable, naming the packages to install, when the machine has no such OpenGL.
    static Result<std::unique_ptr<Offscreen>> open(int widthPx, int heightPx);
    ~Offscreen();
    Offscreen(const Offscreen&) = delete;
    Offscreen& operator=(const Offscreen&) = delete;

    /// VTK's window on the context. Render it as usual; read the picture from its back buffer.
    vtkRenderWindow* window() const;

private:
    struct Inside;
    explicit Offscreen(std::unique_ptr<Inside> inside);
    std::unique_ptr<Inside> m_inside;
};

} // namespace quoin::ui
