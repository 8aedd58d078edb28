// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QProxyStyle>

namespace quoin::ui {

/// Fusion, with what it draws too faintly on dark ground drawn anew: the outlines of check boxes and fields (3:1
/// against what they stand on, WCAG 2.1, 1.4.11), and tool buttons that are on, which get a bar below so that they
/// don't differ by a shade alone.
class DrawnStyle : public QProxyStyle {
    Q_OBJECT
public:
    DrawnStyle();
    void drawPrimitive(PrimitiveElement element, const QStyleOption* option, QPainter* painter,
                       const QWidget* widget) const override;
    void drawComplexControl(ComplexControl control, const QStyleOptionComplex* option, QPainter* painter,
                            const QWidget* widget) const override;
};

} // namespace quoin::ui
