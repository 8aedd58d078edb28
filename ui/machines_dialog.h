// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/machine.h"

#include <QDialog>

#include <optional>
#include <set>

class QListWidget;
class QPushButton;

namespace quoin::ui {

class MachineEditor;
class ProblemLine;

/// The machines of the shop, and which of them print this job. What is changed here counts with OK, for later jobs too.
class MachinesDialog : public QDialog {
    Q_OBJECT
public:
    explicit MachinesDialog(QWidget* parent = nullptr);
    /// @param used  names of those that print this job
    void setMachines(const std::vector<core::Machine>& machines, const std::set<std::string>& used,
                     const QString& currency);
    /// In place of the machines as they were; shown until the next change.
    void showProblem(const QString& words);

signals:
    /// OK: all machines, and the names of those that print this job.
    void machinesGiven(const std::vector<quoin::core::Machine>& machines, const std::vector<std::string>& used);

private:
    QString freeName(const QString& like) const;
    void add(const core::Machine& machine);
    void duplicate();
    void remove();
    void showMachine();
    /// Takes the fields into the list; false, and says why, when they can't be used.
    bool takeFields();
    void give();

    std::vector<core::Machine> m_machines; ///< in the list's order
    int m_shown = -1;
    bool m_quiet = false;
    QListWidget* m_list;
    QPushButton* m_duplicate = nullptr;
    QPushButton* m_remove = nullptr;
    MachineEditor* m_editor;
    ProblemLine* m_problem;
};

} // namespace quoin::ui
