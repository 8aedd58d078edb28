// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "tests/ui/application.h"
#include "ui/draw_mesh.h"
#include "ui/model_view.h"

#include <QTest>
#include <QWheelEvent>

#include <memory>

namespace quoin::test {

/// A view of 800 by 600 pixels with solids in it, driven by the events that a hand would cause.
struct ViewFixture : WithApplication {
    ui::ModelView view;

    void put(std::vector<mesh::Mesh> solids, const mesh::Transform& placement = {})
    {
        std::vector<ui::PickBody> bodies;
        for (mesh::Mesh& solid : solids)
            bodies.push_back(ui::preparedBody(std::make_shared<const mesh::Mesh>(std::move(solid)), placement));
        view.setPickBodies(std::move(bodies));
        show(view, {800, 600});
        view.lookFrom(ui::StandardView::Isometric, false);
    }

    static QPoint pixel(ui::ScreenPoint p) { return {static_cast<int>(p.x + 0.5), static_cast<int>(p.y + 0.5)}; }
    QPoint pixelOf(mesh::Vec3 p) const { return pixel(view.camera().project(p).value()); }
    static ui::ScreenPoint place(QPoint p) { return {static_cast<double>(p.x()), static_cast<double>(p.y())}; }

    void drag(QPoint from, QPoint to, Qt::MouseButton button = Qt::LeftButton, Qt::KeyboardModifiers modifiers = {})
    {
        press(from, button, modifiers);
        for (int i = 1; i <= 8; ++i)
            move(from + (to - from) * i / 8, button, modifiers);
        release(to, button, modifiers);
    }
    void press(QPoint at, Qt::MouseButton button = Qt::LeftButton, Qt::KeyboardModifiers modifiers = {})
    {
        QTest::mousePress(&view, button, modifiers, at);
    }
    void release(QPoint at, Qt::MouseButton button = Qt::LeftButton, Qt::KeyboardModifiers modifiers = {})
    {
        QTest::mouseRelease(&view, button, modifiers, at);
    }
    /// QTest::mouseMove() knows of no buttons.
    void move(QPoint at, Qt::MouseButtons buttons = Qt::NoButton, Qt::KeyboardModifiers modifiers = {})
    {
        QMouseEvent event(QEvent::MouseMove, at, view.mapToGlobal(at), Qt::NoButton, buttons, modifiers);
        QCoreApplication::sendEvent(&view, &event);
    }
    void click(QPoint at, Qt::KeyboardModifiers modifiers = {})
    {
        QTest::mouseClick(&view, Qt::LeftButton, modifiers, at);
    }
    void wheel(QPoint at, int notches, Qt::KeyboardModifiers modifiers = {})
    {
        QWheelEvent event(at, view.mapToGlobal(at), {}, {0, 120 * notches}, Qt::NoButton, modifiers, Qt::NoScrollPhase,
                          false);
        QCoreApplication::sendEvent(&view, &event);
    }
    /// The view with its solids drawn, as pictures/NAME.png, to be looked at.
    QImage shot(const QString& name)
    {
        ui::ViewScene scene;
        for (const ui::PickBody& body : view.pickBodies()) {
            ui::ViewItem item;
            item.mesh = ui::drawMeshOf(*body.mesh);
            item.placement = body.placement;
            item.colour = ui::pieceColours()[scene.items.size() % ui::pieceColours().size()];
            scene.items.push_back(item);
        }
        ui::RenderThread thread;
        bool done = false;
        QObject::connect(&thread, &ui::RenderThread::frameReady, &view,
                         [&](const ui::Frame& frame) { done = done || (frame.fine && frame.camera == view.camera()); });
        QObject::connect(&thread, &ui::RenderThread::failed, &view, [&] { done = true; });
        view.drawWith(&thread);
        view.setScene(std::make_shared<const ui::ViewScene>(scene));
        if (!QTest::qWaitFor([&] { return done; }, 10000))
            qWarning("no picture came");
        return picture(view, name);
    }
    /// Presses a key and lets the glide that it starts come to its end.
    void key(Qt::Key key, Qt::KeyboardModifiers modifiers = {})
    {
        QTest::keyClick(&view, key, modifiers);
        settle();
    }
    void settle()
    {
        if (!QTest::qWaitFor([&] { return view.camera() == view.goal(); }, 2000))
            qWarning("the view doesn't come to rest");
    }
};

inline double apart(QPoint a, QPoint b)
{
    return std::hypot(a.x() - b.x(), a.y() - b.y());
}

} // namespace quoin::test
