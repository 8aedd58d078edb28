// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/joint_options_editor.h"

#include "core/thread_mesh.h"
#include "ui/joint_words.h"
#include "ui/length_edit.h"

#include <QCheckBox>
#include <QComboBox>
#include <QFormLayout>
#include <QPushButton>
#include <QScopedValueRollback>

#include <algorithm>
#include <array>

namespace quoin::ui {

namespace {

constexpr std::array<core::Fit, 4> fits{core::Fit::Free, core::Fit::Sliding, core::Fit::Snug, core::Fit::Press};
constexpr double thinnestWallMm = 0.4, thickestWallMm = 50;

} // namespace

JointOptionsEditor::JointOptionsEditor(QWidget* parent) : QWidget(parent)
{
    const auto choice = [this](const QString& name) {
        auto* box = new QComboBox(this);
        box->setAccessibleName(name);
        box->setFocusPolicy(Qt::StrongFocus);
        box->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
        box->setMinimumContentsLength(8);
        return box;
    };
    m_kinds = choice("Joints on all faces");
    m_kinds->setToolTip("On every face that nothing else is wished for. Faces by hand stay as they are.");
    m_kinds->addItem("as suits each face");
    m_kinds->setItemData(0, "What a careful maker would choose by its section, the room and the load.",
                         Qt::ToolTipRole);
    for (const core::JointForm::Kind kind : core::allJointKinds) {
        m_kinds->addItem(kindsWords(kind));
        m_kinds->setItemData(m_kinds->count() - 1, kindHelp(kind), Qt::ToolTipRole);
    }
    m_kinds->addItem("none: plain, glue");
    m_kinds->setItemData(m_kinds->count() - 1, "Faces are plain, but for those that are done by hand.",
                         Qt::ToolTipRole);
    m_marks = new QCheckBox("Piece &numbers and mating marks", this);
    m_marks->setToolTip("Sunk into both sides of each face, where the joints leave room.");
    m_witness = new QCheckBox("Witness line across each seam", this);
    m_witness->setToolTip("A shallow groove straight across the seam on the outside: its halves meet when the pieces "
                          "stand at their designed angle. Only where a seam has a place for one.");
    m_clocked = new QCheckBox("Clocking key beside screws and studs", this);
    m_clocked->setToolTip("A loose bar slid into the seam from outside once the screw is seated, so that it can't turn "
                          "back. Where the load would turn a screw there is one anyway.");
    m_wall = new LengthEdit(this);
    m_wall->setAccessibleName("Least wall around a joint");
    m_wall->setRange(thinnestWallMm, thickestWallMm);
    m_wall->setHelp("Least material between a joint and any other surface, and between two joints.");
    m_chord = new LengthEdit(this);
    m_chord->setAccessibleName("Chord error of round surfaces");
    m_chord->setRange(core::finestChordMm, core::coarsestChordMm);
    m_chord->setHelp("How far the flat facets of threads and other round surfaces may lie beside the true ones. Finer "
                     "ones make larger files; what a nozzle can't lay down is wasted.");
    m_fits = choice("Fit of all joints");
    auto* table = new QPushButton("Fits and coupon…", this);
    table->setToolTip("The clearances in force, and a small print that finds those of your own machine.");
    connect(table, &QPushButton::clicked, this, &JointOptionsEditor::fitsWanted);
    auto* form = new QFormLayout(this);
    form->setContentsMargins(0, 0, 0, 0);
    form->addRow("Joint&s on all faces", m_kinds);
    form->addRow(m_marks);
    form->addRow(m_witness);
    form->addRow(m_clocked);
    form->addRow("&Least wall", m_wall);
    form->addRow("F&it of all joints", m_fits);
    form->addRow("Round within", m_chord);
    form->addRow(table);
    connect(m_kinds, &QComboBox::activated, this, [this](int at) {
        core::JointOptions next = m_options;
        next.wanted = at <= static_cast<int>(core::allJointKinds.size());
        next.kind =
            at > 0 && next.wanted ? std::optional(core::allJointKinds[static_cast<std::size_t>(at) - 1]) : std::nullopt;
        if (next == m_options)
            return;
        m_options = next;
        emit optionsWanted(m_options, m_fit, "Joints on all faces: " + m_kinds->itemText(at));
    });
    connect(m_marks, &QCheckBox::toggled, this, [this](bool on) {
        m_options.marks = on;
        if (!m_quiet)
            emit optionsWanted(m_options, m_fit, on ? "Numbers on" : "Numbers off");
    });
    connect(m_clocked, &QCheckBox::toggled, this, [this](bool on) {
        m_options.clocked = on;
        if (!m_quiet)
            emit optionsWanted(m_options, m_fit, on ? "Clocking keys on" : "Clocking keys off");
    });
    connect(m_witness, &QCheckBox::toggled, this, [this](bool on) {
        m_options.witness = on;
        if (!m_quiet)
            emit optionsWanted(m_options, m_fit, on ? "Witness lines on" : "Witness lines off");
    });
    connect(m_wall, &NumberEdit::edited, this, [this](double wallMm) {
        m_options.wallMm = wallMm;
        emit optionsWanted(m_options, m_fit, "Least wall around joints");
    });
    connect(m_chord, &NumberEdit::edited, this, [this](double chordMm) {
        m_options.chordMm = chordMm;
        emit optionsWanted(m_options, m_fit, "Chord error of round surfaces");
    });
    connect(m_fits, &QComboBox::activated, this, [this](int at) {
        if (fits[static_cast<std::size_t>(at)] == m_fit)
            return;
        m_fit = fits[static_cast<std::size_t>(at)];
        emit optionsWanted(m_options, m_fit, "Fit of all joints");
    });
    setOptions({{}, {}, core::Fit::Sliding, "PLA", {}, {}});
}

void JointOptionsEditor::setOptions(const PartJoints& part)
{
    const QScopedValueRollback quiet(m_quiet, true);
    m_options = part.options;
    m_fit = part.fit;
    const auto kind =
        m_options.kind ? std::ranges::find(core::allJointKinds, *m_options.kind) : core::allJointKinds.end();
    m_kinds->setCurrentIndex(!m_options.wanted ? m_kinds->count() - 1
                             : kind == core::allJointKinds.end()
                                 ? 0
                                 : 1 + static_cast<int>(kind - core::allJointKinds.begin()));
    m_marks->setChecked(m_options.marks);
    m_witness->setChecked(m_options.witness);
    m_clocked->setChecked(m_options.clocked);
    m_wall->setValue(m_options.wallMm);
    m_chord->setValue(m_options.chordMm);
    m_fits->clear();
    for (const core::Fit f : fits)
        m_fits->addItem(fitWords(f, part, processesOf({})));
    m_fits->setCurrentIndex(static_cast<int>(std::ranges::find(fits, m_fit) - fits.begin()));
    m_fits->setToolTip(QString("Clearance between what goes in and its bore, for %1.").arg(part.material));
}

} // namespace quoin::ui

#include "moc_joint_options_editor.cpp"
