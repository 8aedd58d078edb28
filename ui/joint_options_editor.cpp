// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/joint_options_editor.h"

#include "ui/joint_words.h"
#include "ui/length_edit.h"

#include <QCheckBox>
#include <QComboBox>
#include <QFormLayout>
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
    m_dowels = new QCheckBox("Choose dowels for all face&s", this);
    m_dowels->setToolTip("Off: faces are plain, but for those that are done by hand.");
    m_marks = new QCheckBox("Piece &numbers and mating marks", this);
    m_marks->setToolTip("Sunk into both sides of each face, where the dowels leave room.");
    m_wall = new LengthEdit(this);
    m_wall->setAccessibleName("Least wall around a bore");
    m_wall->setRange(thinnestWallMm, thickestWallMm);
    m_wall->setHelp("Least material between a bore and any other surface, and between two bores.");
    m_fits = new QComboBox(this);
    m_fits->setAccessibleName("Fit of all dowels");
    m_fits->setFocusPolicy(Qt::StrongFocus);
    m_fits->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    m_fits->setMinimumContentsLength(8);
    auto* form = new QFormLayout(this);
    form->setContentsMargins(0, 0, 0, 0);
    form->addRow(m_dowels);
    form->addRow(m_marks);
    form->addRow("&Least wall", m_wall);
    form->addRow("F&it of all dowels", m_fits);
    connect(m_dowels, &QCheckBox::toggled, this, [this](bool on) {
        m_options.wanted = on;
        if (!m_quiet)
            emit optionsWanted(m_options, m_fit, on ? "Dowels on" : "Dowels off");
    });
    connect(m_marks, &QCheckBox::toggled, this, [this](bool on) {
        m_options.marks = on;
        if (!m_quiet)
            emit optionsWanted(m_options, m_fit, on ? "Numbers on" : "Numbers off");
    });
    connect(m_wall, &NumberEdit::edited, this, [this](double wallMm) {
        m_options.wallMm = wallMm;
        emit optionsWanted(m_options, m_fit, "Least wall around bores");
    });
    connect(m_fits, &QComboBox::activated, this, [this](int at) {
        if (fits[static_cast<std::size_t>(at)] == m_fit)
            return;
        m_fit = fits[static_cast<std::size_t>(at)];
        emit optionsWanted(m_options, m_fit, "Fit of all dowels");
    });
    setOptions({}, core::Fit::Sliding, "PLA");
}

void JointOptionsEditor::setOptions(const core::JointOptions& options, core::Fit fit, const QString& material)
{
    const QScopedValueRollback quiet(m_quiet, true);
    m_options = options;
    m_fit = fit;
    m_dowels->setChecked(options.wanted);
    m_marks->setChecked(options.marks);
    m_wall->setValue(options.wallMm);
    m_fits->clear();
    for (const core::Fit f : fits)
        m_fits->addItem(fitWords(f, material));
    m_fits->setCurrentIndex(static_cast<int>(std::ranges::find(fits, fit) - fits.begin()));
    m_fits->setToolTip(QString("Clearance between dowel and bore, for %1.").arg(material));
}

} // namespace quoin::ui

#include "moc_joint_options_editor.cpp"
