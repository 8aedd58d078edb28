// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QSettings>
#include <QString>

namespace quoin::ui {

inline constexpr const char* currencyKey = "plan/currency"; ///< of the settings

/// What the user writes behind amounts of money; first that of the shipped prices. Nothing is converted by it.
inline QString currencySymbol()
{
    return QSettings().value(QString::fromLatin1(currencyKey), QStringLiteral("€")).toString();
}

} // namespace quoin::ui
