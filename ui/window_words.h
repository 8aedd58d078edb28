// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QRegularExpression>
#include <QString>

#include <string>

namespace quoin::ui {

/// Words of the core for the window: options of the command line, such as " (--repair)", mean nothing there.
inline QString windowWords(const std::string& words)
{
    static const QRegularExpression option(QStringLiteral(R"( \(--[a-z-]+\))"));
    return QString::fromStdString(words).remove(option);
}

} // namespace quoin::ui
