// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/joints_shown.h"

#include <QWidget>

class QCheckBox;
class QComboBox;

namespace quoin::ui {

class LengthEdit;

/// What holds for all joints of a part, unless a face says otherwise.
class JointOptionsEditor : public QWidget {
    Q_OBJECT
public:
    explicit JointOptionsEditor(QWidget* parent = nullptr);
    void setOptions(const PartJoints& part);

signals:
    /// @param name  for the history
    void optionsWanted(const core::JointOptions& options, core::Fit fit, const QString& name);
    void fitsWanted(); ///< the table of fits and the coupon

private:
    core::JointOptions m_options;
    core::Fit m_fit = core::Fit::Sliding;
    bool m_quiet = false;
    QComboBox* m_kinds = nullptr;
    QCheckBox* m_marks = nullptr;
    QCheckBox* m_witness = nullptr;
    QCheckBox* m_clocked = nullptr;
    LengthEdit* m_wall = nullptr;
    LengthEdit* m_chord = nullptr;
    QComboBox* m_fits = nullptr;
};

} // namespace quoin::ui
