// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/plan_time.h"

#include "ui/quantity_text.h"

#include <QLocale>

#include <cmath>

namespace quoin::ui {

namespace {

constexpr int secondsInMinute = 60;
constexpr double hoursShownInDays = 100; ///< from here on people count days

/// English words beside the English of everything else, whatever the desktop speaks.
QString formatted(CivilMinute minute, const char* format)
{
    return QLocale::c().toString(dateTimeOf(minute), QString::fromLatin1(format));
}

} // namespace

QDateTime dateTimeOf(CivilMinute minute)
{
    return QDateTime::fromSecsSinceEpoch(minute * secondsInMinute, Qt::UTC);
}

CivilMinute minuteOf(const QDateTime& moment)
{
    return QDateTime(moment.date(), moment.time(), Qt::UTC).toSecsSinceEpoch() / secondsInMinute;
}

CivilMinute minuteNow()
{
    return minuteOf(QDateTime::currentDateTime());
}

QString momentWords(CivilMinute minute)
{
    return formatted(minute, "ddd d MMM HH:mm");
}

QString dayWords(CivilMinute minute)
{
    return formatted(minute, "ddd d MMM");
}

QString clockWords(CivilMinute minute)
{
    return formatted(minute, "HH:mm");
}

QString hoursWords(double hours)
{
    if (hours < 1)
        return QStringLiteral("%1 min").arg(std::lround(hours * minutesInHour));
    if (hours < hoursShownInDays)
        return numberText(hours, hours < 10 ? 1 : 0) + QStringLiteral(" h");
    const long whole = std::lround(hours), days = whole / 24, rest = whole % 24;
    return rest == 0 ? QStringLiteral("%1 d").arg(days) : QStringLiteral("%1 d %2 h").arg(days).arg(rest);
}

} // namespace quoin::ui
