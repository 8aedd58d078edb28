// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QElapsedTimer>
#include <QTimer>
#include <QWidget>

#include <map>

class QLabel;
class QProgressBar;
class QToolButton;
class QVBoxLayout;

namespace quoin::ui {

/// The work that is going on, a row for each: what, at which stage, how far, how long, and a button that cancels it.
/// Only the two oldest show, with a count of the rest and a button for all of them. Takes no room when there is none.
class JobStrip : public QWidget {
    Q_OBJECT
public:
    explicit JobStrip(QWidget* parent = nullptr);
    /// @param title       "Cutting heron"
    /// @param cancellable false: the button is disabled and says that this must run to its end
    void start(int job, const QString& title, bool cancellable = true);
    /// @param fraction  0 to 1; negative: not known. Fractions never run backwards in the bar.
    void report(int job, double fraction, const QString& stage);
    void finish(int job);
    int count() const { return static_cast<int>(m_rows.size()); }

signals:
    /// Once for a job; its row stays, "stopping", until finish.
    void cancelWanted(int job);

private:
    struct Row {
        QWidget* widget = nullptr;
        QLabel* stage = nullptr;
        QProgressBar* bar = nullptr;
        QLabel* elapsed = nullptr;
        QToolButton* cancel = nullptr;
        QElapsedTimer since;
        bool stopping = false;
    };
    Row makeRow(int job, const QString& title, bool cancellable);
    void cancel(int job);
    void tick();
    void showRows();

    std::map<int, Row> m_rows;
    QTimer m_clock;
    QVBoxLayout* m_layout = nullptr;
    QToolButton* m_more = nullptr;
    bool m_all = false; ///< more than the first rows are shown
};

/// "7 s", "3 min 07 s", "1 h 02 min"
QString durationText(qint64 milliseconds);

} // namespace quoin::ui
