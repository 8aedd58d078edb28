// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/beds_list.h"

#include "ui/bed_words.h"
#include "ui/problem_line.h"

#include <QEvent>
#include <QHeaderView>
#include <QKeyEvent>
#include <QLabel>
#include <QPainter>
#include <QScopedValueRollback>
#include <QSpinBox>
#include <QTableWidget>
#include <QVBoxLayout>

#include <algorithm>
#include <tuple>

namespace quoin::ui {

namespace {

enum Column { nameColumn, sizeColumn, machinesColumn, columns };

constexpr int mostMachines = 1000; ///< as core::checkBed allows

QTableWidgetItem* fixedItem(const QString& text)
{
    auto* item = new QTableWidgetItem(text);
    item->setFlags(Qt::ItemIsEnabled | Qt::ItemIsSelectable);
    return item;
}

bool same(const core::Bed& a, const core::Bed& b)
{
    return std::tie(a.name, a.shape, a.widthMm, a.depthMm, a.heightMm, a.machines) ==
           std::tie(b.name, b.shape, b.widthMm, b.depthMm, b.heightMm, b.machines);
}

} // namespace

QIcon plateIcon(const core::Bed& bed, const QPalette& palette)
{
    constexpr int side = 64;
    QPixmap pixmap(side, side);
    pixmap.fill(Qt::transparent);
    QPainter painter(&pixmap);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(QPen(palette.color(QPalette::Text), 4));
    const double largest = std::max(bed.widthMm, bed.depthMm), room = side - 12;
    const QSizeF size(room * bed.widthMm / largest, room * bed.depthMm / largest);
    const QRectF plate(QPointF(side / 2.0 - size.width() / 2, side / 2.0 - size.height() / 2), size);
    if (bed.shape == core::Bed::Shape::Round)
        painter.drawEllipse(plate);
    else
        painter.drawRect(plate);
    return QIcon(pixmap);
}

BedsList::BedsList(QWidget* parent) : QWidget(parent)
{
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins({});
    m_empty = new QLabel(tr("No bed yet. Without one, nothing can be fitted and no cuts can be suggested."), this);
    m_empty->setWordWrap(true);
    layout->addWidget(m_empty);
    m_table = new QTableWidget(0, columns, this);
    m_table->setObjectName("beds");
    m_table->setAccessibleName(tr("Beds of this sculpture"));
    m_table->setHorizontalHeaderLabels({tr("Name"), tr("Room to print in"), tr("Machines")});
    m_table->setSelectionBehavior(QAbstractItemView::SelectRows);
    m_table->setSelectionMode(QAbstractItemView::SingleSelection);
    m_table->setTabKeyNavigation(false);
    m_table->setWordWrap(false);
    m_table->verticalHeader()->hide();
    m_table->verticalHeader()->setSectionResizeMode(QHeaderView::ResizeToContents);
    m_table->horizontalHeader()->setHighlightSections(false);
    m_table->horizontalHeader()->setSectionResizeMode(QHeaderView::ResizeToContents);
    m_table->horizontalHeader()->setSectionResizeMode(sizeColumn, QHeaderView::Stretch);
    m_table->installEventFilter(this);
    layout->addWidget(m_table, 1);
    m_problem = new ProblemLine("nameProblem", this);
    layout->addWidget(m_problem);
    connect(m_table, &QTableWidget::itemSelectionChanged, this, &BedsList::selectionChanged);
    connect(m_table, &QTableWidget::itemChanged, this, [this](QTableWidgetItem* item) {
        if (!m_quiet && item->column() == nameColumn)
            rename(item->row());
    });
    fill();
}

void BedsList::setBeds(std::vector<core::Bed> beds)
{
    // What came from here comes back from the document: the field being typed in must stay.
    if (std::equal(beds.begin(), beds.end(), m_beds.begin(), m_beds.end(), same))
        return;
    m_beds = std::move(beds);
    m_problem->showWords({});
    fill();
}

const core::Bed* BedsList::selected() const
{
    const int row = selectedRow();
    return row < 0 ? nullptr : &m_beds[static_cast<std::size_t>(row)];
}

void BedsList::append(const core::Bed& bed)
{
    m_beds.push_back(bed);
    fill();
    m_table->selectRow(m_table->rowCount() - 1);
}

/// Keeps the selection where it can.
void BedsList::fill()
{
    const QScopedValueRollback quiet(m_quiet, true);
    const int selected = selectedRow();
    m_table->setRowCount(0);
    m_table->setRowCount(static_cast<int>(m_beds.size()));
    for (int row = 0; row < m_table->rowCount(); ++row) {
        const core::Bed& bed = m_beds[static_cast<std::size_t>(row)];
        auto* name = new QTableWidgetItem(plateIcon(bed, palette()), QString::fromStdString(bed.name));
        name->setToolTip(tr("Double-click or F2: give it another name."));
        m_table->setItem(row, nameColumn, name);
        m_table->setItem(row, sizeColumn, fixedItem(bedSizeWords(bed)));
        auto* machines = new QSpinBox(m_table);
        machines->setRange(1, mostMachines);
        machines->setValue(bed.machines);
        machines->setAccessibleName(tr("Machines with the bed %1").arg(QString::fromStdString(bed.name)));
        machines->setToolTip(tr("How many machines with this bed are in the shop."));
        connect(machines, &QSpinBox::valueChanged, this, [this, row](int count) {
            m_beds[static_cast<std::size_t>(row)].machines = count;
            emit edited();
        });
        m_table->setCellWidget(row, machinesColumn, machines);
    }
    if (selected >= 0 && m_table->rowCount() > 0)
        m_table->selectRow(std::min(selected, m_table->rowCount() - 1));
    m_empty->setVisible(m_beds.empty());
    m_table->setVisible(!m_beds.empty());
}

int BedsList::selectedRow() const
{
    const auto rows = m_table->selectionModel()->selectedRows();
    return rows.isEmpty() ? -1 : rows.front().row();
}

bool BedsList::isTaken(const std::string& name, int exceptRow) const
{
    for (int row = 0; row < static_cast<int>(m_beds.size()); ++row)
        if (row != exceptRow && m_beds[static_cast<std::size_t>(row)].name == name)
            return true;
    return false;
}

void BedsList::removeSelected()
{
    const int row = selectedRow();
    if (row < 0)
        return;
    m_beds.erase(m_beds.begin() + row);
    m_problem->showWords({});
    fill();
    emit selectionChanged();
    emit edited();
}

void BedsList::rename(int row)
{
    core::Bed& bed = m_beds[static_cast<std::size_t>(row)];
    const QString name = m_table->item(row, nameColumn)->text().trimmed();
    QString wrong;
    if (name.isEmpty())
        wrong = tr("A bed needs a name.");
    else if (name.contains(u'*') || name.contains(u','))
        wrong = tr("The name of a bed has no * and no comma: they mean something on the command line.");
    else if (isTaken(name.toStdString(), row))
        wrong = tr("Another bed in the list is called “%1”.").arg(name);
    m_problem->showWords(wrong);
    const bool isNew = wrong.isEmpty() && name.toStdString() != bed.name;
    if (isNew)
        bed.name = name.toStdString();
    {
        const QScopedValueRollback quiet(m_quiet, true);
        m_table->item(row, nameColumn)->setText(QString::fromStdString(bed.name));
    }
    if (isNew)
        emit edited();
}

void BedsList::changeEvent(QEvent* event)
{
    QWidget::changeEvent(event);
    if (event->type() == QEvent::PaletteChange && m_table != nullptr)
        fill();
}

bool BedsList::eventFilter(QObject* watched, QEvent* event)
{
    if (watched == m_table && event->type() == QEvent::KeyPress &&
        static_cast<QKeyEvent*>(event)->key() == Qt::Key_Delete) {
        removeSelected();
        return true;
    }
    return QWidget::eventFilter(watched, event);
}

} // namespace quoin::ui
