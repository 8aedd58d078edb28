// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/calm_wheel.h"

#include <QAbstractSlider>
#include <QAbstractSpinBox>
#include <QComboBox>
#include <QEvent>
#include <QScrollBar>

namespace quoin::ui {

namespace {

class WheelFilter : public QObject {
public:
    using QObject::QObject;
    bool eventFilter(QObject* watched, QEvent* event) override
    {
        if (event->type() != QEvent::Wheel || static_cast<QWidget*>(watched)->hasFocus())
            return false;
        event->ignore(); // goes on to the parent, which may scroll
        return true;
    }
};

} // namespace

void calmWheel(QWidget& panel)
{
    auto* filter = new WheelFilter(&panel);
    for (QWidget* widget : panel.findChildren<QWidget*>()) {
        const bool turns = qobject_cast<QComboBox*>(widget) != nullptr ||
                           qobject_cast<QAbstractSpinBox*>(widget) != nullptr ||
                           qobject_cast<QAbstractSlider*>(widget) != nullptr;
        if (!turns || qobject_cast<QScrollBar*>(widget) != nullptr)
            continue;
        widget->setFocusPolicy(Qt::StrongFocus);
        widget->installEventFilter(filter);
    }
}

} // namespace quoin::ui
