// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/dowel_editor.h"

#include "core/joint_rules.h"
#include "ui/length_edit.h"
#include "ui/quantity_text.h"

#include <QCheckBox>
#include <QComboBox>
#include <QFormLayout>
#include <QLabel>
#include <QScopedValueRollback>

#include <algorithm>
#include <cmath>

namespace quoin::ui {

namespace {

using Dowel = core::JointForm;

QHBoxLayout* beside(QWidget* first, QWidget* second)
{
    auto* row = new QHBoxLayout;
    row->addWidget(first, 1);
    row->addWidget(second, 1);
    return row;
}

} // namespace

DowelEditor::DowelEditor(QWidget* parent) : QWidget(parent)
{
    buildNumbers();
    m_keyed = new QCheckBox("&Keyed, flat at", this);
    m_keyed->setToolTip("The bore has the dowel's flat too, so that the pieces can't turn about it.");
    m_angle = new AngleEdit(this);
    m_angle->setAccessibleName("Angle of the flat");
    connect(m_keyed, &QCheckBox::toggled, this, [this](bool on) {
        if (m_quiet || !m_dowel)
            return;
        m_dowel->keyed = on;
        showDowel();
        emit wanted(*m_dowel, "key");
    });
    const auto turn = [this](double degrees) { m_dowel->angle = degrees * M_PI / 180; };
    connect(m_angle, &NumberEdit::liveEdited, this, [this, turn](double degrees) {
        if (m_dowel) {
            turn(degrees);
            emit live(*m_dowel);
        }
    });
    connect(m_angle, &NumberEdit::edited, this, [this, turn](double degrees) {
        if (m_dowel) {
            turn(degrees);
            emit wanted(*m_dowel, "angle");
        }
    });
    auto* form = new QFormLayout(this);
    form->setContentsMargins(0, 0, 0, 0);
    auto* diameter = new QLabel("&Diameter", this);
    diameter->setBuddy(m_diameter);
    form->addRow(diameter, beside(m_diameter, m_series));
    form->addRow("De&pth, each side", m_depth);
    form->addRow("Place &across", m_x);
    form->addRow("Place &up", m_y);
    form->addRow(m_keyed, m_angle);
    setDowel({}, {});
}

void DowelEditor::buildNumbers()
{
    m_diameter = new LengthEdit(this);
    m_diameter->setAccessibleName("Diameter of the dowel");
    m_series = new QComboBox(this);
    m_series->setAccessibleName("Diameter from the series");
    m_series->setFocusPolicy(Qt::StrongFocus);
    m_series->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    m_series->setMinimumContentsLength(5);
    m_series->addItem("own size");
    for (const double d : core::dowelSeriesMm)
        m_series->addItem(QString("%1 mm").arg(d), d);
    m_depth = new LengthEdit(this);
    m_depth->setAccessibleName("Depth into each side");
    m_x = new LengthEdit(this);
    m_x->setAccessibleName("Place across the face");
    m_y = new LengthEdit(this);
    m_y->setAccessibleName("Place up the face");
    connectLength(m_diameter, "diameter", [](Dowel& d, double value) { d.diameterMm = value; });
    connectLength(m_depth, "depth", [](Dowel& d, double value) { d.depthMm = value; });
    connectLength(m_x, "place", [](Dowel& d, double value) { d.at.x = value; });
    connectLength(m_y, "place", [](Dowel& d, double value) { d.at.y = value; });
    connect(m_series, &QComboBox::activated, this, [this](int at) {
        if (at < 1 || !m_dowel)
            return;
        m_dowel->diameterMm = m_series->itemData(at).toDouble();
        // A thick dowel can't be as shallow as a thin one.
        m_dowel->depthMm = std::max(m_dowel->depthMm, core::leastReachDiameters * m_dowel->diameterMm);
        showDowel();
        emit wanted(*m_dowel, "diameter");
    });
}

void DowelEditor::connectLength(LengthEdit* field, const QString& what, void (*set)(Dowel&, double))
{
    // Places are shown from the middle of the face.
    const auto take = [this, field, set](double value) {
        if (field == m_x)
            value += m_ground.middle().x;
        if (field == m_y)
            value += m_ground.middle().y;
        set(*m_dowel, value);
    };
    connect(field, &NumberEdit::liveEdited, this, [this, take](double value) {
        if (m_dowel) {
            take(value);
            emit live(*m_dowel);
        }
    });
    connect(field, &NumberEdit::edited, this, [this, take, what](double value) {
        if (m_dowel) {
            take(value);
            showDowel();
            emit wanted(*m_dowel, what);
        }
    });
}

void DowelEditor::setDowel(const std::optional<Dowel>& dowel, const DowelGround& ground, const QString& whyNot)
{
    m_dowel = dowel;
    m_ground = ground;
    m_editable = dowel && whyNot.isEmpty();
    setEnabled(m_editable);
    setToolTip(m_editable ? QString() : whyNot);
    showDowel();
}

void DowelEditor::showDowel()
{
    const QScopedValueRollback quiet(m_quiet, true);
    Dowel unset;
    unset.at = m_ground.middle();
    const Dowel dowel = m_dowel.value_or(unset);
    const bool any = m_editable;
    const auto help = [&](NumberEdit* field, const QString& text) { field->setHelp(any ? text : toolTip()); };
    m_diameter->setRange(core::thinnestDowelMm,
                         std::min(core::thickestDowelMm, dowel.depthMm / core::leastReachDiameters),
                         "a dowel is at least a quarter of its diameter deep on each side");
    m_diameter->setValue(dowel.diameterMm);
    help(m_diameter, "Diameter of the loose dowel; its bore is wider by the clearance.");
    const int at = m_series->findData(dowel.diameterMm);
    m_series->setCurrentIndex(std::max(at, 0));
    m_series->setToolTip(any ? "Usual sizes of pins and rods." : toolTip());
    m_depth->setRange(std::max(core::shallowestDowelMm, core::leastReachDiameters * dowel.diameterMm),
                      core::deepestDowelMm);
    m_depth->setValue(dowel.depthMm);
    help(m_depth, QString("How far the dowel reaches into each piece; its bore goes %1 mm further.")
                      .arg(numberText(core::boreEndClearanceMm, 2)));
    const mesh::Vec2 half = 0.5 * (m_ground.high - m_ground.low), from = dowel.at - m_ground.middle();
    // A dowel that a moved cut has left beside its face keeps its numbers until they are changed.
    m_x->setRange(std::min(-half.x, from.x), std::max(half.x, from.x), "the face ends there");
    m_y->setRange(std::min(-half.y, from.y), std::max(half.y, from.y), "the face ends there");
    m_x->setValue(from.x);
    m_y->setValue(from.y);
    help(m_x, "From the middle of the face to the dowel's axis, along the first axis of the face.");
    help(m_y, "From the middle of the face to the dowel's axis, along the second axis of the face.");
    m_keyed->setChecked(dowel.keyed);
    m_angle->setValue(dowel.angle * 180 / M_PI);
    m_angle->setEnabled(dowel.keyed);
    help(m_angle, dowel.keyed ? "Which way the flat looks: from the first axis of the face towards the second."
                              : "Only a keyed dowel has a direction.");
}

} // namespace quoin::ui

#include "moc_dowel_editor.cpp"
