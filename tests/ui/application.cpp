// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "application.h"

#include <QDir>
#include <QTest>

#include <catch2/catch.hpp>

namespace quoin::test {

QApplication& application()
{
    static int count = 1;
    static char name[] = "quoin_ui_tests";
    static char* arguments[] = {name, nullptr};
    if (qEnvironmentVariableIsEmpty("DISPLAY") && qEnvironmentVariableIsEmpty("WAYLAND_DISPLAY") &&
        qEnvironmentVariableIsEmpty("QT_QPA_PLATFORM"))
        qputenv("QT_QPA_PLATFORM", "offscreen");
    // Never destroyed: at exit, what it stands on may be gone before it.
    static auto* app = new QApplication(count, arguments);
    return *app;
}

void show(QWidget& widget, QSize size)
{
    if (size.isValid())
        widget.resize(size);
    widget.show();
    REQUIRE(QTest::qWaitForWindowExposed(&widget));
    QApplication::setActiveWindow(&widget); // there is no window manager that would
}

QImage picture(QWidget& widget, const QString& name)
{
    QCoreApplication::processEvents();
    const QDir folder(QCoreApplication::applicationDirPath() + "/../pictures");
    REQUIRE(QDir().mkpath(folder.path()));
    const QImage image = widget.grab().toImage();
    REQUIRE(image.save(folder.filePath(name + ".png")));
    return image;
}

} // namespace quoin::test
