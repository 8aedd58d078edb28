// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/beds_panel.h"

#include "ui/bed_words.h"
#include "ui/beds_list.h"
#include "ui/length_edit.h"
#include "ui/problem_line.h"

#include <QCheckBox>
#include <QComboBox>
#include <QEvent>
#include <QFormLayout>
#include <QGroupBox>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QScopedValueRollback>
#include <QVBoxLayout>

#include <algorithm>

namespace quoin::ui {

namespace {

constexpr double largestMarginMm = 1000;

} // namespace

BedsPanel::BedsPanel(QWidget* parent) : QWidget(parent)
{
    auto* layout = new QVBoxLayout(this);
    layout->addWidget(buildList(), 1);
    layout->addWidget(buildAdding());
    layout->addWidget(buildFitting());
    fillShelf();
    setChoice({});
}

QWidget* BedsPanel::buildList()
{
    auto* box = new QGroupBox(tr("Beds of this sculpture"), this);
    auto* layout = new QVBoxLayout(box);
    m_list = new BedsList(box);
    layout->addWidget(m_list, 1);
    auto* buttons = new QHBoxLayout;
    const auto button = [&](const char* name, const QString& text) {
        auto* made = new QPushButton(text, box);
        made->setObjectName(name);
        buttons->addWidget(made);
        return made;
    };
    m_remove = button("remove", tr("&Remove"));
    m_keep = button("keep", tr("&Keep on shelf"));
    m_forget = button("forget", tr("Ta&ke off shelf"));
    buttons->addStretch();
    layout->addLayout(buttons);
    m_shelfProblem = new ProblemLine("shelfProblem", box);
    layout->addWidget(m_shelfProblem);
    connect(m_list, &BedsList::selectionChanged, this, &BedsPanel::showEnabled);
    connect(m_list, &BedsList::edited, this, [this] {
        m_choice.beds = m_list->beds();
        m_shelfProblem->showWords({});
        showEnabled();
        emit changed(m_choice);
    });
    connect(m_remove, &QPushButton::clicked, m_list, &BedsList::removeSelected);
    connect(m_keep, &QPushButton::clicked, this, [this] {
        m_shelfProblem->showWords({});
        if (const core::Bed* bed = m_list->selected())
            emit keepWanted(*bed);
    });
    connect(m_forget, &QPushButton::clicked, this, [this] {
        m_shelfProblem->showWords({});
        if (const core::Bed* bed = m_list->selected())
            emit forgetWanted(QString::fromStdString(bed->name));
    });
    return box;
}

QWidget* BedsPanel::buildAdding()
{
    auto* box = new QGroupBox(tr("Add a bed"), this);
    auto* form = new QFormLayout(box);
    form->setRowWrapPolicy(QFormLayout::WrapLongRows);
    const auto row = [&](const QString& label, QWidget* field, QPushButton* button) {
        auto* line = new QHBoxLayout;
        line->addWidget(field, 1);
        line->addWidget(button);
        form->addRow(label, line);
        qobject_cast<QLabel*>(form->labelForField(line))->setBuddy(field);
    };
    m_shelf = new QComboBox(box);
    m_shelf->setObjectName("shelf");
    m_shelf->setToolTip(tr("Your own beds, then common sizes."));
    m_shelf->setMinimumContentsLength(16);
    m_addShelf = new QPushButton(tr("&Add"), box);
    m_addShelf->setObjectName("addShelf");
    m_addShelf->setAccessibleName(tr("Add the bed from the shelf"));
    row(tr("From the &shelf"), m_shelf, m_addShelf);
    m_typed = new QLineEdit(box);
    m_typed->setObjectName("typed");
    m_typed->setPlaceholderText(tr("300x300x400"));
    m_typed->setToolTip(tr("Width x depth x height in mm, such as 300x300x400; with units, such as 30x30x40cm; a round "
                           "plate as diameter x height, such as d250x300; *2 at the end for two machines."));
    m_addTyped = new QPushButton(tr("A&dd"), box);
    m_addTyped->setObjectName("addTyped");
    m_addTyped->setAccessibleName(tr("Add the typed bed"));
    row(tr("By si&ze or name"), m_typed, m_addTyped);
    m_typedProblem = new ProblemLine("typedProblem", box);
    form->addRow(m_typedProblem);
    connect(m_addShelf, &QPushButton::clicked, this, &BedsPanel::addFromShelf);
    connect(m_addTyped, &QPushButton::clicked, this, &BedsPanel::addTyped);
    connect(m_typed, &QLineEdit::returnPressed, this, &BedsPanel::addTyped);
    connect(m_typed, &QLineEdit::textChanged, this, [this] {
        m_typedProblem->showWords({});
        showEnabled();
    });
    return box;
}

QWidget* BedsPanel::buildFitting()
{
    auto* box = new QGroupBox(tr("How pieces lie on them"), this);
    auto* form = new QFormLayout(box);
    m_margin = new LengthEdit(box);
    m_margin->setObjectName("margin");
    m_margin->setRange(0, largestMarginMm);
    m_margin->setHelp(tr("Kept free on all four sides of the bed and at the top."));
    form->addRow(tr("Margi&n"), m_margin);
    m_anyRotation = new QCheckBox(tr("Pieces may stand on e&dges too"), box);
    m_anyRotation->setObjectName("anyRotation");
    m_anyRotation->setToolTip(tr("Also looks for ways to lay a piece on none of its flat faces. Larger pieces may fit, "
                                 "but they need support while they are printed."));
    form->addRow(m_anyRotation);
    m_islandsApart = new QCheckBox(tr("Pr&int loose bodies apart"), box);
    m_islandsApart->setObjectName("islandsApart");
    m_islandsApart->setToolTip(tr("Each body that hangs together is a piece of its own. Otherwise what lies between "
                                  "the same cuts is one piece, however many bodies it has."));
    form->addRow(m_islandsApart);
    connect(m_margin, &LengthEdit::edited, this, [this](double mm) {
        m_choice.marginMm = mm;
        emit changed(m_choice);
    });
    const auto flag = [this](QCheckBox* check, bool BedsChoice::*member) {
        connect(check, &QCheckBox::toggled, this, [this, member](bool on) {
            if (m_quiet)
                return;
            m_choice.*member = on;
            emit changed(m_choice);
        });
    };
    flag(m_anyRotation, &BedsChoice::anyRotation);
    flag(m_islandsApart, &BedsChoice::islandsApart);
    return box;
}

void BedsPanel::setChoice(const BedsChoice& choice)
{
    const QScopedValueRollback quiet(m_quiet, true);
    m_choice = choice;
    m_list->setBeds(choice.beds);
    m_margin->setValue(choice.marginMm);
    m_anyRotation->setChecked(choice.anyRotation);
    m_islandsApart->setChecked(choice.islandsApart);
    showEnabled();
}

void BedsPanel::setUnit(mesh::Unit unit)
{
    m_margin->setUnit(unit);
}

void BedsPanel::setShelf(std::vector<core::Bed> own, std::vector<core::Bed> shipped)
{
    m_own = std::move(own);
    m_shipped = std::move(shipped);
    fillShelf();
    showEnabled();
}

void BedsPanel::showShelfProblem(const QString& words)
{
    m_shelfProblem->showWords(words);
}

void BedsPanel::fillShelf()
{
    const QString before = m_shelf->currentText();
    m_shelf->clear();
    for (const core::Bed& bed : m_own)
        m_shelf->addItem(plateIcon(bed, palette()), bedWords(bed));
    if (!m_own.empty() && !m_shipped.empty())
        m_shelf->insertSeparator(m_shelf->count());
    for (const core::Bed& bed : m_shipped)
        m_shelf->addItem(plateIcon(bed, palette()), bedWords(bed));
    m_shelf->setCurrentIndex(before.isEmpty() ? 0 : std::max(0, m_shelf->findText(before)));
}

void BedsPanel::showEnabled()
{
    const core::Bed* bed = m_list->selected();
    const auto named = [&](const std::vector<core::Bed>& beds) {
        return bed && std::any_of(beds.begin(), beds.end(), [&](const core::Bed& b) { return b.name == bed->name; });
    };
    const QString none = tr("First select a bed in the list.");
    const bool own = named(m_own), shipped = named(m_shipped);
    m_remove->setEnabled(bed);
    m_remove->setToolTip(!bed ? none : tr("Takes this bed off the list. It stays on the shelf."));
    m_keep->setEnabled(bed && !own && !shipped);
    m_keep->setToolTip(!bed             ? none
                       : own || shipped ? tr("A bed of this name is on the shelf already.")
                                        : tr("Keeps this bed on your shelf, for other sculptures too."));
    m_forget->setEnabled(own);
    m_forget->setToolTip(!bed      ? none
                         : own     ? tr("Takes your own bed off the shelf. This sculpture keeps it.")
                         : shipped ? tr("This size comes with the program and stays on the shelf.")
                                   : tr("This bed isn't on the shelf."));
    m_addShelf->setEnabled(m_shelf->count() > 0);
    m_addShelf->setToolTip(m_shelf->count() > 0 ? tr("Adds the chosen bed to this sculpture.")
                                                : tr("The shelf is empty."));
    m_addTyped->setEnabled(!m_typed->text().trimmed().isEmpty());
    m_addTyped->setToolTip(m_addTyped->isEnabled() ? tr("Adds the typed bed to this sculpture.")
                                                   : tr("First type a size, such as 300x300x400."));
}

std::vector<core::Bed> BedsPanel::known() const
{
    std::vector<core::Bed> all = m_own;
    all.insert(all.end(), m_shipped.begin(), m_shipped.end());
    return all;
}

void BedsPanel::add(const core::Bed& bed)
{
    if (m_list->isTaken(bed.name)) {
        m_typedProblem->showWords(tr("A bed called “%1” is in the list already. For a second machine with the same "
                                     "bed, raise its number of machines.")
                                      .arg(QString::fromStdString(bed.name)));
        return;
    }
    m_list->append(bed);
    m_choice.beds = m_list->beds();
    m_typed->clear();
    m_typedProblem->showWords({});
    emit changed(m_choice);
}

void BedsPanel::addTyped()
{
    if (m_typed->text().trimmed().isEmpty())
        return;
    const auto bed = core::bedFromText(m_typed->text().toStdString(), known());
    if (bed)
        add(*bed);
    else
        m_typedProblem->showWords(problemWords(bed.problem()));
}

void BedsPanel::addFromShelf()
{
    // The separator between own and shipped ones has a place of its own in the box.
    const int index = m_shelf->currentIndex(), own = static_cast<int>(m_own.size());
    const auto all = known();
    const int at = index > own && own > 0 && !m_shipped.empty() ? index - 1 : index;
    if (at >= 0 && at < static_cast<int>(all.size()))
        add(all[static_cast<std::size_t>(at)]);
}

void BedsPanel::changeEvent(QEvent* event)
{
    QWidget::changeEvent(event);
    if (event->type() == QEvent::PaletteChange && m_islandsApart != nullptr) {
        fillShelf();
    }
}

} // namespace quoin::ui
