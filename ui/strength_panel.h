// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/joints_shown.h"

#include <QStringList>
#include <QWidget>

#include <optional>
#include <vector>

class QLabel;
class QTextBrowser;
class QTreeWidget;

namespace quoin::ui {

class LoadEditor;

/// A face with its strength, as the list shows it.
struct StrengthRow {
    int seam = 0;
    QString mark;
    int pieceBelow = 0, pieceAbove = 0;
    std::optional<FaceStrength> strength; ///< none: nothing hangs on it
};

/// How strong the joints are estimated to be, and for what load: the faces, every check of the chosen one with its
/// numbers, formula and source, and the load that can be changed while one watches.
class StrengthPanel : public QWidget {
    Q_OBJECT
public:
    explicit StrengthPanel(QWidget* parent = nullptr);
    LoadEditor& load() { return *m_load; }

    /// Shown weakest first.
    /// @param limit   below it a face is weak
    /// @param ground  what the figures rest on, a line each
    void setRows(std::vector<StrengthRow> rows, double limit, const QStringList& ground);
    /// Why there are no figures; they are reckoned again, for instance.
    void setWhyNone(const QString& why);
    /// While the figures that are shown are being reckoned anew.
    void setBusy(bool busy);
    /// Without a signal. -1: none
    void select(int seam);
    int selected() const { return m_seam; }
    /// What the detail says, as plain text.
    QString detail() const;

signals:
    void faceSelected(int seam);

protected:
    void changeEvent(QEvent* event) override;

private:
    void showList();
    void showDetail();
    void showTotals();
    const StrengthRow* row() const;

    std::vector<StrengthRow> m_rows;
    double m_limit = 3;
    QStringList m_ground;
    QString m_whyNone;
    int m_seam = -1;
    bool m_quiet = false, m_busy = false;
    QTreeWidget* m_list = nullptr;
    QLabel* m_empty = nullptr;
    QLabel* m_totals = nullptr;
    QTextBrowser* m_detail = nullptr;
    LoadEditor* m_load = nullptr;
};

} // namespace quoin::ui
