// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/load_editor.h"

#include "core/material_strength.h"
#include "ui/direction_edit.h"
#include "ui/forces_editor.h"
#include "ui/length_edit.h"
#include "ui/problem_line.h"
#include "ui/quantity_edit.h"
#include "ui/quantity_text.h"

#include <QComboBox>
#include <QFormLayout>
#include <QGroupBox>
#include <QLineEdit>
#include <QPushButton>
#include <QScopedValueRollback>
#include <QVBoxLayout>

#include <array>

namespace quoin::ui {

using core::LoadCase;

namespace {

/// Any number goes to the check, which says what is wrong with it.
constexpr double anyNumber = 1e9;
/// ISO 898-1 and ISO 3506-1, as core::boltClass knows them.
constexpr std::array boltClasses{"4.6", "5.8", "8.8", "10.9", "12.9", "A2-70"};
constexpr double anyBoltMm = 8;

QString listed(const std::vector<int>& numbers)
{
    QStringList words;
    for (const int number : numbers)
        words << QString::number(number);
    return words.join(", ");
}

} // namespace

LoadEditor::LoadEditor(QWidget* parent) : QWidget(parent)
{
    m_check = [](const LoadCase&) { return LoadFaults{}; };
    m_forces = new ForcesEditor(this);
    connect(m_forces, &ForcesEditor::wanted, this,
            [this](const std::vector<core::ExtraForce>& forces, const QString& name, const QString& mergeKey) {
                LoadCase next = m_load;
                next.extra = forces;
                take(next, name, mergeKey);
            });
    connect(m_forces, &ForcesEditor::live, this, [this](const std::vector<core::ExtraForce>& forces) {
        LoadCase next = m_load;
        next.extra = forces;
        emit loadLive(next);
    });
    connect(m_forces, &ForcesEditor::pickWanted, this, &LoadEditor::pickWanted);
    connect(m_forces, &ForcesEditor::selectionChanged, this, &LoadEditor::forceSelected);
    buildNumbers();
    buildHeld();
    m_usual = new QPushButton("As usual again", this);
    m_usual->setToolTip("Own weight twice, pulled down; no other force; held by the lowest piece; printed solid.");
    connect(m_usual, &QPushButton::clicked, this, [this] { take({}, "Load as usual"); });
    layOut();
    setLoad({}, {}, {}, "Open a model first.");
}

LoadEditor::~LoadEditor()
{
    // Fields that go away with the keyboard's focus in them say once more what was typed.
    for (QWidget* field : findChildren<QWidget*>())
        disconnect(field, nullptr, this, nullptr);
}

void LoadEditor::buildNumbers()
{
    m_factor = new FactorEdit(this);
    m_factor->setAccessibleName("Dynamic factor");
    m_factor->setHelp(
        "Own weight counts so many times: 1 at rest, 2 when it is let go at once, as in setting it down.");
    number(m_factor, "Dynamic factor", &LoadCase::dynamicFactor);
    m_fill = new UnitEdit(UnitEdit::share, this);
    m_fill->setAccessibleName("Filled share of the volume");
    m_fill->setHelp("How much of each piece's volume is plastic, walls and infill together: 100 % is solid. It counts "
                    "for the weight, not for the strength.");
    number(m_fill, "Filled share", &LoadCase::fillShare);
    m_glue = new UnitEdit(UnitEdit::stress, this);
    m_glue->setAccessibleName("Strength of the glue");
    m_glue->setHelp("What glue on printed faces bears, in MPa (N/mm²); 0 for no glue. 2 is a low value from common "
                    "practice: try yours on a sample.");
    number(m_glue, "Strength of the glue", &LoadCase::glueMpa);
    m_limit = new UnitEdit(UnitEdit::plain, this);
    m_limit->setAccessibleName("Least safety");
    m_limit->setHelp("A face whose weakest check bears less than so many times its load is marked as weak.");
    number(m_limit, "Least safety", &LoadCase::safetyLimit);
    m_gravity = new DirectionEdit("Direction of gravity", this);
    m_gravity->setHelp("Which way the weight pulls in the part's frame: another one for a part that lies or hangs.");
    connect(m_gravity, &DirectionEdit::edited, this, [this](mesh::Vec3 way) {
        LoadCase next = m_load;
        next.gravity = way;
        take(next, "Direction of gravity", "gravity");
    });
    m_bolts = new QComboBox(this);
    m_bolts->setAccessibleName("Class of bolts");
    m_bolts->setFocusPolicy(Qt::StrongFocus);
    for (const char* name : boltClasses) {
        const core::BoltClass bolt = core::boltClass(name, anyBoltMm);
        m_bolts->addItem(name);
        m_bolts->setItemData(m_bolts->count() - 1,
                             QString("At least %1 MPa before it stays stretched; %2")
                                 .arg(numberText(bolt.proofMpa, 0), QString::fromStdString(bolt.source)),
                             Qt::ToolTipRole);
    }
    m_bolts->setToolTip("Property class of bought bolts: it stands on their heads.");
    connect(m_bolts, &QComboBox::activated, this, [this] {
        LoadCase next = m_load;
        next.boltClass = m_bolts->currentText().toStdString();
        take(next, "Class of bolts");
    });
}

void LoadEditor::number(NumberEdit* field, const QString& what, double LoadCase::*member)
{
    field->setRange(-anyNumber, anyNumber);
    connect(field, &NumberEdit::liveEdited, this, [this, member](double value) {
        LoadCase next = m_load;
        next.*member = value;
        if (!m_check(next).any())
            emit loadLive(next);
    });
    connect(field, &NumberEdit::edited, this, [this, member, what](double value) {
        LoadCase next = m_load;
        next.*member = value;
        take(next, what, what);
    });
}

void LoadEditor::buildHeld()
{
    m_held = new QLineEdit(this);
    m_held->setAccessibleName("Pieces that are held");
    m_held->setPlaceholderText("the lowest");
    m_held->setToolTip("Numbers of the pieces that stand on the ground or hang on the wall, such as 1, 4. Empty: the "
                       "one with the lowest foot.");
    connect(m_held, &QLineEdit::editingFinished, this, [this] { takeHeld(m_held->text()); });
    m_hold = new QPushButton("Hold the selected", this);
    connect(m_hold, &QPushButton::clicked, this, [this] { takeHeld(listed(m_chosen)); });
}

LoadEditor::Field& LoadEditor::field(QString LoadFaults::*fault, const char* name)
{
    m_problems.push_back({new ProblemLine(name, this), fault});
    return m_problems.back();
}

void LoadEditor::layOut()
{
    auto* held = new QWidget(this);
    auto* row = new QVBoxLayout(held);
    row->setContentsMargins(0, 0, 0, 0);
    row->addWidget(m_held);
    row->addWidget(m_hold);
    m_form = new QFormLayout;
    const auto add = [this](const QString& label, QWidget* widget, QString LoadFaults::*fault, const char* name) {
        m_form->addRow(label, widget);
        m_form->addRow(field(fault, name).problem);
    };
    add("Own weight, times", m_factor, &LoadFaults::factor, "factorProblem");
    add("It pulls", m_gravity, &LoadFaults::gravity, "gravityProblem");
    add("Held pieces", held, &LoadFaults::held, "heldProblem");
    add("Filled share", m_fill, &LoadFaults::fill, "fillProblem");
    add("Glue bears", m_glue, &LoadFaults::glue, "glueProblem");
    add("Bolts of class", m_bolts, &LoadFaults::bolts, "boltsProblem");
    add("Least safety", m_limit, &LoadFaults::limit, "limitProblem");
    auto* forces = new QGroupBox("Forces besides own weight", this);
    auto* inside = new QVBoxLayout(forces);
    inside->addWidget(m_forces);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->addLayout(m_form);
    column->addWidget(forces);
    column->addWidget(m_usual, 0, Qt::AlignLeft);
    column->addStretch();
}

bool LoadEditor::sound(const LoadCase& load)
{
    const LoadFaults faults = m_check(load);
    for (const Field& f : m_problems)
        f.problem->showWords(faults.*f.fault);
    return !faults.any();
}

void LoadEditor::take(const LoadCase& load, const QString& name, const QString& mergeKey)
{
    if (m_quiet)
        return;
    if (load == m_load) {
        sound(load);
        showLoad();
        return;
    }
    // Pieces that have gone stay a fault until they are mended: other fields can be changed meanwhile.
    const LoadFaults before = m_check(m_load), after = m_check(load);
    bool worse = false;
    for (const Field& f : m_problems)
        if (const QString& fault = after.*f.fault; !fault.isEmpty() && fault != before.*f.fault) {
            f.problem->showWords(fault);
            worse = true;
        }
    if (worse)
        return; // what was typed stays, with the reason below it
    m_load = load;
    emit loadWanted(load, name, mergeKey.isEmpty() ? mergeKey : "load " + mergeKey);
    sound(load);
    showLoad();
}

void LoadEditor::takeHeld(const QString& text)
{
    if (m_quiet)
        return;
    const auto numbers = numbersFrom(text);
    if (!numbers) {
        for (const Field& f : m_problems)
            if (f.fault == &LoadFaults::held)
                f.problem->showWords(QString("\"%1\" are not numbers of pieces. Write them as 1, 4.").arg(text));
        return;
    }
    LoadCase next = m_load;
    next.held = *numbers;
    take(next, "Held pieces");
}

void LoadEditor::setLoad(const LoadCase& load, const std::vector<int>& pieces, const mesh::Box3& part,
                         const QString& whyNot)
{
    // Shown anew for another reason, what is being typed stays.
    if (m_shown && load == m_load && pieces == m_pieces && part.min == m_part.min && part.max == m_part.max &&
        whyNot == m_whyNot)
        return;
    m_shown = true;
    m_load = load;
    m_pieces = pieces;
    m_part = part;
    m_whyNot = whyNot;
    setEnabled(whyNot.isEmpty());
    setToolTip(whyNot);
    showLoad();
    sound(m_load);
}

void LoadEditor::showLoad()
{
    const QScopedValueRollback quiet(m_quiet, true);
    m_factor->setValue(m_load.dynamicFactor);
    m_gravity->setDirection(m_load.gravity);
    m_held->setText(listed(m_load.held));
    m_fill->setValue(m_load.fillShare);
    m_glue->setValue(m_load.glueMpa);
    m_limit->setValue(m_load.safetyLimit);
    const QString bolts = QString::fromStdString(m_load.boltClass);
    if (m_bolts->findText(bolts) < 0)
        m_bolts->addItem(bolts);
    m_bolts->setCurrentText(bolts);
    m_forces->setForces(m_load.extra, m_check(m_load).forces, m_pieces, m_part);
    const bool usual = m_load == LoadCase{};
    m_usual->setEnabled(!usual);
    setSelectedPieces(m_chosen);
}

void LoadEditor::setPicking(bool force)
{
    m_forces->setPicking(force);
}

int LoadEditor::selectedForce() const
{
    return m_forces->selected();
}

void LoadEditor::setSelectedPieces(const std::vector<int>& numbers)
{
    m_chosen = numbers;
    m_hold->setEnabled(!numbers.empty() && numbers != m_load.held);
    m_hold->setToolTip(numbers.empty()          ? "Select pieces in the view or in the list of pieces first."
                       : numbers == m_load.held ? "The selected pieces are held already."
                                                : QString("Holds piece %1.").arg(listed(numbers)));
}

} // namespace quoin::ui

#include "moc_load_editor.cpp"
