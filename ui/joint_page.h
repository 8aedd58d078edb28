// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/view_state.h"

#include <QWidget>

class QTabWidget;

namespace quoin::ui {

/// The step of the joints: where they are, what they bear, in what order they go together; below all of them the
/// caution that goes with every figure of strength.
class JointPage : public QWidget {
    Q_OBJECT
public:
    /// Takes the panels over.
    JointPage(QWidget* joints, QWidget* strength, QWidget* order, QWidget* parent = nullptr);
    /// Without a signal.
    void setTab(JointTab tab);
    JointTab tab() const;

signals:
    void tabWanted(quoin::ui::JointTab tab);

private:
    QTabWidget* m_tabs;
};

} // namespace quoin::ui
