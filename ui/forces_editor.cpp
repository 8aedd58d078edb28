// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/forces_editor.h"

#include "ui/direction_edit.h"
#include "ui/length_edit.h"
#include "ui/problem_line.h"
#include "ui/quantity_edit.h"
#include "ui/quantity_text.h"

#include <QComboBox>
#include <QFormLayout>
#include <QGridLayout>
#include <QLabel>
#include <QListWidget>
#include <QPushButton>
#include <QScopedValueRollback>
#include <QVBoxLayout>

#include <algorithm>

namespace quoin::ui {

using core::ExtraForce;
using mesh::Vec3;

namespace {

constexpr double leastN = 1e-3, mostN = 1e9;
constexpr double farthestMm = 100e3;
/// A firm push of one hand (common practice, no source): a force to begin with.
constexpr double usualN = 100;
constexpr int listRows = 3;

double& component(Vec3& v, std::size_t i)
{
    return i == 0 ? v.x : i == 1 ? v.y : v.z;
}

} // namespace

QString forceWords(const ExtraForce& force)
{
    const double size = length(force.forceN);
    return QString("%1 N %2, %3")
        .arg(numberText(size, 2), directionWords(force.forceN),
             force.piece > 0 ? QString("on piece %1").arg(force.piece) : QString("on the piece there"));
}

ForcesEditor::ForcesEditor(QWidget* parent) : QWidget(parent)
{
    m_list = new QListWidget(this);
    m_list->setAccessibleName("Forces besides own weight");
    m_list->setToolTip(
        "A hand, the wind, a cable, what other parts weigh that rest on this one. Own weight counts by itself.");
    m_list->setFixedHeight(listRows * fontMetrics().height() * 3 / 2 + 2 * m_list->frameWidth());
    connect(m_list, &QListWidget::currentRowChanged, this, [this](int row) {
        if (m_quiet)
            return;
        m_selected = row;
        showForce();
        emit selectionChanged(row);
    });
    m_add = new QPushButton("Add f&orce", this);
    m_add->setToolTip("100 N down at the middle of the top; then change its numbers, or pick its place in the view.");
    m_remove = new QPushButton("Remove force", this);
    connect(m_add, &QPushButton::clicked, this, &ForcesEditor::add);
    connect(m_remove, &QPushButton::clicked, this, &ForcesEditor::remove);
    buildFields();
    layOut();
    setForces({}, {}, {}, {});
}

ForcesEditor::~ForcesEditor()
{
    for (QWidget* field : findChildren<QWidget*>()) // see ~LoadEditor
        disconnect(field, nullptr, this, nullptr);
}

void ForcesEditor::buildFields()
{
    m_fields = new QWidget(this);
    m_size = new ForceEdit(m_fields);
    m_size->setAccessibleName("Size of the force");
    m_size->setRange(leastN, mostN);
    m_size->setHelp("In newtons: what 0.1 kg weighs is about 1 N. kN, kgf and lbf can be typed too. No dynamic factor "
                    "is applied to it.");
    m_direction = new DirectionEdit("Direction of the force", m_fields);
    m_direction->setHelp("The way that it pushes or pulls, in the part's frame.");
    connect(m_size, &NumberEdit::liveEdited, this, [this](double newtons) {
        const int at = m_selected;
        if (at < 0)
            return;
        std::vector<ExtraForce> forces = m_forces;
        Vec3& force = forces[static_cast<std::size_t>(at)].forceN;
        force = newtons / length(force) * force;
        emit live(forces);
    });
    connect(m_size, &NumberEdit::edited, this, [this](double newtons) {
        take(changed([&](ExtraForce& f) { f.forceN = newtons / length(f.forceN) * f.forceN; }), "size");
    });
    connect(m_direction, &DirectionEdit::edited, this, [this](Vec3 way) {
        const double l = length(way);
        m_problem->showWords(l > 0 ? QString() : "The direction has no length. Give at least one number that isn't 0.");
        if (l > 0)
            take(changed([&](ExtraForce& f) { f.forceN = length(f.forceN) / l * way; }), "direction");
    });
    for (std::size_t i = 0; i < 3; ++i) {
        m_at[i] = new LengthEdit(m_fields);
        m_at[i]->setAccessibleName(
            QString("Place of the force, %1").arg(QStringLiteral("xyz").mid(static_cast<int>(i), 1)));
        m_at[i]->setRange(-farthestMm, farthestMm);
        m_at[i]->setHelp("Where it acts, in the frame of the scaled part.");
        connect(m_at[i], &NumberEdit::edited, this,
                [this, i](double mm) { take(changed([&](ExtraForce& f) { component(f.at, i) = mm; }), "place"); });
    }
    m_pick = new QPushButton("&Pick its place in the view", m_fields);
    m_pick->setCheckable(true);
    m_pick->setToolTip("Then click the place on a piece; Escape gives up. The force goes to that piece.");
    connect(m_pick, &QPushButton::clicked, this, [this](bool on) { emit pickWanted(on ? m_selected : -1); });
    m_piece = new QComboBox(m_fields);
    m_piece->setAccessibleName("Piece that the force acts on");
    m_piece->setFocusPolicy(Qt::StrongFocus);
    m_piece->setToolTip("Matters at a seam: which of the two pieces bears it.");
    connect(m_piece, &QComboBox::activated, this, [this](int at) {
        take(changed([&](ExtraForce& f) { f.piece = m_piece->itemData(at).toInt(); }), "piece");
    });
    m_problem = new ProblemLine("forceProblem", m_fields);
}

void ForcesEditor::layOut()
{
    auto* at = new QWidget(m_fields);
    auto* row = new QGridLayout(at);
    row->setContentsMargins(0, 0, 0, 0);
    for (int i = 0; i < 3; ++i) {
        auto* letter = new QLabel(QStringLiteral("xyz").mid(i, 1), at);
        letter->setBuddy(m_at[static_cast<std::size_t>(i)]);
        row->addWidget(letter, i, 0);
        row->addWidget(m_at[static_cast<std::size_t>(i)], i, 1);
    }
    row->setColumnStretch(1, 1);
    auto* form = new QFormLayout(m_fields);
    form->setContentsMargins(0, 0, 0, 0);
    form->addRow("Force", m_size);
    form->addRow("Direction", m_direction);
    form->addRow("Place", at);
    form->addRow(m_pick);
    form->addRow("Acts on", m_piece);
    form->addRow(m_problem);
    auto* buttons = new QHBoxLayout;
    buttons->addWidget(m_add);
    buttons->addWidget(m_remove);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->addWidget(m_list);
    column->addLayout(buttons);
    column->addWidget(m_fields);
}

void ForcesEditor::setForces(const std::vector<ExtraForce>& forces, const std::vector<QString>& faults,
                             const std::vector<int>& pieces, const mesh::Box3& part)
{
    const auto before = m_forces.size();
    m_forces = forces;
    m_faults = faults;
    m_faults.resize(m_forces.size());
    m_pieces = pieces;
    m_part = part;
    if (m_forces.size() == before + 1) // one was added, or its removal taken back
        m_selected = static_cast<int>(before);
    m_selected = std::min(m_selected, static_cast<int>(m_forces.size()) - 1);
    if (m_selected < 0 && !m_forces.empty())
        m_selected = 0;
    showList();
    showForce();
}

void ForcesEditor::setPicking(bool picking)
{
    m_pick->setChecked(picking);
    m_pick->setText(picking ? "Click its place in the view…" : "&Pick its place in the view");
}

void ForcesEditor::showList()
{
    const QScopedValueRollback quiet(m_quiet, true);
    m_list->clear();
    for (std::size_t i = 0; i < m_forces.size(); ++i) {
        const bool wrong = !m_faults[i].isEmpty();
        auto* item = new QListWidgetItem(QString("%1%2: %3")
                                             .arg(wrong ? QStringLiteral("\u26A0 ") : QString())
                                             .arg(i + 1)
                                             .arg(forceWords(m_forces[i])),
                                         m_list);
        item->setToolTip(wrong ? m_faults[i] : item->text());
    }
    m_list->setCurrentRow(m_selected);
    m_list->setVisible(!m_forces.empty());
}

void ForcesEditor::showForce()
{
    const QScopedValueRollback quiet(m_quiet, true);
    const bool any = m_selected >= 0;
    m_fields->setVisible(any);
    m_remove->setEnabled(any);
    m_remove->setToolTip(any ? "Takes the chosen force away." : "There is no force to remove.");
    if (!any)
        return;
    ExtraForce force = m_forces[static_cast<std::size_t>(m_selected)];
    m_size->setValue(length(force.forceN));
    m_direction->setDirection(force.forceN);
    for (std::size_t i = 0; i < 3; ++i)
        m_at[i]->setValue(component(force.at, i));
    showPieces(force.piece);
    m_problem->showWords(m_faults[static_cast<std::size_t>(m_selected)]);
}

void ForcesEditor::showPieces(int piece)
{
    std::vector<std::pair<QString, int>> items{{"the piece at that place", 0}};
    for (const int number : m_pieces)
        items.emplace_back(QString("piece %1").arg(number), number);
    if (piece != 0 && std::find(m_pieces.begin(), m_pieces.end(), piece) == m_pieces.end())
        items.emplace_back(QString("piece %1, which is not there").arg(piece), piece);
    // Filled anew only when it must be: someone may be typing in it.
    bool same = m_piece->count() == static_cast<int>(items.size());
    for (int i = 0; same && i < m_piece->count(); ++i)
        same = m_piece->itemText(i) == items[static_cast<std::size_t>(i)].first;
    if (!same) {
        m_piece->clear();
        for (const auto& [text, number] : items)
            m_piece->addItem(text, number);
    }
    m_piece->setCurrentIndex(m_piece->findData(piece));
}

ExtraForce ForcesEditor::changed(const std::function<void(ExtraForce&)>& change) const
{
    ExtraForce force = m_selected >= 0 ? m_forces[static_cast<std::size_t>(m_selected)] : ExtraForce{};
    change(force);
    return force;
}

void ForcesEditor::take(const ExtraForce& force, const QString& what)
{
    if (m_quiet || m_selected < 0 || m_forces[static_cast<std::size_t>(m_selected)] == force)
        return;
    std::vector<ExtraForce> forces = m_forces;
    forces[static_cast<std::size_t>(m_selected)] = force;
    emit wanted(forces, QString("Change %1 of force %2").arg(what).arg(m_selected + 1),
                QString("force %1 %2").arg(m_selected + 1).arg(what));
}

void ForcesEditor::add()
{
    const Vec3 middle = m_part.empty() ? Vec3{0, 0, 0} : m_part.centre();
    std::vector<ExtraForce> forces = m_forces;
    forces.push_back({{middle.x, middle.y, m_part.empty() ? 0 : m_part.max.z}, {0, 0, -usualN}, 0});
    emit wanted(forces, QString("Add force %1").arg(forces.size()), {});
}

void ForcesEditor::remove()
{
    if (m_selected < 0)
        return;
    std::vector<ExtraForce> forces = m_forces;
    forces.erase(forces.begin() + m_selected);
    emit wanted(forces, QString("Remove force %1").arg(m_selected + 1), {});
}

} // namespace quoin::ui

#include "moc_forces_editor.cpp"
