// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/joints_shown.h"

#include <QWidget>

#include <optional>

class QComboBox;
class QLabel;
class QPushButton;

namespace quoin::ui {

class DowelEditor;

/// How one face is jointed: chosen for the maker within their wishes, by hand, or plain; and its dowels by hand.
class FaceEditor : public QWidget {
    Q_OBJECT
public:
    explicit FaceEditor(QWidget* parent = nullptr);
    /// @param joint  the selected one, in the order of the face's joints; -1: none
    void setFace(const std::optional<FaceRow>& face, int joint, const PartJoints& part);
    bool canAdd() const;
    bool canRemove() const;

public slots:
    /// One more dowel, where there is room; a face that is not by hand yet becomes so.
    void addDowel();
    /// The selected dowel goes; the others stay by hand.
    void removeDowel();

signals:
    void choiceLive(const core::FaceChoice& choice); ///< while a number is stepped
    /// @param name      for the history
    /// @param mergeKey  edits with the same one, one after another, are one step of the history; empty: never merged
    void choiceWanted(const core::FaceChoice& choice, const QString& name, const QString& mergeKey);
    /// A dowel of the face shall be the selected one from now on.
    void jointWanted(int joint);

protected:
    void changeEvent(QEvent* event) override;

private:
    void buildHow();
    void showFace();
    void showSizes();
    void showFits();
    void showDowel();
    void showFaults();
    int dowelCount() const; ///< also of a choice that is still being worked out
    QString dowelName(int joint) const;
    void changeHow(core::FaceChoice::How how);
    core::FaceChoice placed() const;
    core::FaceChoice byHand() const;
    void send(const core::FaceChoice& choice, const QString& what, const QString& mergeKey = {});

    std::optional<FaceRow> m_face;
    int m_joint = -1;
    PartJoints m_part; ///< without its faces
    QLabel* m_title = nullptr;
    QLabel* m_got = nullptr;
    QComboBox* m_how = nullptr;
    QComboBox* m_size = nullptr;
    QComboBox* m_fit = nullptr;
    QPushButton* m_take = nullptr;
    QLabel* m_dowelTitle = nullptr;
    QLabel* m_fault = nullptr;
    DowelEditor* m_dowel = nullptr;
    QPushButton* m_add = nullptr;
    QPushButton* m_remove = nullptr;
};

} // namespace quoin::ui
