// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/joints_shown.h"

#include <QWidget>

class QAction;
class QCheckBox;
class QLabel;
class QTreeWidget;
class QTreeWidgetItem;

namespace quoin::ui {

class FaceEditor;
class JointOptionsEditor;
class ProblemLine;

/// The joints of the selected part by face, how each face is jointed, and what holds for all of them.
class JointsPanel : public QWidget {
    Q_OBJECT
public:
    explicit JointsPanel(QWidget* parent = nullptr);
    /// The selected face stays selected when it is still there (the same cut, the same place).
    void setJoints(PartJoints joints);
    /// How strong the faces are, in the order of the seams; comes later than the joints.
    void setStrength(const std::vector<std::optional<FaceStrength>>& strength);
    /// Why there is nothing to show: "Cut the part first." Empty: there is.
    void setWhyNone(const QString& why);
    /// Why the joints can't be made as they stand; empty: they can.
    void setProblem(const QString& words);
    /// Without a signal. @param joint  in the order of the face's joints; -1: the face itself. @param seam  -1: none
    void select(int seam, int joint = -1);
    int selectedSeam() const;
    int selectedJoint() const;

public slots:
    /// On the selected face. @param at  frame of its cut; none: where there is most room
    void addJoint(std::optional<mesh::Vec2> at);
    void removeJoint(); ///< the selected one

signals:
    void selected(int seam, int joint); ///< by the user; -1: none
    void faceChoiceLive(const core::FaceChoice& choice);
    /// @param name  for the history  @param mergeKey  see FaceEditor
    void faceChoiceWanted(const core::FaceChoice& choice, const QString& name, const QString& mergeKey);
    void fitsWanted();
    void optionsWanted(const core::JointOptions& options, core::Fit fit, const QString& name);

private:
    void buildTree();
    void buildActions();
    void rebuild();
    void showFace(QTreeWidgetItem* item, const FaceRow& face);
    void showSafety(QTreeWidgetItem* item, const FaceRow& face);
    void showSelected();
    void showTotals();
    int faceLike(const FaceRow& before) const;
    const FaceRow* rowOf(int seam) const;

    PartJoints m_joints;
    QString m_whyNone;
    int m_seam = -1, m_joint = -1; ///< the selection, also while the list shows only some faces
    bool m_quiet = false;
    QTreeWidget* m_tree = nullptr;
    QLabel* m_empty = nullptr;
    QLabel* m_totals = nullptr;
    ProblemLine* m_problem = nullptr;
    QCheckBox* m_onlyTrouble = nullptr;
    QAction* m_add = nullptr;
    QAction* m_remove = nullptr;
    FaceEditor* m_face = nullptr;
    JointOptionsEditor* m_options = nullptr;
};

} // namespace quoin::ui
