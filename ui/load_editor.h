// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/load_case.h"
#include "mesh/mesh.h"
#include "ui/load_faults.h"

#include <QWidget>

#include <functional>
#include <vector>

class QComboBox;
class QFormLayout;
class QLineEdit;
class QPushButton;

namespace quoin::ui {

class DirectionEdit;
class FactorEdit;
class ForcesEditor;
class NumberEdit;
class ProblemLine;
class UnitEdit;

/// What a part has to bear: its own weight, other forces, what is held, and what is counted on.
class LoadEditor : public QWidget {
    Q_OBJECT
public:
    /// What is wrong with a load, field by field.
    using Check = std::function<LoadFaults(const core::LoadCase&)>;

    explicit LoadEditor(QWidget* parent = nullptr);
    ~LoadEditor() override;
    void setCheck(Check check) { m_check = std::move(check); }
    /// @param pieces  numbers that there are  @param part  bounds of the scaled part
    /// @param whyNot  why nothing can be changed; empty: it can
    void setLoad(const core::LoadCase& load, const std::vector<int>& pieces, const mesh::Box3& part,
                 const QString& whyNot = {});
    /// Whether the place of the chosen force is being picked in the view.
    void setPicking(bool force);
    int selectedForce() const; ///< -1: none
    /// The numbers of pieces that are chosen in the view or in the list of pieces.
    void setSelectedPieces(const std::vector<int>& numbers);

signals:
    /// @param name      for the history
    /// @param mergeKey  edits with the same one, one after another, are one step of it; empty: never merged
    void loadWanted(const quoin::core::LoadCase& load, const QString& name, const QString& mergeKey);
    /// While a number is stepped.
    void loadLive(const quoin::core::LoadCase& load);
    /// The place of a force shall be picked in the view; -1: no more.
    void pickWanted(int force);
    void forceSelected(int force);

private:
    struct Field {
        ProblemLine* problem = nullptr;
        QString LoadFaults::*fault = nullptr;
    };
    void buildNumbers();
    void buildHeld();
    void layOut();
    void number(NumberEdit* field, const QString& what, double core::LoadCase::*member);
    Field& field(QString LoadFaults::*fault, const char* name);
    /// Shows what is wrong with a load; whether it is sound.
    bool sound(const core::LoadCase& load);
    void take(const core::LoadCase& load, const QString& name, const QString& mergeKey = {});
    void takeHeld(const QString& text);
    void showLoad();

    Check m_check;
    core::LoadCase m_load;
    std::vector<int> m_pieces, m_chosen;
    mesh::Box3 m_part;
    QString m_whyNot;
    bool m_shown = false, m_quiet = false;
    std::vector<Field> m_problems;
    QFormLayout* m_form = nullptr;
    FactorEdit* m_factor = nullptr;
    DirectionEdit* m_gravity = nullptr;
    ForcesEditor* m_forces = nullptr;
    QLineEdit* m_held = nullptr;
    QPushButton* m_hold = nullptr;
    UnitEdit* m_fill = nullptr;
    UnitEdit* m_glue = nullptr;
    UnitEdit* m_limit = nullptr;
    QComboBox* m_bolts = nullptr;
    QPushButton* m_usual = nullptr;
};

} // namespace quoin::ui
