// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QApplication>
#include <QString>
#include <QWidget>

namespace quoin::test {

/// The one QApplication of the test process, made at the first call; without a display on the offscreen platform.
QApplication& application();

/// Base of fixtures that have widgets as members: the application is there before them.
struct WithApplication {
    WithApplication() { application(); }
};

/// Shows a widget at a size and waits until it is there.
void show(QWidget& widget, QSize size = {});

/// Writes what a widget shows to pictures/NAME.png beside the executable's folder, to be looked at by people.
QImage picture(QWidget& widget, const QString& name);

} // namespace quoin::test
