// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/joint_ground.h"

#include <QWidget>

#include <functional>
#include <optional>

class QCheckBox;
class QComboBox;
class QFormLayout;
class QLabel;

namespace quoin::ui {

class AngleEdit;
class LengthEdit;
class ProblemLine;
class ThreadEditor;

/// The numbers of one joint placed by hand: its kind, and whatever that kind has: diameter (of a size that exists, or
/// typed), depth, place on its face, angle, thread, section, what it is made of, how it is held.
class JointEditor : public QWidget {
    Q_OBJECT
public:
    explicit JointEditor(QWidget* parent = nullptr);
    /// @param whyNot  why there is nothing to edit: its numbers are only shown
    void setJoint(const std::optional<core::JointForm>& joint, const JointGround& ground, const QString& whyNot = {});

signals:
    void live(const core::JointForm& joint); ///< while a number is stepped
    /// @param what  "diameter", "place": edits of one kind one after another are one in the history
    void wanted(const core::JointForm& joint, const QString& what);

private:
    void buildFields();
    void buildChoices();
    void layOut();
    void showJoint();
    void showRows();
    void showSize();
    void showReach();
    void showPlace();
    void showTurn();
    void showCarriers();
    /// Whether the joint can be made at all; says why not.
    bool sound(const core::JointForm& joint);
    void take(const core::JointForm& joint, const QString& what);
    void connectNumber(class NumberEdit* field, const QString& what, std::function<void(core::JointForm&, double)> set);
    QComboBox* choice(const QString& name, const QString& help);
    QString piece(bool above) const;
    void help(QWidget* field, const QString& text);

    std::optional<core::JointForm> m_joint;
    JointGround m_ground;
    bool m_quiet = false;
    bool m_editable = false;
    QFormLayout* m_form = nullptr;
    QComboBox* m_kind = nullptr;
    LengthEdit* m_diameter = nullptr;
    QComboBox* m_sizes = nullptr;
    QComboBox* m_rod = nullptr;
    QComboBox* m_section = nullptr;
    QComboBox* m_carrier = nullptr;
    QComboBox* m_hold = nullptr;
    ThreadEditor* m_thread = nullptr;
    LengthEdit* m_depth = nullptr;
    QLabel* m_depthLabel = nullptr;
    LengthEdit* m_taper = nullptr;
    LengthEdit* m_length = nullptr;
    LengthEdit* m_grip = nullptr;
    LengthEdit* m_x = nullptr;
    LengthEdit* m_y = nullptr;
    QCheckBox* m_keyed = nullptr;
    AngleEdit* m_angle = nullptr;
    QLabel* m_angleLabel = nullptr;
    ProblemLine* m_problem = nullptr;
};

} // namespace quoin::ui
