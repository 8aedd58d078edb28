// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/tick_page.h"

#include "ui/calm_wheel.h"
#include "ui/quantity_text.h"
#include "ui/verdict_mark.h"

#include <QComboBox>
#include <QDateTimeEdit>
#include <QDoubleSpinBox>
#include <QFormLayout>
#include <QGroupBox>
#include <QHeaderView>
#include <QLabel>
#include <QPushButton>
#include <QScopedValueRollback>
#include <QTableWidget>
#include <QVBoxLayout>

#include <algorithm>

namespace quoin::ui {

namespace {

using core::PieceState;

enum Column { Piece, State, Plate, Expected, ExpectedHours, Actual, ActualHours, When, columns };
enum Which { All, Open, Printed, Failed };
constexpr int placeRole = Qt::UserRole;
constexpr double mostGrams = 1e6, mostHours = 1e4;

QString qs(const std::string& text)
{
    return QString::fromStdString(text);
}

QString stateWord(PieceState state)
{
    switch (state) {
    case PieceState::Printed:
        return TickPage::tr("printed");
    case PieceState::Printing:
        return TickPage::tr("being printed");
    case PieceState::Failed:
        return TickPage::tr("failed, to print again");
    case PieceState::Planned:
        break;
    }
    return TickPage::tr("to print");
}

Verdict stateMark(PieceState state)
{
    return state == PieceState::Printed    ? Verdict::Good
           : state == PieceState::Failed   ? Verdict::Bad
           : state == PieceState::Printing ? Verdict::Working
                                           : Verdict::None;
}

bool shown(PieceState state, int which)
{
    return which == All || (which == Printed && state == PieceState::Printed) ||
           (which == Failed && state == PieceState::Failed) ||
           (which == Open && state != PieceState::Printed && state != PieceState::Printing);
}

} // namespace

TickPage::TickPage(QWidget* parent) : QWidget(parent)
{
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(4, 6, 4, 4);
    auto* top = new QHBoxLayout;
    m_count = new QLabel(this);
    m_which = new QComboBox(this);
    m_which->addItems({tr("all"), tr("still to print"), tr("printed"), tr("failed")});
    auto* label = new QLabel(tr("Sho&w"), this);
    label->setBuddy(m_which);
    top->addWidget(m_count, 1);
    top->addWidget(label);
    top->addWidget(m_which);
    layout->addLayout(top);
    m_table = new QTableWidget(0, columns, this);
    m_table->setObjectName(QStringLiteral("ticks"));
    m_table->setAccessibleName(tr("Pieces to tick off"));
    m_table->setHorizontalHeaderLabels(
        {tr("Piece"), tr("State"), tr("Plate"), tr("Expected"), tr("Expected"), tr("Weighed"), tr("Took"), tr("When")});
    m_table->verticalHeader()->hide();
    m_table->setSelectionBehavior(QAbstractItemView::SelectRows);
    m_table->setSelectionMode(QAbstractItemView::ExtendedSelection);
    m_table->setEditTriggers(QAbstractItemView::NoEditTriggers);
    m_table->setTabKeyNavigation(false);
    m_table->setAlternatingRowColors(true);
    m_table->setWordWrap(false);
    m_table->horizontalHeader()->setHighlightSections(false);
    layout->addWidget(m_table, 1);
    layout->addWidget(makeForm());
    connect(m_which, &QComboBox::currentIndexChanged, this, &TickPage::fill);
    connect(m_table, &QTableWidget::itemSelectionChanged, this, [this] {
        if (!m_quiet)
            showForm();
    });
    calmWheel(*this);
    setShown({});
}

QWidget* TickPage::makeForm()
{
    auto* box = new QGroupBox(tr("What became of it"), this);
    auto* column = new QVBoxLayout(box);
    m_chosen = new QLabel(box);
    m_chosen->setWordWrap(true);
    column->addWidget(m_chosen);
    const auto number = [&](const QString& name, const QString& unit, double most, const QString& none) {
        auto* made = new QDoubleSpinBox(box);
        made->setRange(0, most);
        made->setDecimals(1);
        made->setSuffix(unit);
        made->setSpecialValueText(none);
        made->setAccessibleName(name);
        made->setToolTip(tr("For all that is selected together; it is shared out as estimated"));
        return made;
    };
    m_grams = number(tr("Weighed together"), tr(" g"), mostGrams, tr("not weighed"));
    m_hours = number(tr("Took together"), tr(" h"), mostHours, tr("not timed"));
    m_machine = new QComboBox(box);
    m_at = new QDateTimeEdit(box);
    m_at->setTimeSpec(Qt::UTC);
    m_at->setCalendarPopup(true);
    m_at->setDisplayFormat(QStringLiteral("ddd d MMM yyyy HH:mm"));
    m_at->setLocale(QLocale::c());
    auto* fields = new QGridLayout;
    const auto field = [&](int row, int at, const QString& words, QWidget* widget) {
        auto* label = new QLabel(words, box);
        label->setBuddy(widget);
        fields->addWidget(label, row, 2 * at);
        fields->addWidget(widget, row, 2 * at + 1);
    };
    field(0, 0, tr("Wei&ghed"), m_grams);
    field(0, 1, tr("&Took"), m_hours);
    field(1, 0, tr("&On"), m_machine);
    field(1, 1, tr("At"), m_at);
    fields->setColumnStretch(1, 1);
    fields->setColumnStretch(3, 1);
    column->addLayout(fields);
    auto* buttons = new QHBoxLayout;
    const auto button = [&](const QString& text, auto act) {
        auto* made = new QPushButton(text, box);
        buttons->addWidget(made);
        connect(made, &QPushButton::clicked, this, act);
        return made;
    };
    m_plate = button(tr("Whole p&late"), [this] { selectPlate(); });
    m_printed = button(tr("&Printed"), [this] { report(PieceState::Printed); });
    m_failed = button(tr("Faile&d"), [this] { report(PieceState::Failed); });
    m_printing = button(tr("&Being printed"), [this] { report(PieceState::Printing); });
    m_back = button(tr("Ta&ke back"), [this] { report(PieceState::Planned); });
    buttons->addStretch();
    column->addLayout(buttons);
    // A row of their own, so that a narrow window has room for all words.
    auto* more = new QHBoxLayout;
    m_first = new QPushButton(tr("Print first"), box);
    m_first->setCheckable(true);
    connect(m_first, &QPushButton::clicked, this, [this](bool on) {
        std::vector<std::string> pieces;
        for (const std::size_t i : selectedPieces())
            pieces.push_back(m_shown.job->pieces[i].id);
        emit firstWanted(pieces, on);
    });
    m_replan = new QPushButton(tr("Plan again from &now"), box);
    m_replan->setToolTip(
        tr("The rest is planned anew, beginning this minute; what is being printed keeps its machine"));
    connect(m_replan, &QPushButton::clicked, this, &TickPage::replanWanted);
    more->addWidget(m_first);
    more->addStretch();
    more->addWidget(m_replan);
    column->addLayout(more);
    return box;
}

void TickPage::setShown(TickShown shown)
{
    m_shown = std::move(shown);
    m_barOf.clear();
    if (m_shown.job && m_shown.plan) {
        std::map<std::string, std::size_t> byId;
        for (std::size_t i = 0; i < m_shown.job->pieces.size(); ++i)
            byId[m_shown.job->pieces[i].id] = i;
        for (std::size_t b = 0; b < m_shown.plan->bars.size(); ++b)
            for (const core::PlatePiece& on : m_shown.plan->plates[m_shown.plan->bars[b].plate].pieces)
                if (const auto at = byId.find(m_shown.plan->job.pieces[on.piece].id); at != byId.end())
                    m_barOf[at->second] = b;
    }
    const QString machine = m_machine->currentText();
    m_machine->clear();
    m_machine->addItems(m_shown.machines);
    m_machine->setCurrentIndex(std::max(0, m_machine->findText(machine)));
    fill();
}

void TickPage::fill()
{
    std::set<std::size_t> before;
    for (const std::size_t i : selectedPieces())
        before.insert(i);
    const QScopedValueRollback quiet(m_quiet, true);
    const int top = m_table->rowAt(0);
    std::size_t done = 0;
    const std::size_t all = m_shown.job ? m_shown.job->pieces.size() : 0;
    m_table->clearSelection();
    m_table->clearContents();
    m_table->setRowCount(static_cast<int>(all));
    int rows = 0;
    for (std::size_t i = 0; i < all; ++i) {
        const core::PlatePieceInfo& piece = m_shown.job->pieces[i];
        const PieceState state = m_shown.progress.stateOf(piece.id);
        done += state == PieceState::Printed ? 1 : 0;
        if (!ui::shown(state, m_which->currentIndex()))
            continue;
        const int row = rows++;
        const auto cell = [&](int column, const QString& text, bool number = false) {
            auto* item = new QTableWidgetItem(text);
            item->setData(placeRole, static_cast<qulonglong>(i));
            item->setTextAlignment((number ? Qt::AlignRight : Qt::AlignLeft) | Qt::AlignVCenter);
            m_table->setItem(row, column, item);
            return item;
        };
        cell(Piece, qs(piece.name))->setToolTip(qs(piece.part));
        const int failures = m_shown.progress.failures(piece.id);
        QString words = stateWord(state) + (failures > 1 ? tr(" (%1 ×)").arg(failures) : QString());
        if (state == PieceState::Planned && (piece.testFit || piece.first))
            words += piece.testFit ? tr(", a test fit") : tr(", wanted first");
        auto* word = cell(State, words);
        if (stateMark(state) != Verdict::None)
            word->setIcon(verdictIcon(stateMark(state)));
        const auto bar = m_barOf.find(i);
        cell(Plate, bar == m_barOf.end()
                        ? QString()
                        : tr("%1 on %2")
                              .arg(m_shown.plan->plates[m_shown.plan->bars[bar->second].plate].number)
                              .arg(qs(m_shown.plan->request.machines[m_shown.plan->bars[bar->second].machine].name)));
        cell(Expected, massText(piece.figures.grams), true);
        cell(ExpectedHours, hoursWords(piece.figures.hours), true);
        const core::PieceReport* last = m_shown.progress.last(piece.id);
        const bool said = last != nullptr && state != PieceState::Planned;
        cell(Actual, said && last->grams ? massText(*last->grams) : QString(), true);
        cell(ActualHours, said && last->hours ? hoursWords(*last->hours) : QString(), true);
        cell(When, said ? momentWords(minuteOf(last->at)) : QString());
        if (before.contains(i))
            for (int c = 0; c < columns; ++c)
                m_table->item(row, c)->setSelected(true);
    }
    m_table->setRowCount(rows);
    m_table->resizeColumnsToContents();
    if (top > 0 && top < m_table->rowCount())
        m_table->scrollToItem(m_table->item(top, Piece), QAbstractItemView::PositionAtTop);
    m_count->setText(tr("%1 of %2 pieces are printed").arg(done).arg(all));
    showForm();
}

std::vector<std::size_t> TickPage::selectedPieces() const
{
    std::vector<std::size_t> out;
    for (const QModelIndex& index : m_table->selectionModel()->selectedRows())
        out.push_back(index.data(placeRole).toULongLong());
    std::sort(out.begin(), out.end());
    return out;
}

/// Fields for other pieces than before; what was typed for these stays when only the plan is new.
void TickPage::startForm(const std::vector<std::size_t>& chosen)
{
    m_formFor = chosen;
    m_grams->setValue(0);
    m_hours->setValue(0);
    m_at->setDateTime(dateTimeOf(m_shown.now));
    const auto bar = chosen.empty() ? m_barOf.end() : m_barOf.find(chosen.front());
    if (bar != m_barOf.end())
        m_machine->setCurrentIndex(std::max(
            0, m_machine->findText(qs(m_shown.plan->request.machines[m_shown.plan->bars[bar->second].machine].name))));
}

void TickPage::showForm()
{
    const auto chosen = selectedPieces();
    const QString none = tr("Select pieces in the table first");
    QString words = none;
    bool onPlate = false, told = false, first = !chosen.empty();
    if (!chosen.empty()) {
        double grams = 0, hours = 0;
        for (const std::size_t i : chosen) {
            const core::PlatePieceInfo& p = m_shown.job->pieces[i];
            grams += p.figures.grams;
            hours += p.figures.hours;
            first = first && p.first;
            onPlate = onPlate || m_barOf.contains(i);
            told = told || m_shown.progress.stateOf(p.id) != PieceState::Planned;
        }
        words = chosen.size() == 1 ? qs(m_shown.job->pieces[chosen.front()].name)
                                   : tr("%1 pieces together").arg(chosen.size());
        words += tr(": %1 and %2 expected").arg(massText(grams), hoursWords(hours));
    }
    m_chosen->setText(words);
    if (chosen != m_formFor || chosen.empty())
        startForm(chosen);
    const bool any = !chosen.empty();
    const auto allow = [&](QPushButton* button, bool allowed, const QString& tip, const QString& why) {
        button->setEnabled(allowed);
        button->setToolTip(allowed ? tip : why);
    };
    for (QWidget* field : {static_cast<QWidget*>(m_grams), static_cast<QWidget*>(m_hours),
                           static_cast<QWidget*>(m_machine), static_cast<QWidget*>(m_at)})
        field->setEnabled(any);
    allow(m_plate, onPlate, tr("Select everything that is on the same plate"), any ? tr("It is on no plate") : none);
    allow(m_first, any, tr("Dear or doubtful pieces early: before all but test fits"), none);
    m_first->setChecked(first);
    allow(m_printed, any, tr("It came out well: it needs no plate any more"), none);
    allow(m_failed, any, tr("It is to be printed again"), none);
    allow(m_printing, any && m_machine->count() > 0, tr("It is on the machine now, which is busy until it is done"),
          any ? tr("There is no machine") : none);
    allow(m_back, told, tr("As if nothing had been said of it"), any ? tr("Nothing has been said of it yet") : none);
    m_replan->setEnabled(m_shown.job != nullptr);
}

void TickPage::selectPlate()
{
    std::set<std::size_t> bars;
    for (const std::size_t i : selectedPieces())
        if (const auto bar = m_barOf.find(i); bar != m_barOf.end())
            bars.insert(bar->second);
    {
        const QScopedValueRollback quiet(m_quiet, true);
        for (int r = 0; r < m_table->rowCount(); ++r) {
            const auto bar = m_barOf.find(m_table->item(r, Piece)->data(placeRole).toULongLong());
            if (bar != m_barOf.end() && bars.contains(bar->second))
                for (int c = 0; c < columns; ++c)
                    m_table->item(r, c)->setSelected(true);
        }
    }
    showForm();
}

void TickPage::report(PieceState state)
{
    const auto chosen = selectedPieces();
    if (chosen.empty())
        return;
    double grams = 0, hours = 0;
    for (const std::size_t i : chosen) {
        grams += m_shown.job->pieces[i].figures.grams;
        hours += m_shown.job->pieces[i].figures.hours;
    }
    std::vector<core::PieceReport> reports;
    for (const std::size_t i : chosen) {
        const core::PlatePieceInfo& p = m_shown.job->pieces[i];
        core::PieceReport r;
        r.piece = p.id;
        r.state = state;
        r.at = momentOf(minuteOf(m_at->dateTime()));
        r.machine = m_machine->currentText().toStdString();
        const auto shareOf = [&](double whole, double part, double all) {
            return all > 0 ? whole * part / all : whole / static_cast<double>(chosen.size());
        };
        if (m_grams->value() > 0 && state != PieceState::Planned)
            r.grams = shareOf(m_grams->value(), p.figures.grams, grams);
        if (m_hours->value() > 0 && state != PieceState::Planned)
            r.hours = shareOf(m_hours->value(), p.figures.hours, hours);
        reports.push_back(std::move(r));
    }
    const QString what =
        chosen.size() == 1 ? qs(m_shown.job->pieces[chosen.front()].name) : tr("%1 pieces").arg(chosen.size());
    const QString name = state == PieceState::Printed    ? tr("Printed: %1")
                         : state == PieceState::Failed   ? tr("Failed: %1")
                         : state == PieceState::Printing ? tr("Being printed: %1")
                                                         : tr("Take back: %1");
    emit reportsGiven(reports, name.arg(what));
}

} // namespace quoin::ui

#include "moc_tick_page.cpp"
