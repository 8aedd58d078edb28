// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/cuts_panel.h"

#include "ui/icons.h"
#include "ui/plane_editor.h"
#include "ui/plane_words.h"
#include "ui/quantity_text.h"
#include "ui/verdict_mark.h"

#include <QAction>
#include <QHeaderView>
#include <QLabel>
#include <QMenu>
#include <QScopedValueRollback>
#include <QToolButton>
#include <QTreeWidget>
#include <QVBoxLayout>

#include <algorithm>

namespace quoin::ui {

namespace {

enum Column { CutColumn, PlaneColumn, SectionColumn, PiecesColumn, columnCount };

constexpr int idRole = Qt::UserRole;

QToolButton* buttonFor(QAction* action, QWidget* parent)
{
    auto* button = new QToolButton(parent);
    button->setDefaultAction(action);
    button->setFocusPolicy(Qt::TabFocus);
    button->setAccessibleName(action->text().remove('&'));
    return button;
}

} // namespace

CutsPanel::CutsPanel(QWidget* parent) : QWidget(parent)
{
    buildTree();
    buildActions();
    m_empty = new QLabel("No cut yet. Add one, or let Quoin suggest cuts that fit your beds.", this);
    m_empty->setWordWrap(true);
    m_empty->setAlignment(Qt::AlignCenter);
    m_empty->setMargin(12);
    buildMenu();
    m_title = new QLabel(this);
    m_editor = new PlaneEditor(this);

    auto* buttons = new QHBoxLayout;
    buttons->addWidget(m_addButton);
    buttons->addStretch();
    for (QAction* action : {m_earlier, m_later, m_remove})
        buttons->addWidget(buttonFor(action, this));
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(6, 6, 6, 6);
    layout->addWidget(m_tree, 1);
    layout->addWidget(m_empty, 1);
    layout->addLayout(buttons);
    layout->addWidget(m_title);
    layout->addWidget(m_editor);

    connect(m_editor, &PlaneEditor::live, this, [this](const mesh::Plane& p) { emit planeLive(selectedId(), p); });
    connect(m_editor, &PlaneEditor::wanted, this, [this](const mesh::Plane& p) { emit planeWanted(selectedId(), p); });
    connect(m_editor, &PlaneEditor::snapChanged, this, &CutsPanel::snapChanged);
    setRows({}, {});
}

void CutsPanel::buildTree()
{
    m_tree = new QTreeWidget(this);
    m_tree->setColumnCount(columnCount);
    m_tree->setHeaderLabels({"Cut", "Plane", "Section", "Pieces"});
    m_tree->headerItem()->setToolTip(SectionColumn, "Area of the cut faces.");
    m_tree->headerItem()->setToolTip(PiecesColumn, "How many pieces this cut leaves.");
    m_tree->headerItem()->setTextAlignment(SectionColumn, Qt::AlignRight);
    m_tree->headerItem()->setTextAlignment(PiecesColumn, Qt::AlignRight);
    m_tree->header()->setSectionResizeMode(QHeaderView::ResizeToContents);
    m_tree->header()->setSectionResizeMode(PlaneColumn, QHeaderView::Stretch);
    m_tree->header()->setStretchLastSection(false);
    m_tree->setEditTriggers(QAbstractItemView::NoEditTriggers);
    m_tree->setContextMenuPolicy(Qt::ActionsContextMenu);
    m_tree->setAllColumnsShowFocus(true);
    m_tree->setAccessibleName("Cuts");
    connect(m_tree, &QTreeWidget::itemSelectionChanged, this, [this] {
        if (m_quiet)
            return;
        showSelected();
        emit selected(selectedId());
    });
    connect(m_tree, &QTreeWidget::itemChanged, this, &CutsPanel::itemChanged);
    connect(m_tree, &QTreeWidget::itemDoubleClicked, this, [this](QTreeWidgetItem* item, int column) {
        if (column == CutColumn)
            m_tree->editItem(item, CutColumn);
    });
}

void CutsPanel::buildActions()
{
    m_rename = new QAction("&Rename", this);
    m_rename->setShortcut(Qt::Key_F2);
    m_earlier = new QAction(icon(Icon::MoveUp), "Cut &earlier", this);
    m_earlier->setShortcut(Qt::ALT | Qt::Key_Up);
    m_later = new QAction(icon(Icon::MoveDown), "Cut &later", this);
    m_later->setShortcut(Qt::ALT | Qt::Key_Down);
    m_remove = new QAction(icon(Icon::Remove), "Re&move", this);
    m_remove->setShortcut(Qt::Key_Delete);
    for (QAction* action : {m_rename, m_earlier, m_later, m_remove}) {
        action->setShortcutContext(Qt::WidgetShortcut);
        m_tree->addAction(action);
    }
    connect(m_rename, &QAction::triggered, this, [this] { m_tree->editItem(itemOf(selectedId()), CutColumn); });
    connect(m_earlier, &QAction::triggered, this, [this] { emit moveWanted(selectedId(), -1); });
    connect(m_later, &QAction::triggered, this, [this] { emit moveWanted(selectedId(), 1); });
    connect(m_remove, &QAction::triggered, this, [this] { emit removeWanted(selectedId()); });
}

void CutsPanel::buildMenu()
{
    m_addButton = new QToolButton(this);
    m_addButton->setIcon(icon(Icon::AddCut));
    m_addButton->setText("&Add cut");
    m_addButton->setToolButtonStyle(Qt::ToolButtonTextBesideIcon);
    m_addButton->setPopupMode(QToolButton::InstantPopup);
    m_addButton->setFocusPolicy(Qt::StrongFocus);
    auto* menu = new QMenu(m_addButton);
    menu->setToolTipsVisible(true);
    menu->addSection("The whole part");
    addKinds(menu, true);
    menu->addSeparator();
    m_pieceMenu = menu->addMenu("&Selected piece only");
    m_pieceMenu->setToolTipsVisible(true);
    addKinds(m_pieceMenu, false);
    m_addButton->setMenu(menu);
    setPieceSelected(false);
}

void CutsPanel::addKinds(QMenu* menu, bool wholePart)
{
    struct Kind {
        CutKind kind;
        const char* words;
        const char* help;
    };
    static constexpr Kind kinds[]{
        {CutKind::AcrossX, "Across &x", "Square to the part's x axis, through its middle."},
        {CutKind::AcrossY, "Across &y", "Square to the part's y axis, through its middle."},
        {CutKind::AcrossZ, "Across &z", "Square to the part's z axis, through its middle."},
        {CutKind::FacingView, "Facing the &view", "Square to the direction that you look in, through the middle."},
        {CutKind::ThroughPoints, "Through &three points…", "Pick three points on the part."},
        {CutKind::ParallelToFace, "Parallel to a &face…", "Pick a flat face; then move the cut away from it."}};
    for (const Kind& kind : kinds) {
        QAction* action = menu->addAction(kind.words);
        action->setToolTip(kind.help);
        connect(action, &QAction::triggered, this,
                [this, which = kind.kind, wholePart] { emit addWanted(which, wholePart); });
    }
}

void CutsPanel::setWhyNotAdd(const QString& why)
{
    m_whyNotAdd = why;
    m_addButton->setEnabled(why.isEmpty());
    m_addButton->setToolTip(why.isEmpty() ? QString("Add a cut by a plane.") : "No cut can be added: " + why);
}

void CutsPanel::setPieceSelected(bool selected)
{
    m_pieceSelected = selected;
    QAction* action = m_pieceMenu->menuAction();
    action->setEnabled(selected);
    action->setText(selected ? "&Selected piece only" : "&Selected piece only (select a piece first)");
    action->setToolTip(selected ? "The cut leaves the other pieces as they are." : "Select a piece first.");
}

void CutsPanel::setUnit(mesh::Unit unit)
{
    m_unit = unit;
    m_editor->setUnit(unit);
    setRows(std::move(m_rows), m_part);
}

double CutsPanel::snapMm() const
{
    return m_editor->snapMm();
}

void CutsPanel::setSnapMm(double snapMm)
{
    m_editor->setSnapMm(snapMm);
}

const CutRow* CutsPanel::rowOf(int id) const
{
    const auto at = std::ranges::find(m_rows, id, &CutRow::id);
    return at == m_rows.end() ? nullptr : &*at;
}

QTreeWidgetItem* CutsPanel::itemOf(int id) const
{
    for (QTreeWidgetItemIterator it(m_tree); *it != nullptr; ++it)
        if ((*it)->data(CutColumn, idRole).toInt() == id)
            return *it;
    return nullptr;
}

QString CutsPanel::title(const CutRow& row)
{
    return row.name.isEmpty() ? QString("Cut %1").arg(row.id) : row.name;
}

void CutsPanel::setRows(std::vector<CutRow> rows, const mesh::Box3& part)
{
    const QScopedValueRollback quiet(m_quiet, true);
    // In place when the tree is the same: an open editor and the selection stay.
    const bool same = std::ranges::equal(
        rows, m_rows, [](const CutRow& a, const CutRow& b) { return a.id == b.id && a.parent == b.parent; });
    m_rows = std::move(rows);
    m_part = part;
    if (!same || m_tree->topLevelItemCount() == 0)
        rebuild();
    for (const CutRow& row : m_rows)
        showRow(itemOf(row.id), row);
    m_tree->setVisible(!m_rows.empty());
    m_empty->setVisible(m_rows.empty());
    setWhyNotAdd(m_whyNotAdd);
    showSelected();
}

void CutsPanel::rebuild()
{
    const int was = selectedId();
    m_tree->clear();
    for (const CutRow& row : m_rows) {
        QTreeWidgetItem* above = row.parent == 0 ? nullptr : itemOf(row.parent);
        auto* item = above != nullptr ? new QTreeWidgetItem(above) : new QTreeWidgetItem(m_tree);
        item->setData(CutColumn, idRole, row.id);
    }
    m_tree->expandAll();
    select(was);
}

void CutsPanel::showRow(QTreeWidgetItem* item, const CutRow& row)
{
    item->setFlags(Qt::ItemIsEnabled | Qt::ItemIsSelectable | Qt::ItemIsUserCheckable | Qt::ItemIsEditable);
    item->setText(CutColumn, title(row));
    item->setCheckState(CutColumn, row.enabled ? Qt::Checked : Qt::Unchecked);
    const QString side = row.parent == 0 ? QString() : row.above ? "above: " : "below: ";
    const QString words = side + planeWords(row.plane, m_unit);
    item->setText(PlaneColumn, words);
    const bool problem = !row.problem.isEmpty();
    item->setIcon(PlaneColumn, problem ? verdictIcon(Verdict::Warning) : QIcon());
    item->setText(SectionColumn, problem || !row.enabled ? QString("–") : areaText(row.sectionAreaMm2));
    item->setText(PiecesColumn, problem || !row.enabled ? QString("–") : QString::number(row.pieces));
    item->setTextAlignment(SectionColumn, Qt::AlignRight | Qt::AlignVCenter);
    item->setTextAlignment(PiecesColumn, Qt::AlignRight | Qt::AlignVCenter);
    QString tip = title(row) + ": " + words;
    if (const CutRow* parent = rowOf(row.parent))
        tip += QString("\nOnly what lies %1 %2.").arg(row.above ? "above" : "below", title(*parent));
    if (problem)
        tip += "\n" + row.problem;
    if (!row.enabled)
        tip += "\nSwitched off.";
    for (int column = 0; column < columnCount; ++column)
        item->setToolTip(column, tip);
    item->setData(PlaneColumn, Qt::AccessibleTextRole, problem ? words + ", " + row.problem : words);
}

void CutsPanel::itemChanged(QTreeWidgetItem* item)
{
    const CutRow* row = rowOf(item->data(CutColumn, idRole).toInt());
    if (m_quiet || row == nullptr)
        return;
    const CutRow was = *row; // setRows may come while the signal is out
    const bool enabled = item->checkState(CutColumn) == Qt::Checked;
    const QString name = item->text(CutColumn).simplified();
    const bool renamed = name != title(was);
    {
        // What is shown is the document's say.
        const QScopedValueRollback quiet(m_quiet, true);
        showRow(item, was);
    }
    if (enabled != was.enabled)
        emit enableWanted(was.id, enabled);
    if (renamed)
        emit renameWanted(was.id, name);
}

void CutsPanel::select(int id)
{
    const QScopedValueRollback quiet(m_quiet, true);
    QTreeWidgetItem* item = itemOf(id);
    if (item == nullptr)
        m_tree->clearSelection();
    else if (!item->isSelected())
        m_tree->setCurrentItem(item);
    showSelected();
}

int CutsPanel::selectedId() const
{
    const auto chosen = m_tree->selectedItems();
    return chosen.isEmpty() ? 0 : chosen.front()->data(CutColumn, idRole).toInt();
}

void CutsPanel::showSelected()
{
    const CutRow* row = rowOf(selectedId());
    const QString why = row == nullptr ? " Select a cut first." : "";
    const bool first = row != nullptr && row->id == m_rows.front().id;
    const bool last = row != nullptr && row->id == m_rows.back().id;
    m_rename->setEnabled(row != nullptr);
    m_remove->setEnabled(row != nullptr);
    m_earlier->setEnabled(row != nullptr && !first);
    m_later->setEnabled(row != nullptr && !last);
    m_remove->setToolTip("Take this cut away (Delete)." + why);
    m_earlier->setToolTip("Make this cut earlier in the order (Alt+Up)." + (first ? " It is the first." : why));
    m_later->setToolTip("Make this cut later in the order (Alt+Down)." + (last ? " It is the last." : why));
    m_title->setVisible(row != nullptr);
    m_editor->setVisible(row != nullptr);
    if (row == nullptr)
        return;
    QString words = QString("<b>%1</b>").arg(title(*row).toHtmlEscaped());
    if (!row->problem.isEmpty())
        words += ": " + row->problem.toHtmlEscaped();
    m_title->setText(words);
    m_title->setWordWrap(true);
    m_editor->setPlane(row->plane, m_part);
}

} // namespace quoin::ui

#include "moc_cuts_panel.cpp"
