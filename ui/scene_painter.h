// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/orbit_camera.h"
#include "ui/view_scene.h"

#include <QImage>

#include <functional>
#include <limits>
#include <memory>

namespace quoin::ui {

/// How a scene is to be drawn.
struct PaintOptions {
    int widthPx = 0, heightPx = 0; ///< of the picture
    double pixelRatio = 1;         ///< pixels of the picture to a pixel of the camera's widget: for the width of lines
    bool smooth = false;           ///< outlines are smoothed: several samples a pixel
    /// Large meshes are drawn coarsely so as to keep to this.
    std::size_t mostTriangles = std::numeric_limits<std::size_t>::max();
    /// Asked between slices of work; true gives the picture up.
    std::function<bool()> stop = [] { return false; };
};

/// What came of it.
struct Painted {
    QImage image;      ///< null when given up
    bool full = false; ///< every mesh at full detail
};

/// Draws scenes with VTK on the OpenGL context that is current on its thread. Meshes are sent to the card once and stay
/// there as long as the scene holds them. See-through patches are split and drawn from back to front, see-through
/// solids by where they begin.
class ScenePainter {
public:
    /// Throws std::runtime_error when VTK can't use the context.
    ScenePainter();
    ~ScenePainter();

    void setScene(ViewScenePtr scene);
    /// Triangles that have to be sent to the card before the scene can be drawn at full detail.
    std::size_t trianglesToSend() const;
    /// Triangles of the scene at full detail.
    std::size_t trianglesInAll() const;
    Painted paint(const OrbitCamera& camera, const PaintOptions& options);

private:
    class Inside;
    std::unique_ptr<Inside> m_inside;
};

} // namespace quoin::ui
