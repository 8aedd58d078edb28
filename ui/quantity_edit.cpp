// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/quantity_edit.h"

#include "core/force.h"
#include "ui/quantity_text.h"

#include <cmath>

namespace quoin::ui {

namespace {

constexpr int forceDigits = 3;

/// Signs that keyboards and copied text bring along, in plain ASCII.
QString plainText(QString text)
{
    text.replace(QChar(0x2212), '-'); // minus sign
    text.replace(QChar(0x00a0), ' '); // no-break space
    text.replace(QChar(0x202f), ' '); // narrow no-break space
    return text.trimmed();
}

} // namespace

ForceEdit::ForceEdit(QWidget* parent) : NumberEdit(parent)
{
    setHelp("Type a force, such as 50 N, 0.5 kN, 5 kgf or 10 lbf. Up and Down step.");
    showValue();
}

Result<double> ForceEdit::parsed(const QString& text) const
{
    return core::newtonsFrom(plainText(text).toStdString());
}

QString ForceEdit::shown(double value) const
{
    return numberText(value, forceDigits) + " N";
}

const UnitEdit::Kind UnitEdit::plain{"a number", "Write a number, such as 3 or 1.5.", "", 1, 1, 6};
const UnitEdit::Kind UnitEdit::share{"a share", "Write percent, such as 20.", "%", 100, 5, 2};
const UnitEdit::Kind UnitEdit::stress{
    "a stress", "Write megapascals, which are newtons a square millimetre, such as 2.", "MPa", 1, 1, 3, "N/mm²"};

UnitEdit::UnitEdit(const Kind& kind, QWidget* parent) : NumberEdit(parent), m_kind(kind)
{
    showValue();
}

Result<double> UnitEdit::parsed(const QString& text) const
{
    QString typed = plainText(text);
    for (const char* word : {m_kind.unit, m_kind.alias})
        if (word != nullptr && *word != '\0' && typed.endsWith(QString(word), Qt::CaseInsensitive)) {
            typed.chop(QString(word).size());
            break;
        }
    bool ok = false;
    const double number = typed.trimmed().toDouble(&ok);
    if (ok && std::isfinite(number))
        return number / m_kind.factor;
    QString what = QString("\"%1\" is not %2").arg(text.trimmed(), m_kind.what);
    if (text.contains(','))
        what += ": use a decimal point, not a comma";
    return Problem{Reason::BadArgument, what.toStdString(), {}, {}, m_kind.remedy};
}

QString UnitEdit::shown(double value) const
{
    const QString number = numberText(value * m_kind.factor, m_kind.digits);
    return *m_kind.unit == '\0' ? number : number + ' ' + m_kind.unit;
}

} // namespace quoin::ui

#include "moc_quantity_edit.cpp"
