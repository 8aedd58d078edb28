// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/machine.h"
#include "mesh/result.h"

#include <QWidget>

#include <array>

class QCheckBox;
class QComboBox;
class QDoubleSpinBox;
class QFormLayout;
class QLineEdit;
class QSpinBox;

namespace quoin::ui {

class LengthEdit;

/// All that is said of one machine.
class MachineEditor : public QWidget {
    Q_OBJECT
public:
    explicit MachineEditor(QWidget* parent = nullptr);
    void setMachine(const core::Machine& machine);
    /// As it stands in the fields. BadArgument with the field that can't be understood, or as checkMachine.
    Result<core::Machine> machine() const;
    void setCurrency(const QString& currency);

signals:
    void edited();

private:
    void makeMachine(QFormLayout& form);
    void makeHours(QFormLayout& form);
    void makeRisk(QFormLayout& form);
    Result<core::WorkCalendar> calendar() const;

    bool m_quiet = false;
    core::Bed m_bedBefore; ///< as it came, with its name
    QLineEdit* m_name = nullptr;
    QLineEdit* m_bed = nullptr;
    LengthEdit* m_margin = nullptr;
    LengthEdit* m_gap = nullptr;
    QDoubleSpinBox* m_nozzle = nullptr;
    QLineEdit* m_materials = nullptr;
    QDoubleSpinBox* m_speed = nullptr;
    QDoubleSpinBox* m_cost = nullptr;
    QSpinBox* m_power = nullptr;
    std::array<QLineEdit*, 7> m_days{};
    QCheckBox* m_nights = nullptr;
    QCheckBox* m_weekends = nullptr;
    QLineEdit* m_away = nullptr;
    QDoubleSpinBox* m_change = nullptr;
    QDoubleSpinBox* m_spoolChange = nullptr;
    QDoubleSpinBox* m_failure = nullptr;
    QComboBox* m_failurePer = nullptr;
};

} // namespace quoin::ui
