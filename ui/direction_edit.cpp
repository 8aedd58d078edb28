// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/direction_edit.h"

#include "ui/quantity_edit.h"
#include "ui/quantity_text.h"

#include <QComboBox>
#include <QGridLayout>
#include <QLabel>
#include <QVBoxLayout>

#include <cmath>

namespace quoin::ui {

using mesh::Vec3;

namespace {

struct Axis {
    const char* words;
    Vec3 way;
};
const std::array<Axis, 6> axes{{{"down, −z", {0, 0, -1}},
                                {"up, +z", {0, 0, 1}},
                                {"right, +x", {1, 0, 0}},
                                {"left, −x", {-1, 0, 0}},
                                {"back, +y", {0, 1, 0}},
                                {"front, −y", {0, -1, 0}}}};
constexpr double same = 1e-9; ///< of unit vectors

bool sameWay(Vec3 a, Vec3 b)
{
    const double la = length(a), lb = length(b);
    return la > 0 && lb > 0 && length(a / la - b / lb) < same;
}

int axisOf(Vec3 way)
{
    for (std::size_t i = 0; i < axes.size(); ++i)
        if (sameWay(axes[i].way, way))
            return static_cast<int>(i);
    return -1;
}

double& component(Vec3& v, std::size_t i)
{
    return i == 0 ? v.x : i == 1 ? v.y : v.z;
}

} // namespace

DirectionEdit::DirectionEdit(const QString& name, QWidget* parent) : QWidget(parent)
{
    m_axis = new QComboBox(this);
    m_axis->setAccessibleName(name);
    m_axis->setFocusPolicy(Qt::StrongFocus);
    for (const Axis& axis : axes)
        m_axis->addItem(axis.words);
    m_axis->addItem("own direction");
    m_own = new QWidget(this);
    auto* row = new QGridLayout(m_own);
    row->setContentsMargins(0, 0, 0, 0);
    for (std::size_t i = 0; i < 3; ++i) {
        const QString letter = QStringLiteral("xyz").mid(static_cast<int>(i), 1);
        auto* field = new UnitEdit(UnitEdit::plain, m_own);
        field->setAccessibleName(QString("%1, %2").arg(name, letter));
        field->setHelp("Of a vector of any length in the part's frame; the tripod in the view shows its axes.");
        field->setMinimumWidth(4 * fontMetrics().averageCharWidth());
        auto* label = new QLabel(letter, m_own);
        label->setBuddy(field);
        row->addWidget(label, 0, static_cast<int>(2 * i));
        row->addWidget(field, 0, static_cast<int>(2 * i + 1));
        row->setColumnStretch(static_cast<int>(2 * i + 1), 1);
        m_numbers[i] = field;
        connect(field, &NumberEdit::edited, this, [this, i](double value) {
            component(m_direction, i) = value;
            emit edited(m_direction);
        });
    }
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->addWidget(m_axis);
    column->addWidget(m_own);
    setFocusProxy(m_axis);
    connect(m_axis, &QComboBox::activated, this, [this](int at) {
        m_typed = at == static_cast<int>(axes.size());
        if (!m_typed && !sameWay(m_direction, axes[static_cast<std::size_t>(at)].way)) {
            m_direction = axes[static_cast<std::size_t>(at)].way;
            emit edited(m_direction);
        }
        showDirection();
    });
    showDirection();
}

void DirectionEdit::setHelp(const QString& help)
{
    m_axis->setToolTip(help);
}

void DirectionEdit::setDirection(Vec3 direction)
{
    if (!sameWay(direction, m_direction)) {
        m_direction = direction;
        m_typed = false;
    }
    showDirection();
}

void DirectionEdit::showDirection()
{
    const int axis = m_typed ? -1 : axisOf(m_direction);
    m_axis->setCurrentIndex(axis >= 0 ? axis : static_cast<int>(axes.size()));
    m_own->setVisible(axis < 0);
    for (std::size_t i = 0; i < 3; ++i)
        m_numbers[i]->setValue(component(m_direction, i));
}

QString directionWords(Vec3 direction)
{
    if (const int axis = axisOf(direction); axis >= 0)
        return axes[static_cast<std::size_t>(axis)].words;
    const double l = length(direction);
    const Vec3 unit = l > 0 ? direction / l : direction;
    return QString("(%1, %2, %3)").arg(numberText(unit.x, 3), numberText(unit.y, 3), numberText(unit.z, 3));
}

} // namespace quoin::ui

#include "moc_direction_edit.cpp"
