// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/quantity_text.h"

#include <QStringList>

#include <cmath>

namespace quoin::ui {

namespace {

/// Digits after the point that show a tenth of a mm, and a thousandth.
struct Digits {
    int shown, exact;
};

Digits digitsOf(mesh::Unit unit)
{
    switch (unit) {
    case mesh::Unit::Micron:
        return {0, 0};
    case mesh::Unit::Millimetre:
        return {1, 3};
    case mesh::Unit::Centimetre:
        return {2, 4};
    case mesh::Unit::Inch:
        return {2, 4};
    case mesh::Unit::Foot:
        return {3, 6};
    case mesh::Unit::Metre:
        return {3, 6};
    }
    return {1, 3};
}

/// Digits after the point so that at least three figures of a small value are seen.
int threeFigures(double value, int digits)
{
    if (value == 0 || !std::isfinite(value))
        return digits;
    return std::max(digits, std::min(6, 2 - static_cast<int>(std::floor(std::log10(std::abs(value))))));
}

} // namespace

QString unitSymbol(mesh::Unit unit)
{
    switch (unit) {
    case mesh::Unit::Micron:
        return "µm";
    case mesh::Unit::Millimetre:
        return "mm";
    case mesh::Unit::Centimetre:
        return "cm";
    case mesh::Unit::Inch:
        return "in";
    case mesh::Unit::Foot:
        return "ft";
    case mesh::Unit::Metre:
        return "m";
    }
    return "mm";
}

QString numberText(double value, int digits, int least)
{
    QString text = QString::number(value, 'f', digits);
    if (digits > least && text.contains('.')) {
        const qsizetype shortest = text.indexOf('.') + 1 + least;
        while (text.size() > shortest && text.endsWith('0'))
            text.chop(1);
        if (text.endsWith('.'))
            text.chop(1);
    }
    if (text.startsWith('-') && text.toDouble() == 0)
        text.remove(0, 1);
    return text;
}

QString lengthText(double lengthMm, mesh::Unit unit)
{
    const Digits digits = digitsOf(unit);
    const double value = lengthMm / mesh::millimetresIn(unit);
    const bool small = std::abs(lengthMm) < 1;
    return numberText(value, small ? threeFigures(value, digits.shown) : digits.shown, digits.shown) + ' ' +
           unitSymbol(unit);
}

QString exactLengthText(double lengthMm, mesh::Unit unit)
{
    const Digits digits = digitsOf(unit);
    return numberText(lengthMm / mesh::millimetresIn(unit), digits.exact, digits.shown) + ' ' + unitSymbol(unit);
}

QString extentsText(mesh::Vec3 extentsMm, mesh::Unit unit)
{
    QStringList sides;
    for (int axis = 0; axis < 3; ++axis)
        sides << numberText(extentsMm[axis] / mesh::millimetresIn(unit), digitsOf(unit).shown);
    return sides.join(" × ") + ' ' + unitSymbol(unit);
}

QString areaText(double areaMm2)
{
    const double cm2 = areaMm2 / 100;
    if (cm2 < 1)
        return numberText(areaMm2, 1) + " mm²";
    return numberText(cm2, cm2 < 100 ? 1 : 0) + " cm²";
}

QString volumeText(double volumeMm3)
{
    const double cm3 = volumeMm3 / 1000;
    if (cm3 < 1)
        return numberText(volumeMm3, 0) + " mm³";
    return numberText(cm3, cm3 < 100 ? 1 : 0) + " cm³";
}

QString massText(double grams)
{
    if (grams < 1000)
        return numberText(grams, grams < 10 ? 1 : 0) + " g";
    return numberText(grams / 1000, grams < 100e3 ? 2 : 1) + " kg";
}

} // namespace quoin::ui
