// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/window_entry.h"

#include "ui/main_window.h"
#include "ui/watchdog.h"

#include <QApplication>
#include <QSettings>

#include <cstdio>
#include <cstdlib>
#include <memory>

namespace quoin::ui {

bool hasDisplay()
{
    const auto set = [](const char* name) {
        const char* value = std::getenv(name);
        return value != nullptr && *value != '\0';
    };
    return set("DISPLAY") || set("WAYLAND_DISPLAY") || set("QT_QPA_PLATFORM");
}

int runWindow(int& argc, char** argv, const std::vector<std::string>& files)
{
    QApplication application(argc, argv);
    QApplication::setApplicationName(QStringLiteral("quoin"));
    QApplication::setOrganizationName(QStringLiteral("quoin"));
    applyTheme(application, static_cast<Theme>(QSettings().value(QStringLiteral("theme"), 0).toInt()));
    std::unique_ptr<Watchdog> watchdog;
    if (std::getenv("QUOIN_WATCHDOG") != nullptr)
        watchdog = std::make_unique<Watchdog>();
    MainWindow window;
    window.show();
    QStringList names;
    for (const std::string& file : files)
        names << QString::fromStdString(file);
    if (!names.isEmpty())
        window.open(names);
    const int status = QApplication::exec();
    if (watchdog)
        std::fprintf(stderr, "quoin: the longest time that the window did not answer: %.0f ms\n",
                     watchdog->longestStallMs());
    return status;
}

} // namespace quoin::ui
