// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/log_panel.h"

#include "ui/icons.h"
#include "ui/verdict_mark.h"

#include <QAction>
#include <QClipboard>
#include <QGuiApplication>
#include <QHeaderView>
#include <QScrollBar>
#include <QToolButton>
#include <QTreeView>
#include <QVBoxLayout>

#include <algorithm>
#include <utility>

namespace quoin::ui {

namespace {

Verdict verdictOf(Note::Severity severity)
{
    switch (severity) {
    case Note::Severity::Warning:
        return Verdict::Warning;
    case Note::Severity::Error:
        return Verdict::Bad;
    case Note::Severity::Info:
        break;
    }
    return Verdict::None;
}

QToolButton* buttonFor(QAction* action, QWidget* parent)
{
    auto* button = new QToolButton(parent);
    button->setDefaultAction(action);
    button->setToolButtonStyle(Qt::ToolButtonTextBesideIcon);
    button->setFocusPolicy(Qt::StrongFocus);
    return button;
}

} // namespace

QString severityWord(Note::Severity severity)
{
    switch (severity) {
    case Note::Severity::Info:
        return "note";
    case Note::Severity::Warning:
        return "warning";
    case Note::Severity::Error:
        return "error";
    }
    return {};
}

void LogModel::append(const LogLine& line)
{
    if (rowCount() >= mostLines) {
        beginRemoveRows({}, 0, 0);
        m_lines.pop_front();
        endRemoveRows();
    }
    beginInsertRows({}, rowCount(), rowCount());
    m_lines.push_back(line);
    endInsertRows();
}

void LogModel::clear()
{
    beginResetModel();
    m_lines.clear();
    endResetModel();
}

QString LogModel::asText(int row) const
{
    const LogLine& line = m_lines[static_cast<std::size_t>(row)];
    return QString("%1  %2  %3").arg(line.when.toString("yyyy-MM-dd HH:mm:ss"), severityWord(line.severity), line.text);
}

int LogModel::rowCount(const QModelIndex& parent) const
{
    return parent.isValid() ? 0 : static_cast<int>(m_lines.size());
}

int LogModel::columnCount(const QModelIndex& parent) const
{
    return parent.isValid() ? 0 : columnCountOf;
}

QVariant LogModel::data(const QModelIndex& index, int role) const
{
    if (!index.isValid() || index.row() >= rowCount())
        return {};
    const LogLine& line = m_lines[static_cast<std::size_t>(index.row())];
    if (role == Qt::DecorationRole && index.column() == Severity)
        return verdictIcon(verdictOf(line.severity));
    if (role == Qt::ToolTipRole)
        return asText(index.row());
    if (role != Qt::DisplayRole)
        return {};
    switch (index.column()) {
    case When:
        return line.when.toString("HH:mm:ss");
    case Severity:
        return severityWord(line.severity);
    default:
        return line.text;
    }
}

QVariant LogModel::headerData(int section, Qt::Orientation orientation, int role) const
{
    static constexpr const char* titles[]{"Time", "Kind", "What happened"};
    if (orientation != Qt::Horizontal || role != Qt::DisplayRole || section < 0 || section >= columnCountOf)
        return {};
    return QString(titles[section]);
}

LogPanel::LogPanel(QWidget* parent) : QWidget(parent)
{
    m_model = new LogModel(this);
    m_view = new QTreeView(this);
    m_view->setModel(m_model);
    m_view->setRootIsDecorated(false);
    m_view->setUniformRowHeights(true);
    m_view->setAlternatingRowColors(true);
    m_view->setSelectionMode(QAbstractItemView::ExtendedSelection);
    m_view->setContextMenuPolicy(Qt::ActionsContextMenu);
    m_view->setAccessibleName("Log");
    m_view->setTextElideMode(Qt::ElideRight);
    const QFontMetrics metrics = fontMetrics();
    m_view->header()->resizeSection(LogModel::When, metrics.horizontalAdvance("00:00:00") + 24);
    m_view->header()->resizeSection(LogModel::Severity, metrics.horizontalAdvance("warning") + metrics.height() + 28);

    m_copySelected = new QAction(icon(Icon::Copy), "Cop&y selected", this);
    m_copySelected->setShortcut(QKeySequence::Copy);
    m_copySelected->setShortcutContext(Qt::WidgetShortcut);
    m_copyAll = new QAction(icon(Icon::Copy), "Copy &all", this);
    m_clear = new QAction(icon(Icon::Clear), "C&lear", this);
    auto* buttons = new QHBoxLayout;
    for (QAction* action : {m_copyAll, m_copySelected, m_clear}) {
        m_view->addAction(action);
        buttons->addWidget(buttonFor(action, this));
    }
    buttons->addStretch();
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(6, 6, 6, 6);
    layout->addWidget(m_view, 1);
    layout->addLayout(buttons);

    connect(m_copyAll, &QAction::triggered, this, [this] { copy(allText()); });
    connect(m_copySelected, &QAction::triggered, this, [this] { copy(selectedText()); });
    connect(m_clear, &QAction::triggered, this, [this] {
        m_model->clear();
        showButtons();
        emit cleared();
    });
    connect(m_view->selectionModel(), &QItemSelectionModel::selectionChanged, this, &LogPanel::showButtons);
    showButtons();
}

void LogPanel::append(const LogLine& line)
{
    const QScrollBar* bar = m_view->verticalScrollBar();
    const bool atEnd = bar->value() >= bar->maximum();
    m_model->append(line);
    if (atEnd)
        m_view->scrollToBottom();
    showButtons();
}

void LogPanel::append(const Note& note)
{
    QString text = QString::fromStdString(note.text);
    if (!note.place.empty())
        text += " at " + QString::fromStdString(note.place);
    append(LogLine{QDateTime::currentDateTime(), note.severity, text});
}

void LogPanel::append(const Problem& problem)
{
    append(LogLine{QDateTime::currentDateTime(), Note::Severity::Error, QString::fromStdString(problem.sentence())});
}

QString LogPanel::allText() const
{
    QStringList lines;
    for (int row = 0; row < m_model->rowCount(); ++row)
        lines << m_model->asText(row);
    return lines.join('\n');
}

QString LogPanel::selectedText() const
{
    QModelIndexList chosen = m_view->selectionModel()->selectedRows();
    std::sort(chosen.begin(), chosen.end());
    QStringList lines;
    for (const QModelIndex& at : chosen)
        lines << m_model->asText(at.row());
    return lines.join('\n');
}

void LogPanel::copy(const QString& text)
{
    QGuiApplication::clipboard()->setText(text);
}

void LogPanel::showButtons()
{
    const bool some = m_model->rowCount() > 0, chosen = m_view->selectionModel()->hasSelection();
    m_copyAll->setEnabled(some);
    m_copyAll->setToolTip(some ? "Copy every line to the clipboard." : "There is nothing to copy yet.");
    m_copySelected->setEnabled(chosen);
    m_copySelected->setToolTip(chosen ? "Copy the selected lines (Ctrl+C)." : "Select lines first.");
    m_clear->setEnabled(some);
    m_clear->setToolTip(some ? "Empty the log." : "The log is empty.");
}

} // namespace quoin::ui

#include "moc_log_panel.cpp"
