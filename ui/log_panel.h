// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/result.h"

#include <QAbstractTableModel>
#include <QDateTime>
#include <QWidget>

#include <deque>

class QAction;
class QLabel;
class QTreeView;

namespace quoin::ui {

/// One remark of the program.
struct LogLine {
    QDateTime when;
    Note::Severity severity = Note::Severity::Info;
    QString text; ///< with its place, if it has one
};

/// "note", "warning", "error"
QString severityWord(Note::Severity severity);

class LogModel : public QAbstractTableModel {
    Q_OBJECT
public:
    enum Column { When, Severity, Text, columnCountOf };
    static constexpr int mostLines = 5000; ///< the oldest go first

    using QAbstractTableModel::QAbstractTableModel;
    void append(const LogLine& line);
    void clear();
    /// "2026-05-01 10:12:13  warning  text", as it is copied
    QString asText(int row) const;

    int rowCount(const QModelIndex& parent = {}) const override;
    int columnCount(const QModelIndex& parent = {}) const override;
    QVariant data(const QModelIndex& index, int role) const override;
    QVariant headerData(int section, Qt::Orientation orientation, int role) const override;

private:
    std::deque<LogLine> m_lines;
};

/// What happened, for the maker to read and to copy into a letter.
class LogPanel : public QWidget {
    Q_OBJECT
public:
    explicit LogPanel(QWidget* parent = nullptr);
    /// The view follows the last line unless it has been scrolled away from it.
    void append(const LogLine& line);
    /// Now, with the note's place behind its text.
    void append(const Note& note);
    void append(const Problem& problem);
    int lineCount() const { return m_model->rowCount(); }
    QString allText() const;

signals:
    void cleared();

private:
    void copy(const QString& text);
    QString selectedText() const;
    void showButtons();

    LogModel* m_model = nullptr;
    QTreeView* m_view = nullptr;
    QAction* m_copySelected = nullptr;
    QAction* m_copyAll = nullptr;
    QAction* m_clear = nullptr;
};

} // namespace quoin::ui
