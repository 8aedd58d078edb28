// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/design.h"
#include "tests/support/scratch.h"
#include "tests/ui/application.h"
#include "ui/main_window.h"
#include "ui/model_view.h"
#include "ui/view_controller.h"

#include <QAbstractButton>
#include <QByteArray>
#include <QLabel>
#include <QLineEdit>
#include <QMessageBox>
#include <QPushButton>
#include <QTest>

#include <functional>
#include <map>
#include <memory>

namespace quoin::test {

/// The whole window with settings, state and documents in a scratch folder, driven by the events that a hand would
/// cause. Goes away without asking anything.
class WindowFixture : WithApplication {
public:
    explicit WindowFixture(QSize size = {1440, 900});
    ~WindowFixture();

    ui::MainWindow& window() { return *m_window; }
    ui::Bench& bench() { return m_window->bench(); }
    ui::Document& document() { return bench().document(); }
    ui::ModelView& view() { return *find<ui::ModelView>(); }
    const core::Design& design() { return bench().design(); }
    /// The current part; there must be one.
    const core::PartDesign& part();
    /// What has been worked out for it; waits for the joints.
    core::RealisedPtr realised();
    std::filesystem::path path(const std::string& name) const { return m_scratch / name; }
    QString file(const std::string& name) const { return QString::fromStdString(path(name).string()); }

    /// A window as another start of the program would open it, beside the first or (after close()) instead of it.
    void start();
    /// Takes the window away as if it had been killed: what is kept against a crash stays.
    void drop();

    /// Writes the mesh as an STL file and opens it as the command line would.
    void open(const mesh::Mesh& mesh, const std::string& name = "block.stl");
    /// Waits until all work has ended and the view shows it. False when it takes longer than that.
    bool settle(int mostMs = 180000);

    template <class T>
    T* find(const QString& name = {})
    {
        return m_window->findChild<T*>(name);
    }
    /// By its text, without the ampersands; null when there is none that can be seen.
    QAbstractButton* button(const QString& text);
    /// By its accessible name, among those that can be seen.
    template <class T>
    T* named(const QString& name)
    {
        for (T* widget : m_window->findChildren<T*>())
            if (widget->accessibleName() == name && widget->isVisible())
                return widget;
        return nullptr;
    }
    /// Whether a label that can be seen says this, somewhere in its text.
    bool says(const QString& text);

    void press(QAbstractButton* button);
    /// Replaces what stands in a field and presses Enter.
    void type(QLineEdit* field, const QString& text);
    void key(Qt::Key key, Qt::KeyboardModifiers modifiers = {});
    /// Opens a menu by its letter and takes a line of it by its letter.
    void menu(Qt::Key title, Qt::Key line);
    /// A menu's line; what it does now.
    QAction& action(const QString& id) { return *m_window->actions()[id]; }
    void goTo(ui::JobStep step);

    QPoint pixelOf(mesh::Vec3 p);
    void drag(QPoint from, QPoint to, Qt::KeyboardModifiers modifiers = {});
    void pressAt(QPoint at, Qt::KeyboardModifiers modifiers = {});
    void moveTo(QPoint at, Qt::KeyboardModifiers modifiers = {});
    void releaseAt(QPoint at, Qt::KeyboardModifiers modifiers = {});
    void clickAt(QPoint at, Qt::KeyboardModifiers modifiers = {});

    /// Does something to the next dialog that opens, when it is there.
    void answer(std::function<void(QDialog&)> how);
    /// Presses a button of the next message box.
    void answer(QMessageBox::StandardButton which);
    /// Waits for the picture and writes the window to pictures/NAME.png.
    QImage shot(const QString& name);

private:
    void setEnvironment(const char* name, const QByteArray& value);

    ScratchFolder m_scratch;
    std::map<QByteArray, QByteArray> m_before;
    QSize m_size;
    std::unique_ptr<ui::MainWindow> m_window;
};

/// A design as text, to be compared.
std::string textOf(const core::Design& design);

} // namespace quoin::test
