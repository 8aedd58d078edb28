// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint_defaults.h"

#include <QObject>

class QCheckBox;
class QComboBox;
class QFormLayout;
class QLabel;
class QWidget;

namespace quoin::ui {

/// The thread of a screw or stud: profile, pitch, starts, hand; and what follows from it: designation, lead, turns to
/// the seat, and how far a print that is too thick leaves the pieces from their angle. Rows of a form.
class ThreadEditor : public QObject {
    Q_OBJECT
public:
    explicit ThreadEditor(QWidget* parent);
    void addTo(QFormLayout& form);
    void setVisible(bool visible);
    /// @param whyNot  as JointEditor's
    void setJoint(const core::JointForm& joint, const QString& whyNot);

signals:
    /// @param what  "thread profile", "pitch", "starts", "hand"
    void wanted(const core::JointForm& joint, const QString& what);

private:
    void showFollows();
    void say(const core::JointForm& joint, const QString& what);

    core::JointForm m_joint;
    bool m_quiet = false;
    QFormLayout* m_form = nullptr;
    QWidget* m_climb = nullptr; ///< pitch and starts
    QComboBox* m_profile = nullptr;
    QComboBox* m_pitch = nullptr;
    QComboBox* m_starts = nullptr;
    QCheckBox* m_left = nullptr;
    QLabel* m_follows = nullptr;
};

} // namespace quoin::ui
