// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/orbit_camera.h"
#include "ui/view_scene.h"

#include <QImage>
#include <QObject>

#include <memory>

namespace quoin::ui {

/// A picture and the camera that it was drawn with.
struct Frame {
    QImage image; ///< device pixels
    OrbitCamera camera;
    bool fine = true; ///< everything at full detail
    double drawMs = 0;
};

/// Draws scenes on a thread and an OpenGL context of its own, so that the window never waits for the graphics driver,
/// be it a slow one. The newest scene and camera win; what was asked before and not begun is dropped. While the view
/// moves, large meshes are drawn coarsely; when it has rested a moment, at full detail.
class RenderThread : public QObject {
    Q_OBJECT
public:
    explicit RenderThread(QObject* parent = nullptr);
    ~RenderThread() override;

    void setScene(ViewScenePtr scene);
    /// @param pixelRatio  device pixels a widget pixel
    void setCamera(const OrbitCamera& camera, double pixelRatio);
    /// True while a drag goes on: only coarse pictures are made.
    void setMoving(bool moving);

signals:
    void frameReady(const quoin::ui::Frame& frame);
    /// There is no way to draw on this machine: why, and what to install.
    void failed(const QString& why);

private:
    class Worker;
    std::unique_ptr<Worker> m_worker;
};

} // namespace quoin::ui

Q_DECLARE_METATYPE(quoin::ui::Frame)
