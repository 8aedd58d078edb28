// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/bed.h"

#include <QIcon>
#include <QWidget>

#include <vector>

class QLabel;
class QTableWidget;

namespace quoin::ui {

class ProblemLine;

/// The plate from above: a rectangle in its proportions, or a circle, in the colours of the palette.
QIcon plateIcon(const core::Bed& bed, const QPalette& palette);

/// Beds in a table: rename (F2), number of machines, remove (Delete).
class BedsList : public QWidget {
    Q_OBJECT
public:
    explicit BedsList(QWidget* parent = nullptr);

    /// Without a signal.
    void setBeds(std::vector<core::Bed> beds);
    const std::vector<core::Bed>& beds() const { return m_beds; }
    /// Null when none is; valid until the list changes.
    const core::Bed* selected() const;
    bool isTaken(const std::string& name) const { return isTaken(name, -1); }
    /// At the end, selected; without a signal.
    void append(const core::Bed& bed);

public slots:
    void removeSelected();

signals:
    void edited(); ///< by the user
    void selectionChanged();

protected:
    void changeEvent(QEvent* event) override;
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    void fill();
    void rename(int row);
    bool isTaken(const std::string& name, int exceptRow) const;
    int selectedRow() const;

    std::vector<core::Bed> m_beds;
    QTableWidget* m_table = nullptr;
    QLabel* m_empty = nullptr;
    ProblemLine* m_problem = nullptr;
    bool m_quiet = false; ///< changes come from the program, not from the user
};

} // namespace quoin::ui
