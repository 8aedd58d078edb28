// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDateTime>
#include <QString>

namespace quoin::ui {

/// Civil time of the shop as whole minutes since 1970-01-01 00:00, no zone: what core::Moment counts.
using CivilMinute = qint64;
inline constexpr CivilMinute minutesInHour = 60, minutesInDay = 24 * 60;

/// As widgets for dates take it. The zone is Qt's UTC, which has no summer time: it stands for none.
QDateTime dateTimeOf(CivilMinute minute);
CivilMinute minuteOf(const QDateTime& moment);
/// What the clock on the wall shows now.
CivilMinute minuteNow();

/// "Tue 1 Dec 08:30"
QString momentWords(CivilMinute minute);
/// "Tue 1 Dec"
QString dayWords(CivilMinute minute);
/// "08:30"
QString clockWords(CivilMinute minute);
/// "20 min", "5.5 h", "38 h", "12 d 4 h"
QString hoursWords(double hours);

} // namespace quoin::ui
