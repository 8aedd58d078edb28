// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/pieces_model.h"

#include <QWidget>

class QLabel;
class QLineEdit;
class QSlider;
class QTableView;
class QToolButton;

namespace quoin::ui {

/// The pieces of the selected part as a table, and how the view shows them: isolated, in print pose, exploded.
class PiecesPanel : public QWidget {
    Q_OBJECT
public:
    explicit PiecesPanel(QWidget* parent = nullptr);
    void setRows(std::vector<PieceRow> rows);
    void setUnit(mesh::Unit unit);
    /// Without a signal.
    void select(const std::vector<int>& numbers);
    /// Rising.
    std::vector<int> selectedNumbers() const;
    // How the view shows them now; without a signal.
    void setIsolated(bool isolated);
    void setPrintPose(bool printPose);
    void setExploded(double share); ///< 0 to 1

signals:
    void selectionWanted(const std::vector<int>& numbers);
    void isolateWanted(bool isolated);
    void printPoseWanted(bool printPose);
    void explodeWanted(double share); ///< 0 to 1

private:
    void buildTable();
    void buildButtons();
    QWidget* buildExplode();
    void showTotals();
    void showButtons();

    PiecesModel* m_model = nullptr;
    PiecesFilter* m_filter = nullptr;
    QTableView* m_table = nullptr;
    QLineEdit* m_search = nullptr;
    QToolButton* m_isolate = nullptr;
    QToolButton* m_printPose = nullptr;
    QSlider* m_explode = nullptr;
    QLabel* m_explodeShare = nullptr;
    QLabel* m_totals = nullptr;
    bool m_quiet = false;
};

} // namespace quoin::ui
