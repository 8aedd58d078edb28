// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/plan_panel.h"

#include "ui/calm_wheel.h"
#include "ui/plan_export_form.h"
#include "ui/quantity_text.h"
#include "ui/window_words.h"

#include <QCheckBox>
#include <QComboBox>
#include <QDateTimeEdit>
#include <QFormLayout>
#include <QGroupBox>
#include <QLabel>
#include <QListWidget>
#include <QPushButton>
#include <QScopedValueRollback>
#include <QVBoxLayout>

#include <array>

namespace quoin::ui {

namespace {

constexpr std::array testsOrder{core::TestFits::First, core::TestFits::FirstAndWait, core::TestFits::Never};
constexpr int daysAhead = 14; ///< first offered as the deadline

QLabel* wrapped(QWidget* parent)
{
    auto* label = new QLabel(parent);
    label->setWordWrap(true);
    label->setTextFormat(Qt::PlainText);
    label->setTextInteractionFlags(Qt::TextSelectableByMouse);
    return label;
}

QDateTimeEdit* momentEdit(QWidget* parent, const QString& name)
{
    auto* edit = new QDateTimeEdit(parent);
    edit->setTimeSpec(Qt::UTC);
    edit->setLocale(QLocale::c());
    edit->setCalendarPopup(true);
    edit->setDisplayFormat(QStringLiteral("ddd d MMM yyyy HH:mm"));
    edit->setAccessibleName(name);
    // Each digit typed would ask for a plan of its own.
    edit->setKeyboardTracking(false);
    return edit;
}

} // namespace

PlanPanel::PlanPanel(QWidget* parent) : QWidget(parent)
{
    auto* layout = new QVBoxLayout(this);
    layout->addWidget(makeDates());
    layout->addWidget(makeMachines());
    layout->addWidget(makeHow());
    layout->addWidget(makeHelp());
    m_files = new PlanExportForm(this);
    layout->addWidget(m_files);
    auto* care = new QGroupBox(tr("Take care"), this);
    auto* column = new QVBoxLayout(care);
    m_cautions = wrapped(care);
    m_cautions->setObjectName(QStringLiteral("cautions"));
    column->addWidget(m_cautions);
    layout->addWidget(care);
    layout->addStretch(1);
    calmWheel(*this);
    setSettings({});
    setHelp({}, false, {});
}

QWidget* PlanPanel::makeDates()
{
    auto* box = new QGroupBox(tr("Dates"), this);
    auto* form = new QFormLayout(box);
    form->setRowWrapPolicy(QFormLayout::WrapLongRows);
    m_start = momentEdit(box, tr("Printing begins"));
    m_start->setToolTip(tr("From then on machines are used; what was ticked off stays as it is"));
    m_now = new QPushButton(tr("Now"), box);
    m_now->setToolTip(tr("Begin at this minute"));
    auto* begins = new QHBoxLayout;
    begins->addWidget(m_start, 1);
    begins->addWidget(m_now);
    form->addRow(tr("Beg&ins"), begins);
    qobject_cast<QLabel*>(form->labelForField(begins))->setBuddy(m_start);
    m_hasDeadline = new QCheckBox(tr("Read&y by"), box);
    m_hasDeadline->setToolTip(tr("The day that doesn't move: the plan says with what chance it holds"));
    m_deadline = momentEdit(box, tr("Must be ready by"));
    form->addRow(m_hasDeadline, m_deadline);
    connect(m_start, &QDateTimeEdit::dateTimeChanged, this, [this](const QDateTime& at) {
        if (!m_quiet)
            emit startWanted(minuteOf(at));
    });
    connect(m_now, &QPushButton::clicked, this, &PlanPanel::nowWanted);
    const auto deadline = [this] {
        if (m_quiet)
            return;
        m_deadline->setEnabled(m_hasDeadline->isChecked());
        emit deadlineWanted(m_hasDeadline->isChecked() ? std::optional(minuteOf(m_deadline->dateTime()))
                                                       : std::nullopt);
    };
    connect(m_hasDeadline, &QCheckBox::toggled, this, deadline);
    connect(m_deadline, &QDateTimeEdit::dateTimeChanged, this, deadline);
    return box;
}

QWidget* PlanPanel::makeMachines()
{
    auto* box = new QGroupBox(tr("Machines"), this);
    auto* column = new QVBoxLayout(box);
    m_machines = wrapped(box);
    m_machines->setObjectName(QStringLiteral("machineLines"));
    m_machinesNote = wrapped(box);
    auto* edit = new QPushButton(tr("Machines and hours…"), box);
    edit->setToolTip(tr("Beds, speeds, what an hour costs, when somebody is there, how often prints fail"));
    column->addWidget(m_machines);
    column->addWidget(m_machinesNote);
    column->addWidget(edit, 0, Qt::AlignLeft);
    connect(edit, &QPushButton::clicked, this, &PlanPanel::machinesWanted);
    return box;
}

QWidget* PlanPanel::makeHow()
{
    auto* box = new QGroupBox(tr("How it is printed"), this);
    auto* form = new QFormLayout(box);
    form->setRowWrapPolicy(QFormLayout::WrapLongRows);
    m_recipe = new QComboBox(box);
    m_recipe->setAccessibleName(tr("Recipe of the job"));
    m_recipe->setToolTip(tr("Nozzle and purpose; parts can have one of their own, under Estimates"));
    m_recipe->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    m_recipe->setMinimumContentsLength(10);
    auto* edit = new QPushButton(tr("Recipes…"), box);
    edit->setToolTip(tr("Look at the recipes, and make your own"));
    auto* recipe = new QHBoxLayout;
    recipe->addWidget(m_recipe, 1);
    recipe->addWidget(edit);
    form->addRow(tr("&Recipe"), recipe);
    qobject_cast<QLabel*>(form->labelForField(recipe))->setBuddy(m_recipe);
    m_tests = new QComboBox(box);
    m_tests->setAccessibleName(tr("Test fits"));
    m_tests->addItems({tr("first on each machine"), tr("first, and wait for them"), tr("like any other piece")});
    m_tests->setToolTip(tr("The two smallest pieces that share a joint: try them together before the rest is printed"));
    form->addRow(tr("Test fits"), m_tests);
    m_prices = wrapped(box);
    auto* prices = new QPushButton(tr("Prices and spools…"), box);
    prices->setToolTip(tr("What filament and energy cost, and what is on the shelf"));
    form->addRow(m_prices);
    form->addRow(prices);
    connect(m_recipe, &QComboBox::activated, this, [this](int i) { emit recipeWanted(m_recipe->itemText(i)); });
    connect(edit, &QPushButton::clicked, this, &PlanPanel::recipesWanted);
    connect(m_tests, &QComboBox::activated, this,
            [this](int i) { emit testFitsWanted(testsOrder[static_cast<std::size_t>(i)]); });
    connect(prices, &QPushButton::clicked, this, &PlanPanel::pricesWanted);
    return box;
}

QWidget* PlanPanel::makeHelp()
{
    auto* box = new QGroupBox(tr("What would help most"), this);
    auto* column = new QVBoxLayout(box);
    m_help = new QListWidget(box);
    m_help->setObjectName(QStringLiteral("help"));
    m_help->setAccessibleName(tr("What would help most, the best first"));
    m_help->setWordWrap(true);
    m_help->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    m_help->setMinimumHeight(7 * fontMetrics().height());
    m_helpNone = wrapped(box);
    column->addWidget(m_help);
    column->addWidget(m_helpNone);
    return box;
}

void PlanPanel::setSettings(const PlanSettings& s)
{
    const QScopedValueRollback quiet(m_quiet, true);
    m_start->setDateTime(dateTimeOf(s.start));
    m_hasDeadline->setChecked(s.deadline.has_value());
    m_deadline->setEnabled(s.deadline.has_value());
    m_deadline->setDateTime(dateTimeOf(s.deadline.value_or(s.start + daysAhead * minutesInDay)));
    QStringList listed;
    for (int i = 0; i < m_recipe->count(); ++i)
        listed << m_recipe->itemText(i);
    if (listed != s.recipes) {
        m_recipe->clear();
        m_recipe->addItems(s.recipes);
    }
    m_recipe->setCurrentIndex(m_recipe->findText(s.recipe));
    for (std::size_t i = 0; i < testsOrder.size(); ++i)
        if (testsOrder[i] == s.testFits)
            m_tests->setCurrentIndex(static_cast<int>(i));
    m_machines->setText(s.machines.join(u'\n'));
    m_machinesNote->setText(s.machinesNote);
    m_machinesNote->setVisible(!s.machinesNote.isEmpty());
    m_prices->setText(s.prices);
}

void PlanPanel::setHelp(const std::vector<core::PlanHelp>& help, bool deadline, const QString& noneWords)
{
    m_help->clear();
    for (const core::PlanHelp& h : help) {
        QString words = tr("%1: %2 earlier").arg(windowWords(h.words), hoursWords(h.hoursGained));
        if (deadline && h.chance)
            words += tr(", the date then holds with %1 %").arg(numberText(100 * *h.chance, 0));
        auto* item = new QListWidgetItem(words, m_help);
        item->setToolTip(tr("Ready %1 then.").arg(momentWords(h.finish.time_since_epoch().count())) +
                         (h.assumption.empty() ? QString() : QStringLiteral("\n") + windowWords(h.assumption)));
    }
    m_help->setVisible(!help.empty());
    m_helpNone->setVisible(help.empty());
    m_helpNone->setText(noneWords);
}

void PlanPanel::setCautions(const QStringList& cautions)
{
    QStringList lines;
    for (const QString& c : cautions)
        lines << QStringLiteral("⚠ ") + c;
    m_cautions->setText(lines.join(u'\n'));
}

} // namespace quoin::ui

#include "moc_plan_panel.cpp"
