// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/vec3.h"

#include <QWidget>

#include <array>

class QComboBox;

namespace quoin::ui {

class UnitEdit;

/// A direction in the part's frame: one of its six axes by name, or three numbers of one's own, of any length.
class DirectionEdit : public QWidget {
    Q_OBJECT
public:
    /// @param name  for those who can't see the field: "Direction of the force"
    explicit DirectionEdit(const QString& name, QWidget* parent = nullptr);
    /// Shows a direction without a signal. Numbers that mean the same way stay as they were typed.
    void setDirection(mesh::Vec3 direction);
    mesh::Vec3 direction() const { return m_direction; }
    void setHelp(const QString& help);

signals:
    /// May have no length: who takes it says so.
    void edited(quoin::mesh::Vec3 direction);

private:
    void showDirection();

    QComboBox* m_axis = nullptr;
    QWidget* m_own = nullptr;
    std::array<UnitEdit*, 3> m_numbers{};
    mesh::Vec3 m_direction{0, 0, -1};
    bool m_typed = false; ///< numbers of one's own were asked for, also where they happen to be an axis
};

/// "down (−z)", "(1, 0, 0.5)": a direction in words.
QString directionWords(mesh::Vec3 direction);

} // namespace quoin::ui
