// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/bed.h"
#include "mesh/model_file.h"

#include <QWidget>

#include <vector>

class QCheckBox;
class QComboBox;
class QLineEdit;
class QPushButton;

namespace quoin::ui {

class BedsList;
class LengthEdit;
class ProblemLine;

/// On what, and how, the pieces are printed: the part of a design that this panel edits.
struct BedsChoice {
    std::vector<core::Bed> beds;
    double marginMm = 5;
    bool anyRotation = false;
    bool islandsApart = true;
};

/// The beds of the sculpture: chosen from the shelf or typed, how many machines of each, the margin and how pieces may
/// lie. Shows plain values; what the user wants comes out as signals.
class BedsPanel : public QWidget {
    Q_OBJECT
public:
    explicit BedsPanel(QWidget* parent = nullptr);

    /// Without a signal.
    void setChoice(const BedsChoice& choice);
    /// For the margin.
    void setUnit(mesh::Unit unit);
    const BedsChoice& choice() const { return m_choice; }
    /// The shelf: the user's own beds, and those that come with the program.
    void setShelf(std::vector<core::Bed> own, std::vector<core::Bed> shipped);
    /// Why the shelf couldn't be read or written, beside the buttons; empty takes it away.
    void showShelfProblem(const QString& words);

signals:
    void changed(const quoin::ui::BedsChoice& choice);
    /// The user wants this bed on their shelf.
    void keepWanted(const quoin::core::Bed& bed);
    /// The user wants their own bed of this name off the shelf.
    void forgetWanted(const QString& name);

protected:
    void changeEvent(QEvent* event) override;

private:
    QWidget* buildList();
    QWidget* buildAdding();
    QWidget* buildFitting();
    void fillShelf();
    void showEnabled();
    void add(const core::Bed& bed);
    void addTyped();
    void addFromShelf();
    std::vector<core::Bed> known() const;

    BedsChoice m_choice;
    std::vector<core::Bed> m_own, m_shipped;
    BedsList* m_list = nullptr;
    ProblemLine* m_shelfProblem = nullptr;
    QPushButton* m_remove = nullptr;
    QPushButton* m_keep = nullptr;
    QPushButton* m_forget = nullptr;
    QComboBox* m_shelf = nullptr;
    QPushButton* m_addShelf = nullptr;
    QLineEdit* m_typed = nullptr;
    QPushButton* m_addTyped = nullptr;
    ProblemLine* m_typedProblem = nullptr;
    LengthEdit* m_margin = nullptr;
    QCheckBox* m_anyRotation = nullptr;
    QCheckBox* m_islandsApart = nullptr;
    bool m_quiet = false; ///< changes come from the program, not from the user
};

} // namespace quoin::ui
