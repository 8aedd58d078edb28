// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/joints_shown.h"

#include <QWidget>

#include <optional>

class QComboBox;
class QFormLayout;
class QLabel;
class QPushButton;

namespace quoin::ui {

class JointEditor;

/// How one face is jointed: chosen for the maker within their wishes, by hand, or plain; and its joints by hand.
class FaceEditor : public QWidget {
    Q_OBJECT
public:
    explicit FaceEditor(QWidget* parent = nullptr);
    /// @param joint  the selected one, in the order of the face's joints; -1: none
    void setFace(const std::optional<FaceRow>& face, int joint, const PartJoints& part);
    bool canAdd() const;
    bool canRemove() const;

public slots:
    /// One more joint of the kind that is wished for the next one, where there is room; a face that is not by hand yet
    /// becomes so.
    void addJoint();
    /// The same, at a place of the face.
    void addJointAt(mesh::Vec2 at);
    /// The selected joint goes; the others stay by hand.
    void removeJoint();

signals:
    void choiceLive(const core::FaceChoice& choice); ///< while a number is stepped
    /// @param name      for the history
    /// @param mergeKey  edits with the same one, one after another, are one step of the history; empty: never merged
    void choiceWanted(const core::FaceChoice& choice, const QString& name, const QString& mergeKey);
    /// A joint of the face shall be the selected one from now on.
    void jointWanted(int joint);

protected:
    void changeEvent(QEvent* event) override;

private:
    void buildHow();
    void showFace();
    void showKinds();
    void showSizes();
    void showFits();
    void showJoint();
    void showFaults();
    int jointCount() const; ///< also of a choice that is still being worked out
    QString jointName(int joint) const;
    /// Name and number: "screw A1".
    QString jointTitle(int joint) const;
    std::optional<core::JointForm> formOf(int joint) const;
    QString whyNoWish() const;
    std::optional<core::JointForm::Kind> kindWanted() const;
    void changeHow(core::FaceChoice::How how);
    core::FaceChoice placed() const;
    core::FaceChoice byHand() const;
    void send(const core::FaceChoice& choice, const QString& what, const QString& mergeKey = {});

    std::optional<FaceRow> m_face;
    int m_joint = -1;
    PartJoints m_part; ///< without its faces
    QLabel* m_title = nullptr;
    QLabel* m_got = nullptr;
    QFormLayout* m_form = nullptr;
    QComboBox* m_how = nullptr;
    QComboBox* m_kind = nullptr;
    QComboBox* m_size = nullptr;
    QComboBox* m_fit = nullptr;
    QPushButton* m_take = nullptr;
    QLabel* m_jointTitle = nullptr;
    QLabel* m_fault = nullptr;
    JointEditor* m_editor = nullptr;
    QPushButton* m_add = nullptr;
    QComboBox* m_next = nullptr;
    QPushButton* m_remove = nullptr;
};

} // namespace quoin::ui
