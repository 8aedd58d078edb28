// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/parts_panel.h"

#include "core/material.h"
#include "ui/calm_wheel.h"
#include "ui/icons.h"

#include <QAction>
#include <QComboBox>
#include <QFormLayout>
#include <QLabel>
#include <QListView>
#include <QScopedValueRollback>
#include <QSpinBox>
#include <QToolButton>
#include <QVBoxLayout>

namespace quoin::ui {

namespace {

constexpr int mostCopies = 999;

QToolButton* buttonFor(QAction* action, QWidget* parent)
{
    auto* button = new QToolButton(parent);
    button->setDefaultAction(action);
    button->setToolButtonStyle(Qt::ToolButtonTextBesideIcon);
    button->setFocusPolicy(Qt::TabFocus);
    return button;
}

} // namespace

PartsPanel::PartsPanel(QWidget* parent) : QWidget(parent)
{
    m_model = new PartsModel(this);
    m_list = new QListView(this);
    m_list->setModel(m_model);
    m_list->setItemDelegate(new PartsDelegate(*m_model, m_list));
    m_list->setEditTriggers(QAbstractItemView::EditKeyPressed | QAbstractItemView::DoubleClicked);
    m_list->setSelectionMode(QAbstractItemView::SingleSelection);
    m_list->setContextMenuPolicy(Qt::ActionsContextMenu);
    m_list->setAccessibleName("Parts");
    m_list->setUniformItemSizes(false);
    buildActions();

    m_empty = new QLabel("No part yet. Add a model file: STL, 3MF, OBJ, PLY or OFF.", this);
    m_empty->setWordWrap(true);
    m_empty->setAlignment(Qt::AlignCenter);
    m_empty->setMargin(12);

    auto* buttons = new QHBoxLayout;
    for (QAction* action : {m_add, m_duplicate, m_remove})
        buttons->addWidget(buttonFor(action, this));
    buttons->addStretch();

    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(6, 6, 6, 6);
    layout->addWidget(m_list, 1);
    layout->addWidget(m_empty);
    layout->addLayout(buttons);
    layout->addWidget(m_details = buildDetails());
    connectAll();
    calmWheel(*this);
    showSelected();
}

void PartsPanel::buildActions()
{
    m_add = new QAction(icon(Icon::AddPart), "&Add part…", this);
    m_add->setToolTip("Add a model file to the sculpture.");
    m_rename = new QAction("&Rename", this);
    m_rename->setShortcut(Qt::Key_F2);
    m_duplicate = new QAction(icon(Icon::Duplicate), "&Duplicate", this);
    m_remove = new QAction(icon(Icon::Remove), "&Remove", this);
    m_remove->setShortcut(Qt::Key_Delete);
    for (QAction* action : {m_rename, m_duplicate, m_remove, m_add}) {
        action->setShortcutContext(Qt::WidgetShortcut);
        m_list->addAction(action);
    }
}

QWidget* PartsPanel::buildDetails()
{
    auto* details = new QWidget(this);
    auto* form = new QFormLayout(details);
    form->setContentsMargins(0, 0, 0, 0);
    m_quantity = new QSpinBox(details);
    m_quantity->setRange(1, mostCopies);
    m_quantity->setSuffix(" ×");
    m_quantity->setKeyboardTracking(false);
    m_quantity->setAccessibleName("Quantity");
    m_material = new QComboBox(details);
    for (const core::Material& material : core::shippedMaterials())
        m_material->addItem(
            QString("%1, %2 g/cm³").arg(QString::fromStdString(material.name)).arg(material.densityGPerCm3),
            QString::fromStdString(material.name));
    m_material->setAccessibleName("Material");
    form->addRow("Quantity", m_quantity);
    form->addRow("Material", m_material);
    return details;
}

void PartsPanel::connectAll()
{
    connect(m_model, &PartsModel::visibleWanted, this, &PartsPanel::visibleWanted);
    connect(m_model, &PartsModel::renameWanted, this, &PartsPanel::renameWanted);
    connect(m_add, &QAction::triggered, this, &PartsPanel::addWanted);
    connect(m_rename, &QAction::triggered, this, [this] { m_list->edit(m_list->currentIndex()); });
    connect(m_duplicate, &QAction::triggered, this, [this] { emit duplicateWanted(selectedId()); });
    connect(m_remove, &QAction::triggered, this, [this] { emit removeWanted(selectedId()); });
    connect(m_list->selectionModel(), &QItemSelectionModel::selectionChanged, this, [this] {
        showSelected();
        if (!m_quiet)
            emit selected(selectedId());
    });
    connect(m_quantity, &QSpinBox::valueChanged, this, [this](int quantity) {
        if (!m_quiet && selectedId() != 0)
            emit quantityWanted(selectedId(), quantity);
    });
    connect(m_material, &QComboBox::activated, this, [this] {
        const PartRow* row = selectedRow();
        const QString material = m_material->currentData().toString();
        if (row != nullptr && material != row->material)
            emit materialWanted(row->id, material);
    });
}

void PartsPanel::setRows(std::vector<PartRow> rows)
{
    const QScopedValueRollback quiet(m_quiet, true);
    const int was = selectedId();
    m_model->setRows(std::move(rows));
    select(was);
    m_empty->setVisible(m_model->rowCount() == 0);
    m_list->setVisible(m_model->rowCount() > 0);
    showSelected();
}

void PartsPanel::setUnit(mesh::Unit unit)
{
    m_model->setUnit(unit);
}

void PartsPanel::select(int id)
{
    const QScopedValueRollback quiet(m_quiet, true);
    const int at = m_model->indexOf(id);
    if (at < 0)
        m_list->clearSelection();
    else if (selectedId() != id)
        m_list->setCurrentIndex(m_model->index(at));
}

const PartRow* PartsPanel::selectedRow() const
{
    const QModelIndexList chosen = m_list->selectionModel()->selectedIndexes();
    return chosen.isEmpty() ? nullptr : &m_model->row(chosen.front().row());
}

int PartsPanel::selectedId() const
{
    const PartRow* row = selectedRow();
    return row == nullptr ? 0 : row->id;
}

void PartsPanel::showSelected()
{
    const QScopedValueRollback quiet(m_quiet, true);
    const PartRow* row = selectedRow();
    const QString why = row == nullptr ? QString(" Select a part first.") : QString();
    m_duplicate->setToolTip("Add a second part like this one, with its own scale and cuts." + why);
    m_remove->setToolTip("Take this part out of the sculpture; its file stays (Delete)." + why);
    for (QAction* action : {m_rename, m_duplicate, m_remove})
        action->setEnabled(row != nullptr);
    m_details->setEnabled(row != nullptr);
    m_quantity->setToolTip("How many of this part the sculpture has; weight and print lists count them all." + why);
    m_material->setToolTip("What it is printed in: sets the weight and the clearance of the joints." + why);
    if (row == nullptr)
        return;
    m_quantity->setValue(row->quantity);
    const int known = m_material->findData(row->material);
    m_material->setCurrentIndex(known);
}

} // namespace quoin::ui

#include "moc_parts_panel.cpp"
