// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/fits_dialog.h"

#include "ui/joint_words.h"
#include "ui/problem_line.h"
#include "ui/quantity_text.h"

#include <QComboBox>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QGroupBox>
#include <QHeaderView>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QSpinBox>
#include <QTableWidget>
#include <QVBoxLayout>

#include <algorithm>

namespace quoin::ui {

namespace {

enum Column { What, Free, Sliding, Snug, Press, From, columns };
constexpr int widthPx = 640;

bool isOwn(const core::FoundFit& found)
{
    return found.origin != core::FoundFit::Origin::Shipped &&
           found.origin != core::FoundFit::Origin::ShippedAnyMaterial;
}

/// What a number of the coupon stands for, as the box's suffix.
void nameNumber(QSpinBox* box, const std::optional<core::CouponSheet>& sheet)
{
    const int number = box->value();
    box->setSuffix(sheet && number > 0 ? QString("  =  %1 mm").arg(numberText(sheet->clearanceMm(number), 3, 2))
                                       : QString());
}

} // namespace

FitsDialog::FitsDialog(QWidget* parent) : QDialog(parent)
{
    setWindowTitle("Fits and coupon");
    m_problem = new ProblemLine("fitsProblem", this);
    auto* buttons = new QDialogButtonBox(QDialogButtonBox::Close, this);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    auto* layout = new QVBoxLayout(this);
    layout->addWidget(buildTable(), 1);
    layout->addWidget(buildCoupon());
    layout->addWidget(buildAnswers());
    layout->addWidget(m_problem);
    layout->addWidget(buttons);
    resize(widthPx, sizeHint().height());
    setSheet({}, {});
}

QWidget* FitsDialog::buildTable()
{
    m_inForce = new QGroupBox(this);
    m_machine = new QLineEdit(m_inForce);
    m_machine->setAccessibleName("Machine");
    m_machine->setPlaceholderText("any");
    m_machine->setToolTip("Your own name for the printer that makes this part. Rows that were found on it count then.");
    connect(m_machine, &QLineEdit::editingFinished, this, [this] { emit machineWanted(m_machine->text().trimmed()); });
    m_table = new QTableWidget(0, columns, m_inForce);
    m_table->setAccessibleName("Clearances in force");
    m_table->setHorizontalHeaderLabels({"What goes into what", "Free", "Sliding", "Snug", "Press", "From"});
    m_table->verticalHeader()->hide();
    m_table->setSelectionBehavior(QAbstractItemView::SelectRows);
    m_table->setSelectionMode(QAbstractItemView::SingleSelection);
    m_table->setEditTriggers(QAbstractItemView::NoEditTriggers);
    m_table->setTabKeyNavigation(false);
    m_table->horizontalHeader()->setSectionResizeMode(QHeaderView::ResizeToContents);
    m_table->horizontalHeader()->setSectionResizeMode(From, QHeaderView::Stretch);
    connect(m_table, &QTableWidget::itemSelectionChanged, this, &FitsDialog::showRemove);
    m_remove = new QPushButton("&Remove own row", m_inForce);
    connect(m_remove, &QPushButton::clicked, this, [this] {
        if (m_table->currentRow() >= 0)
            emit removalWanted(m_found[static_cast<std::size_t>(m_table->currentRow())].row);
    });
    auto* form = new QFormLayout;
    form->addRow("&Machine", m_machine);
    auto* layout = new QVBoxLayout(m_inForce);
    layout->addLayout(form);
    layout->addWidget(m_table, 1);
    layout->addWidget(m_remove, 0, Qt::AlignLeft);
    return m_inForce;
}

QWidget* FitsDialog::buildCoupon()
{
    auto* box = new QGroupBox("Fit coupon", this);
    m_coupon = new QLabel(box);
    m_coupon->setWordWrap(true);
    m_coupon->setTextInteractionFlags(Qt::TextSelectableByMouse);
    m_make = new QPushButton("Ma&ke a coupon…", box);
    m_make->setToolTip("Writes plates with numbered pockets, their gauges and a sheet with what to do into a folder.");
    m_open = new QPushButton("&Open a coupon's sheet…", box);
    m_open->setToolTip("A coupon that was made before: its coupon.json says which number is which clearance.");
    connect(m_make, &QPushButton::clicked, this, &FitsDialog::couponWanted);
    connect(m_open, &QPushButton::clicked, this, &FitsDialog::sheetWanted);
    auto* buttons = new QHBoxLayout;
    buttons->addWidget(m_make);
    buttons->addWidget(m_open);
    buttons->addStretch();
    auto* layout = new QVBoxLayout(box);
    layout->addWidget(m_coupon);
    layout->addLayout(buttons);
    return box;
}

QWidget* FitsDialog::buildAnswers()
{
    m_answers = new QGroupBox("What was found on it", this);
    m_process = new QComboBox(m_answers);
    m_process->setAccessibleName("What was tried");
    for (const core::FitProcess process : core::fitProcesses)
        m_process->addItem(QString::fromStdString(core::processWords(process)));
    const auto number = [this](const QString& name, const QString& help, bool optional) {
        auto* box = new QSpinBox(m_answers);
        box->setAccessibleName(name);
        box->setToolTip(help);
        box->setMinimum(optional ? 0 : 1);
        if (optional)
            box->setSpecialValueText("not tried");
        connect(box, &QSpinBox::valueChanged, this, [this, box] { nameNumber(box, m_sheet); });
        return box;
    };
    m_slid = number("Slid by hand", "The tightest pocket that the gauge slid into by hand without catching.", false);
    m_snug = number("Firm push", "The tightest one that it went into with a firm push of the hand.", false);
    m_press = number("Under a mallet", "One that it went into only under a mallet or a clamp.", true);
    m_free = number("Fell in", "One that it fell into, loose.", true);
    m_give = new QPushButton("&Take into the table", m_answers);
    connect(m_give, &QPushButton::clicked, this, &FitsDialog::give);
    auto* form = new QFormLayout(m_answers);
    form->addRow("What &was tried", m_process);
    form->addRow("&Slid by hand, number", m_slid);
    form->addRow("&Firm push, number", m_snug);
    form->addRow("&Under a mallet, number", m_press);
    form->addRow("Fell &in, number", m_free);
    form->addRow(QString(), m_give);
    return m_answers;
}

void FitsDialog::setTable(const core::FitTable& table, const QString& material, const QString& machine)
{
    m_inForce->setTitle(QString("Clearances in force for %1, mm a side").arg(material));
    m_machine->setText(machine);
    m_found.clear();
    m_table->setRowCount(static_cast<int>(core::fitProcesses.size()));
    for (const core::FitProcess process : core::fitProcesses) {
        const core::FoundFit found = table.lookup(material.toStdString(), machine.toStdString(), process);
        const auto row = static_cast<int>(m_found.size());
        const QStringList texts{QString::fromStdString(core::processWords(process)),
                                numberText(found.row.freeMm, 3, 2),
                                numberText(found.row.slidingMm, 3, 2),
                                numberText(found.row.snugMm, 3, 2),
                                numberText(found.row.pressMm, 3, 2),
                                QString::fromStdString(found.words())};
        for (int column = 0; column < columns; ++column) {
            auto* item = new QTableWidgetItem(texts[column]);
            item->setToolTip(texts[column]);
            if (column > What && column < From)
                item->setTextAlignment(Qt::AlignRight | Qt::AlignVCenter);
            m_table->setItem(row, column, item);
        }
        m_found.push_back(found);
    }
    showRemove();
}

void FitsDialog::showRemove()
{
    const int row = m_table->currentRow();
    const bool own = row >= 0 && isOwn(m_found[static_cast<std::size_t>(row)]);
    m_remove->setEnabled(own);
    m_remove->setToolTip(own       ? "The next best row counts again."
                         : row < 0 ? "Select one of your own rows first."
                                   : "This row is shipped with the program: only your own can be removed.");
}

void FitsDialog::setSheet(const std::optional<core::CouponSheet>& sheet, const QString& folder)
{
    m_sheet = sheet;
    if (!sheet)
        m_coupon->setText("A small print that finds the clearances of your machine: numbered pockets and the gauges "
                          "that go in. Print it, try each gauge in each pocket, and type in the numbers below.");
    else
        m_coupon->setText(
            QString("Coupon in %1: numbers 1 to %2 are %3 to %4 mm a side%5.")
                .arg(folder)
                .arg(sheet->steps)
                .arg(numberText(sheet->clearanceMm(1), 3, 2), numberText(sheet->clearanceMm(sheet->steps), 3, 2),
                     sheet->material.empty() ? QString() : ", in " + QString::fromStdString(sheet->material)));
    showAnswers();
}

void FitsDialog::showAnswers()
{
    const int steps = m_sheet ? m_sheet->steps : 1;
    for (QSpinBox* box : {m_slid, m_snug, m_press, m_free}) {
        box->setMaximum(steps);
        nameNumber(box, m_sheet);
    }
    m_answers->setEnabled(m_sheet.has_value());
    m_give->setToolTip(m_sheet ? "A row of your own, for this material and machine: it counts from now on."
                               : "Make a coupon, or open the sheet of one, first.");
}

void FitsDialog::setBusy(bool busy)
{
    m_make->setEnabled(!busy);
    m_make->setText(busy ? "Making the coupon…" : "Ma&ke a coupon…");
}

void FitsDialog::showProblem(const QString& words)
{
    m_problem->showWords(words);
}

void FitsDialog::give()
{
    core::CouponAnswers answers;
    answers.process = core::fitProcesses[static_cast<std::size_t>(m_process->currentIndex())];
    answers.slid = m_slid->value();
    answers.snug = m_snug->value();
    if (m_press->value() > 0)
        answers.press = m_press->value();
    if (m_free->value() > 0)
        answers.free = m_free->value();
    emit answersGiven(answers);
}

} // namespace quoin::ui

#include "moc_fits_dialog.cpp"
