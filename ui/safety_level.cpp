// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/safety_level.h"

#include "ui/quantity_text.h"

namespace quoin::ui {

namespace {

constexpr double nearTimes =
    2; ///< up to so many times the limit a closer look is worth it (common practice, no source)

} // namespace

SafetyLevel safetyLevel(double safety, bool low, double limit)
{
    return low ? SafetyLevel::Weak : safety < nearTimes * limit ? SafetyLevel::Near : SafetyLevel::Sure;
}

Colour safetyColour(SafetyLevel level)
{
    switch (level) {
    case SafetyLevel::Weak:
        return {0.84, 0.37, 0.00}; // vermilion
    case SafetyLevel::Near:
        return {0.90, 0.62, 0.00}; // orange
    case SafetyLevel::Sure:
        return {0.00, 0.45, 0.70}; // blue
    case SafetyLevel::Unknown:
        break;
    }
    return {0.55, 0.57, 0.60};
}

double safetyWidthPx(SafetyLevel level)
{
    return level == SafetyLevel::Weak ? 7 : level == SafetyLevel::Near ? 4.5 : 2.5;
}

QString safetyWords(SafetyLevel level, double limit)
{
    const QString low = numberText(limit, 2), high = numberText(nearTimes * limit, 2);
    switch (level) {
    case SafetyLevel::Weak:
        return QString("below %1: weak").arg(low);
    case SafetyLevel::Near:
        return QString("%1 to %2").arg(low, high);
    case SafetyLevel::Sure:
        return QString("above %1").arg(high);
    case SafetyLevel::Unknown:
        break;
    }
    return "nothing hangs on it";
}

} // namespace quoin::ui
