// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/load_case.h"
#include "mesh/mesh.h"

#include <QWidget>

#include <array>
#include <functional>
#include <vector>

class QComboBox;
class QListWidget;
class QPushButton;

namespace quoin::ui {

class DirectionEdit;
class ForceEdit;
class LengthEdit;
class ProblemLine;

/// Forces of the maker's besides own weight: a list, and the numbers of the chosen one.
class ForcesEditor : public QWidget {
    Q_OBJECT
public:
    explicit ForcesEditor(QWidget* parent = nullptr);
    ~ForcesEditor() override;

    /// @param faults  what is wrong with each, as loadFaults says
    /// @param pieces  numbers that there are
    /// @param part    bounds of the scaled part: a new force begins at the middle of its top
    void setForces(const std::vector<core::ExtraForce>& forces, const std::vector<QString>& faults,
                   const std::vector<int>& pieces, const mesh::Box3& part);
    int selected() const { return m_selected; } ///< -1: none
    /// Whether a place is being picked in the view for the chosen one.
    void setPicking(bool picking);

signals:
    /// @param name  for the history  @param mergeKey  numbers stepped one after another; may be empty
    void wanted(const std::vector<quoin::core::ExtraForce>& forces, const QString& name, const QString& mergeKey);
    void live(const std::vector<quoin::core::ExtraForce>& forces);
    /// The place shall be picked in the view; -1: no more.
    void pickWanted(int force);
    void selectionChanged(int force);

private:
    void buildFields();
    void layOut();
    void showList();
    void showForce();
    void showPieces(int piece);
    core::ExtraForce changed(const std::function<void(core::ExtraForce&)>& change) const;
    void take(const core::ExtraForce& force, const QString& what);
    void add();
    void remove();

    std::vector<core::ExtraForce> m_forces;
    std::vector<QString> m_faults;
    std::vector<int> m_pieces;
    mesh::Box3 m_part;
    int m_selected = -1;
    bool m_quiet = false;
    QListWidget* m_list = nullptr;
    QPushButton* m_add = nullptr;
    QPushButton* m_remove = nullptr;
    QWidget* m_fields = nullptr;
    ForceEdit* m_size = nullptr;
    DirectionEdit* m_direction = nullptr;
    std::array<LengthEdit*, 3> m_at{};
    QPushButton* m_pick = nullptr;
    QComboBox* m_piece = nullptr;
    ProblemLine* m_problem = nullptr;
};

/// "50 N down, −z, on piece 3"
QString forceWords(const core::ExtraForce& force);

} // namespace quoin::ui
