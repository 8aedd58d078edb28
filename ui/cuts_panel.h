// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/model_file.h"
#include "mesh/plane.h"

#include <QWidget>

#include <vector>

class QAction;
class QLabel;
class QMenu;
class QToolButton;
class QTreeWidget;
class QTreeWidgetItem;

namespace quoin::ui {

class PlaneEditor;

/// A cut as the tree shows it.
struct CutRow {
    int id = 0;        ///< core::CutStep::id
    QString name;      ///< the user's; empty: none
    mesh::Plane plane; ///< the scaled part's frame
    bool enabled = true;
    int parent = 0;     ///< id of the cut that it is limited to a side of; 0: the whole part
    bool above = false; ///< which side
    double sectionAreaMm2 = 0;
    int pieces = 0;  ///< how many pieces it leaves
    QString problem; ///< "meets nothing"; empty: none
};

/// Ways to say where a new cut goes.
enum class CutKind { AcrossX, AcrossY, AcrossZ, FacingView, ThroughPoints, ParallelToFace };

/// The cuts of the selected part, as a tree in their order, and the numbers of the selected one.
class CutsPanel : public QWidget {
    Q_OBJECT
public:
    explicit CutsPanel(QWidget* parent = nullptr);
    /// @param part  bounds of the scaled part, mm
    void setRows(std::vector<CutRow> rows, const mesh::Box3& part);
    void setUnit(mesh::Unit unit);
    /// Why no cut can be added now; empty: one can.
    void setWhyNotAdd(const QString& why);
    /// Whether a piece is selected, so that a cut can be of it alone.
    void setPieceSelected(bool selected);
    /// Without a signal. 0: none
    void select(int id);
    int selectedId() const;
    double snapMm() const;
    void setSnapMm(double snapMm);

signals:
    void selected(int id); ///< by the user; 0: none
    void planeLive(int id, const mesh::Plane& plane);
    void planeWanted(int id, const mesh::Plane& plane);
    void enableWanted(int id, bool enabled);
    void removeWanted(int id);
    void moveWanted(int id, int by); ///< -1 earlier, 1 later in the order
    void renameWanted(int id, const QString& name);
    void addWanted(ui::CutKind kind, bool wholePart);
    void snapChanged(double snapMm);

private:
    void buildTree();
    void buildActions();
    void buildMenu();
    void addKinds(QMenu* menu, bool wholePart);
    void rebuild();
    void showRow(QTreeWidgetItem* item, const CutRow& row);
    void showSelected();
    void itemChanged(QTreeWidgetItem* item);
    const CutRow* rowOf(int id) const;
    QTreeWidgetItem* itemOf(int id) const;
    static QString title(const CutRow& row);

    std::vector<CutRow> m_rows;
    mesh::Box3 m_part;
    mesh::Unit m_unit = mesh::Unit::Millimetre;
    QString m_whyNotAdd;
    bool m_pieceSelected = false;
    bool m_quiet = false;
    QTreeWidget* m_tree = nullptr;
    QLabel* m_empty = nullptr;
    QToolButton* m_addButton = nullptr;
    QMenu* m_pieceMenu = nullptr;
    QAction* m_rename = nullptr;
    QAction* m_earlier = nullptr;
    QAction* m_later = nullptr;
    QAction* m_remove = nullptr;
    QLabel* m_title = nullptr;
    PlaneEditor* m_editor = nullptr;
};

} // namespace quoin::ui
