// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/parts_model.h"

#include <QWidget>

class QAction;
class QComboBox;
class QLabel;
class QListView;
class QSpinBox;

namespace quoin::ui {

/// The parts of the sculpture: show and hide, rename (F2), quantity and material of the selected one, add, duplicate,
/// remove.
class PartsPanel : public QWidget {
    Q_OBJECT
public:
    explicit PartsPanel(QWidget* parent = nullptr);
    void setRows(std::vector<PartRow> rows);
    void setUnit(mesh::Unit unit);
    /// Without a signal. @param id  0: none
    void select(int id);
    int selectedId() const; ///< 0: none

signals:
    void selected(int id); ///< by the user; 0: none
    void visibleWanted(int id, bool visible);
    void renameWanted(int id, const QString& name);
    void quantityWanted(int id, int quantity);
    void materialWanted(int id, const QString& material);
    void duplicateWanted(int id);
    void removeWanted(int id);
    void addWanted();

private:
    void buildActions();
    QWidget* buildDetails();
    void connectAll();
    void showSelected();
    const PartRow* selectedRow() const;

    PartsModel* m_model = nullptr;
    QListView* m_list = nullptr;
    QLabel* m_empty = nullptr;
    QWidget* m_details = nullptr;
    QSpinBox* m_quantity = nullptr;
    QComboBox* m_material = nullptr;
    QAction* m_add = nullptr;
    QAction* m_rename = nullptr;
    QAction* m_duplicate = nullptr;
    QAction* m_remove = nullptr;
    bool m_quiet = false; ///< changes come from the program, not from the user
};

} // namespace quoin::ui
