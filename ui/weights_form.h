// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/cut_terms.h"

#include <QObject>

#include <array>

class QComboBox;
class QDoubleSpinBox;
class QFormLayout;
class QSpinBox;
class QToolButton;
class QWidget;

namespace quoin::ui {

/// What matters among ways of cutting: a preference, its weights one by one for who wants to change them, and what may
/// be spent on them: rows at the end of a form.
class WeightsForm : public QObject {
    Q_OBJECT
public:
    /// @param parent  of the fields, which the form belongs to
    WeightsForm(QFormLayout& form, QWidget* parent);

    core::CutWeights weights() const;
    void setWeights(const core::CutWeights& weights);
    /// Pieces more than the fewest that may be spent.
    int morePieces() const;
    /// Ways wanted in all.
    int alternatives() const;

private:
    void buildWeights(QWidget* parent);
    void showPreference();

    QComboBox* m_preference = nullptr;
    QToolButton* m_expand = nullptr;
    QWidget* m_each = nullptr;
    std::array<QDoubleSpinBox*, 8> m_weights{};
    QSpinBox* m_more = nullptr;
    QSpinBox* m_alternatives = nullptr;
    bool m_quiet = false;
};

} // namespace quoin::ui
