// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/length_edit.h"

#include "core/length.h"
#include "ui/quantity_text.h"

#include <cmath>

namespace quoin::ui {

namespace {

constexpr double leastMm = 0.001, mostMm = 100e3;
constexpr double leastFactor = 1e-3, mostFactor = 1e4;

/// As it was meant: the signs that keyboards and copied text bring along, in plain ASCII.
QString plain(QString text)
{
    text = text.trimmed();
    text.replace(QChar(0x2212), '-'); // minus sign
    text.replace(QChar(0x00a0), ' '); // no-break space
    text.replace(QChar(0x202f), ' '); // narrow no-break space
    return text;
}

bool isNumber(const QString& text)
{
    bool ok = false;
    text.toDouble(&ok);
    return ok;
}

Result<double> number(const QString& text, const char* what, const char* remedy)
{
    bool ok = false;
    const double value = text.trimmed().toDouble(&ok);
    if (ok && std::isfinite(value))
        return value;
    const QString shown = text.contains(',') ? "\"" + text + "\" is not " + what + ": use a decimal point, not a comma"
                                             : "\"" + text + "\" is not " + what;
    return Problem{Reason::BadArgument, shown.toStdString(), {}, {}, remedy};
}

/// Takes a word off the end, if it is there and the rest is not empty.
bool takeOff(QString& text, std::initializer_list<const char*> words)
{
    for (const char* word : words)
        if (text.endsWith(QString(word), Qt::CaseInsensitive) && text.size() > QString(word).size()) {
            text.chop(QString(word).size());
            text = text.trimmed();
            return true;
        }
    return false;
}

} // namespace

LengthEdit::LengthEdit(QWidget* parent) : NumberEdit(parent)
{
    setRange(leastMm, mostMm);
    setHelp("Type a length, such as 350, 1.8 m, 30 cm or 12\". Up and Down step.");
    showValue();
}

void LengthEdit::setUnit(mesh::Unit unit)
{
    if (unit == m_unit)
        return;
    m_unit = unit;
    if (!isModified() && problem().isEmpty())
        showValue();
}

Result<double> LengthEdit::parsed(const QString& text) const
{
    QString typed = plain(text);
    if (isNumber(typed))
        typed += ' ' + QString::fromStdString(mesh::unitName(m_unit));
    auto length = core::lengthMmFrom(typed.toStdString());
    if (!length && !typed.isEmpty())
        return length;
    if (typed.isEmpty())
        return Problem{Reason::BadArgument, "there is no length here", {}, {}, length.problem().remedy};
    return length;
}

QString LengthEdit::shown(double value) const
{
    return exactLengthText(value, m_unit);
}

double LengthEdit::plainStep() const
{
    const bool imperial = m_unit == mesh::Unit::Inch || m_unit == mesh::Unit::Foot;
    return imperial ? 0.1 * mesh::millimetresIn(mesh::Unit::Inch) : 1;
}

AngleEdit::AngleEdit(QWidget* parent) : NumberEdit(parent)
{
    setRange(-360, 360);
    setHelp("Type an angle in degrees, such as 30 or -12.5. Up and Down step.");
    showValue();
}

Result<double> AngleEdit::parsed(const QString& text) const
{
    QString typed = plain(text);
    takeOff(typed, {"°", "degrees", "degree", "deg"});
    return number(typed, "an angle", "Write degrees, such as 30 or -12.5.");
}

QString AngleEdit::shown(double value) const
{
    return numberText(value, 3, 1) + "°";
}

FactorEdit::FactorEdit(QWidget* parent) : NumberEdit(parent)
{
    setRange(leastFactor, mostFactor);
    setHelp("Type how many times as large, such as 8, 8x, 800 % or 8:1. Up and Down step.");
    setValue(1);
    showValue();
}

Result<double> FactorEdit::parsed(const QString& text) const
{
    static constexpr const char* remedy = "Write how many times as large, such as 8, 8x, 800 % or 8:1.";
    QString typed = plain(text);
    const bool percent = takeOff(typed, {"%", "percent"});
    if (!percent)
        takeOff(typed, {"×", "times", "x"});
    const qsizetype colon = typed.indexOf(':');
    if (colon > 0 && !percent) {
        const auto drawn = number(typed.left(colon), "a scale", remedy);
        const auto real = number(typed.mid(colon + 1), "a scale", remedy);
        if (!drawn || !real)
            return drawn ? real : drawn;
        if (*real == 0)
            return Problem{Reason::BadArgument, "\"" + typed.toStdString() + "\" is not a scale", {}, {}, remedy};
        return *drawn / *real;
    }
    auto factor = number(typed, "a scale", remedy);
    return percent && factor ? Result<double>(*factor / 100) : factor;
}

QString FactorEdit::shown(double value) const
{
    const int digits = value < 0.1 ? 6 : value < 10 ? 4 : 3;
    return numberText(value, digits, 1) + " ×";
}

void setLengthUnit(QWidget& panel, mesh::Unit unit)
{
    for (LengthEdit* field : panel.findChildren<LengthEdit*>())
        field->setUnit(unit);
}

} // namespace quoin::ui

#include "moc_length_edit.cpp"
