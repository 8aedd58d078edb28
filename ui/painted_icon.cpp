// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/painted_icon.h"

#include "ui/theme.h"

#include <QGuiApplication>
#include <QIconEngine>
#include <QPalette>

#include <algorithm>

namespace quoin::ui {

namespace {

IconInk inkFor(QIcon::Mode mode)
{
    const QPalette palette = QGuiApplication::palette();
    switch (mode) {
    case QIcon::Disabled: {
        const QColor grey = palette.color(QPalette::Disabled, QPalette::ButtonText);
        return {grey, grey, false};
    }
    case QIcon::Selected: {
        const QColor line = palette.color(QPalette::HighlightedText);
        return {line, line, true};
    }
    case QIcon::Normal:
    case QIcon::Active:
        break;
    }
    return {palette.color(QPalette::ButtonText), verdictColour(Verdict::Working, isDark(palette)), false};
}

class PaintedEngine : public QIconEngine {
public:
    explicit PaintedEngine(IconPainter painter) : m_painter(std::move(painter)) {}

    void paint(QPainter* painter, const QRect& rect, QIcon::Mode mode, QIcon::State) override
    {
        const double side = std::min(rect.width(), rect.height());
        QRectF square(0, 0, side, side);
        square.moveCenter(QRectF(rect).center());
        m_painter(*painter, square, inkFor(mode));
    }

    QPixmap pixmap(const QSize& size, QIcon::Mode mode, QIcon::State state) override
    {
        QPixmap out(size);
        out.fill(Qt::transparent);
        QPainter painter(&out);
        paint(&painter, QRect({}, size), mode, state);
        return out;
    }

    QIconEngine* clone() const override { return new PaintedEngine(m_painter); }

private:
    IconPainter m_painter;
};

} // namespace

QIcon paintedIcon(IconPainter painter)
{
    return QIcon(new PaintedEngine(std::move(painter)));
}

} // namespace quoin::ui
