// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/ui/window_fixture.h"

#include "core/design_json.h"
#include "mesh/write_model.h"

#include <QDialog>
#include <QMouseEvent>
#include <QSettings>
#include <QTimer>

#include <catch2/catch.hpp>

#include <fstream>

namespace quoin::test {

namespace {

/// A picture is the last one when none has come for this long.
constexpr int restMs = 250;

} // namespace

WindowFixture::WindowFixture(QSize size) : m_size(size)
{
    const auto folder = [this](const char* name) {
        std::filesystem::create_directories(path(name));
        return QByteArray::fromStdString(path(name).string());
    };
    setEnvironment("XDG_CONFIG_HOME", folder("config"));
    setEnvironment("XDG_STATE_HOME", folder("state"));
    std::ofstream(path("config/user-dirs.dirs"))
        << "XDG_DOCUMENTS_DIR=\"" << folder("documents").toStdString() << "\"\n";
    QApplication::setOrganizationName("quoin");
    QApplication::setApplicationName("quoin");
    QSettings::setPath(QSettings::NativeFormat, QSettings::UserScope, file("config"));
    start();
}

WindowFixture::~WindowFixture()
{
    if (m_window) {
        document().history().setClean();
        m_window->close();
        m_window.reset();
    }
    for (const auto& [name, value] : m_before)
        value.isNull() ? qunsetenv(name.constData()) : qputenv(name.constData(), value);
}

void WindowFixture::setEnvironment(const char* name, const QByteArray& value)
{
    m_before[name] = qEnvironmentVariableIsSet(name) ? qgetenv(name) : QByteArray();
    qputenv(name, value);
}

void WindowFixture::start()
{
    m_window = std::make_unique<ui::MainWindow>();
    show(*m_window, m_size);
}

void WindowFixture::drop()
{
    m_window.reset();
}

const core::PartDesign& WindowFixture::part()
{
    const core::PartDesign* part = bench().part();
    REQUIRE(part != nullptr);
    return *part;
}

core::RealisedPtr WindowFixture::realised()
{
    REQUIRE(settle());
    core::RealisedPtr realised = bench().realised();
    REQUIRE(realised);
    return realised;
}

void WindowFixture::open(const mesh::Mesh& mesh, const std::string& name)
{
    REQUIRE(mesh::writeStl(path(name), mesh).ok());
    const std::size_t before = design().parts.size();
    m_window->open({file(name)});
    REQUIRE(settle());
    REQUIRE(design().parts.size() == before + 1);
}

bool WindowFixture::settle(int mostMs)
{
    // Ended work may ask for more: only a second look counts.
    for (int look = 0; look < 2; ++look) {
        if (!QTest::qWaitFor([this] { return bench().jobs().running().empty(); }, mostMs))
            return false;
        QTest::qWait(1);
    }
    return QTest::qWaitFor([this] { return view().camera() == view().goal(); }, 3000);
}

QAbstractButton* WindowFixture::button(const QString& text)
{
    for (QAbstractButton* button : m_window->findChildren<QAbstractButton*>())
        if (button->isVisible() && QString(button->text()).remove('&') == text)
            return button;
    return nullptr;
}

bool WindowFixture::says(const QString& text)
{
    for (const QLabel* label : m_window->findChildren<QLabel*>())
        if (label->isVisible() && label->text().contains(text))
            return true;
    return false;
}

void WindowFixture::press(QAbstractButton* button)
{
    REQUIRE(button != nullptr);
    REQUIRE(button->isEnabled());
    QTest::mouseClick(button, Qt::LeftButton);
}

void WindowFixture::type(QLineEdit* field, const QString& text)
{
    REQUIRE(field != nullptr);
    field->setFocus();
    field->selectAll();
    QTest::keyClicks(field, text);
    QTest::keyClick(field, Qt::Key_Return);
}

void WindowFixture::key(Qt::Key key, Qt::KeyboardModifiers modifiers)
{
    // There is no window manager that would make the window the active one again after a dialog.
    if (QApplication::activeModalWidget() == nullptr && QApplication::activeWindow() != m_window.get()) {
        QApplication::setActiveWindow(m_window.get());
        QCoreApplication::processEvents();
    }
    QWidget* focused = QApplication::focusWidget();
    QTest::keyClick(focused != nullptr ? focused : m_window.get(), key, modifiers);
}

void WindowFixture::menu(Qt::Key title, Qt::Key line)
{
    key(title, Qt::AltModifier);
    QWidget* popup = QApplication::activePopupWidget();
    REQUIRE(popup != nullptr);
    QTest::keyClick(popup, line);
    REQUIRE(QApplication::activePopupWidget() == nullptr);
}

void WindowFixture::goTo(ui::JobStep step)
{
    key(static_cast<Qt::Key>(Qt::Key_1 + static_cast<int>(step)), Qt::ControlModifier);
    if (bench().state().step != step)
        m_window->goTo(step);
    REQUIRE(settle());
}

QPoint WindowFixture::pixelOf(mesh::Vec3 p)
{
    const auto seen = view().camera().project(p);
    REQUIRE(seen);
    return {qRound(seen->x), qRound(seen->y)};
}

void WindowFixture::pressAt(QPoint at, Qt::KeyboardModifiers modifiers)
{
    QTest::mousePress(&view(), Qt::LeftButton, modifiers, at);
}

void WindowFixture::moveTo(QPoint at, Qt::KeyboardModifiers modifiers)
{
    // QTest::mouseMove() knows of no buttons.
    QMouseEvent event(QEvent::MouseMove, at, view().mapToGlobal(at), Qt::NoButton, Qt::LeftButton, modifiers);
    QCoreApplication::sendEvent(&view(), &event);
}

void WindowFixture::releaseAt(QPoint at, Qt::KeyboardModifiers modifiers)
{
    QTest::mouseRelease(&view(), Qt::LeftButton, modifiers, at);
}

void WindowFixture::clickAt(QPoint at, Qt::KeyboardModifiers modifiers)
{
    QTest::mouseClick(&view(), Qt::LeftButton, modifiers, at);
}

void WindowFixture::drag(QPoint from, QPoint to, Qt::KeyboardModifiers modifiers)
{
    pressAt(from, modifiers);
    for (int i = 1; i <= 8; ++i) {
        moveTo(from + (to - from) * i / 8, modifiers);
        QCoreApplication::processEvents();
    }
    releaseAt(to, modifiers);
}

void WindowFixture::answer(std::function<void(QDialog&)> how)
{
    auto* timer = new QTimer(m_window.get());
    timer->setInterval(20);
    QObject::connect(timer, &QTimer::timeout, timer, [timer, how = std::move(how)] {
        auto* dialog = qobject_cast<QDialog*>(QApplication::activeModalWidget());
        if (dialog == nullptr)
            return;
        timer->stop();
        timer->deleteLater();
        how(*dialog);
    });
    timer->start();
}

void WindowFixture::answer(QMessageBox::StandardButton which)
{
    answer([which](QDialog& dialog) {
        auto* box = qobject_cast<QMessageBox*>(&dialog);
        REQUIRE(box != nullptr);
        REQUIRE(box->button(which) != nullptr);
        QTest::mouseClick(box->button(which), Qt::LeftButton);
    });
}

QImage WindowFixture::shot(const QString& name)
{
    CHECK(settle());
    qint64 newest = -1;
    QElapsedTimer since;
    since.start();
    const auto rests = [&] {
        const ui::Frame& frame = view().picture();
        if (frame.image.cacheKey() != newest) {
            newest = frame.image.cacheKey();
            since.restart();
        }
        return frame.fine && frame.camera == view().camera() && since.elapsed() > restMs;
    };
    if (view().isVisible() && !QTest::qWaitFor(rests, 120000))
        FAIL_CHECK("no picture at full detail came for " << name.toStdString());
    return picture(*m_window, name);
}

std::string textOf(const core::Design& design)
{
    core::DesignDocument document{design, {}};
    document.meshes.resize(design.parts.size());
    return core::toJson(document).dump(1);
}

} // namespace quoin::test
