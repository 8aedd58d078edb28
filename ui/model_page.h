// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/design.h"
#include "mesh/health.h"

#include <QWidget>

class QComboBox;
class QLabel;

namespace quoin::ui {

/// What is known of the selected part's model as it was read: where from, how large, and how sound.
class ModelPage : public QWidget {
    Q_OBJECT
public:
    explicit ModelPage(QWidget* parent = nullptr);
    /// @param health  null while it is being found out
    void show(const core::PartDesign* part, const mesh::Health* health);

signals:
    void unitWanted(quoin::mesh::Unit unit);

private:
    QLabel* m_name;
    QComboBox* m_unit;
    QLabel* m_facts;
    QLabel* m_health;
    QLabel* m_repairs;
};

} // namespace quoin::ui
