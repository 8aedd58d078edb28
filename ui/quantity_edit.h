// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/number_edit.h"

namespace quoin::ui {

/// A force, in N outside and as shown. Understands what core::newtonsFrom does: "50", "0.5 kN", "5 kgf", "10 lbf".
/// Steps: 10, 100 and 1 N.
class ForceEdit : public NumberEdit {
    Q_OBJECT
public:
    explicit ForceEdit(QWidget* parent = nullptr);

protected:
    Result<double> parsed(const QString& text) const override;
    QString shown(double value) const override;
    double plainStep() const override { return 10; }
};

/// A number with a word behind it, or with none: a share in percent (0.2 outside, "20 %" shown), a stress in MPa, a
/// plain number. The word may be left out when typing. Steps: one of `step`, ten, a tenth.
class UnitEdit : public NumberEdit {
    Q_OBJECT
public:
    struct Kind {
        const char* what;    ///< "a stress"
        const char* remedy;  ///< "Write megapascals, such as 2."
        const char* unit;    ///< "MPa"; empty: none
        double factor = 1;   ///< shown value over the one outside
        double step = 1;     ///< as shown
        int digits = 3;      ///< behind the point, at most
        const char* alias{}; ///< another word that is understood; null: none
    };
    static const Kind plain, share, stress;

    explicit UnitEdit(const Kind& kind, QWidget* parent = nullptr);

protected:
    Result<double> parsed(const QString& text) const override;
    QString shown(double value) const override;
    double plainStep() const override { return m_kind.step / m_kind.factor; }

private:
    const Kind& m_kind;
};

} // namespace quoin::ui
