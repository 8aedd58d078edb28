// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
// What the joint editor shows: its rows, ranges and words by kind.
#include "core/joint_rules.h"
#include "ui/joint_editor.h"
#include "ui/joint_editor_rows.h"
#include "ui/length_edit.h"
#include "ui/problem_line.h"
#include "ui/quantity_text.h"
#include "ui/thread_editor.h"

#include <QCheckBox>
#include <QComboBox>
#include <QFormLayout>
#include <QLabel>
#include <QScopedValueRollback>

#include <algorithm>
#include <cmath>

namespace quoin::ui {

using Form = core::JointForm;
using Kind = Form::Kind;

namespace {

constexpr double largestMm = 400;     ///< diameters and lengths that can be typed
constexpr double leastLengthMm = 1;   ///< of a dovetail, a grip
constexpr double steepestTaper = 0.2; ///< of a key's depth
constexpr double sameSizeMm = 1e-6;

bool hasCarrier(const Form& joint)
{
    return joint.kind != Kind::Dowel && joint.kind != Kind::Stud && joint.kind != Kind::ClockingKey;
}

bool bothSides(const Form& joint)
{
    return joint.kind == Kind::Dowel || joint.kind == Kind::Stud || joint.kind == Kind::ClockingKey ||
           (joint.kind == Kind::Key && !joint.integral);
}

bool bought(const Form& joint)
{
    return joint.kind == Kind::DrawBolt || (joint.kind == Kind::Dowel && joint.rod != Form::Rod::Printed);
}

bool sideNut(const Form& joint)
{
    return joint.kind == Kind::DrawBolt && joint.hold == Form::Hold::SideNut;
}

QString sizeItem(const Form& joint, double size)
{
    const QString number = numberText(size, 2);
    if (joint.kind == Kind::DrawBolt)
        return "M" + number;
    if (threaded(joint) && joint.thread.trapezoidal)
        return "Tr " + number;
    return number + " mm";
}

} // namespace

QString JointEditor::piece(bool above) const
{
    return QString("piece %1").arg(above ? m_ground.pieceAbove : m_ground.pieceBelow);
}

void JointEditor::help(QWidget* field, const QString& text)
{
    const QString shown = m_editable ? text : toolTip();
    if (auto* number = qobject_cast<NumberEdit*>(field))
        number->setHelp(shown);
    else
        field->setToolTip(shown);
}

void JointEditor::showJoint()
{
    const QScopedValueRollback quiet(m_quiet, true);
    if (!m_joint) {
        showRows();
        return;
    }
    m_kind->setCurrentIndex(m_kind->findData(static_cast<int>(m_joint->kind)));
    m_rod->setCurrentIndex(m_rod->findData(static_cast<int>(m_joint->rod)));
    m_section->setCurrentIndex(m_section->findData(static_cast<int>(m_joint->section)));
    m_hold->setCurrentIndex(m_hold->findData(static_cast<int>(m_joint->hold)));
    for (QComboBox* box : {m_kind, m_rod, m_section, m_hold})
        help(box, box->property("help").toString());
    if (threaded(*m_joint))
        m_thread->setJoint(*m_joint, m_editable ? QString() : toolTip());
    showRows();
    showSize();
    showCarriers();
    showReach();
    showPlace();
    showTurn();
}

void JointEditor::showRows()
{
    const Form joint = m_joint.value_or(Form{});
    const auto show = [this](QWidget* field, bool on) { m_form->setRowVisible(field, on); };
    show(m_rod, joint.kind == Kind::Dowel);
    show(m_section, joint.kind == Kind::Key);
    show(m_carrier, hasCarrier(joint));
    show(m_hold, joint.kind == Kind::DrawBolt);
    m_thread->setVisible(threaded(joint));
    show(m_taper, joint.kind == Kind::Key);
    show(m_length, core::liesAlongFace(joint));
    show(m_grip, joint.kind == Kind::DrawBolt);
    show(m_keyed, joint.kind == Kind::Dowel);
    show(m_angle, joint.kind == Kind::Dowel || joint.kind == Kind::Key || core::liesAlongFace(joint) || sideNut(joint));
    m_diameter->setVisible(!bought(joint)); // what is bought comes in its sizes only
    m_problem->setVisible(!m_problem->words().isEmpty());
}

void JointEditor::showSize()
{
    const Form& joint = *m_joint;
    if (joint.kind == Kind::Dowel)
        m_diameter->setRange(core::thinnestDowelMm, core::thickestDowelMm);
    else
        m_diameter->setRange(1, largestMm);
    m_diameter->setValue(joint.diameterMm);
    help(m_diameter, joint.kind == Kind::Dowel      ? "Diameter of the loose dowel; its bore is wider by the clearance."
                     : threaded(joint)              ? "Nominal diameter: over the crests of the outer thread."
                     : joint.kind == Kind::Dovetail ? "Width where it is widest."
                     : joint.kind == Kind::ClockingKey ? "Width of the bar, across its way in."
                                                       : "Diameter of the circle round the key's section.");
    m_sizes->clear();
    if (!bought(joint))
        m_sizes->addItem("own size");
    for (const double size : core::sizesOf(joint)) {
        m_sizes->addItem(sizeItem(joint, size), size);
        if (std::abs(size - joint.diameterMm) < sameSizeMm)
            m_sizes->setCurrentIndex(m_sizes->count() - 1);
    }
    help(m_sizes,
         joint.kind == Kind::DrawBolt ? joint.hold == Form::Hold::Insert ? "Sizes of heat-set inserts."
                                                                         : "Sizes of socket head screws, ISO 4762."
         : threaded(joint) ? joint.thread.trapezoidal ? "Diameters of ISO 2902." : "Usual sizes of printed threads."
         : joint.kind == Kind::Dowel
             ? joint.rod == Form::Rod::Printed ? "Usual sizes of pins." : "Sizes that rod is sold in."
             : "Whole millimetres.");
}

void JointEditor::showCarriers()
{
    const Form& joint = *m_joint;
    m_carrier->clear();
    if (joint.kind == Kind::Key)
        m_carrier->addItem("loose", looseCarrier);
    const QString on = joint.kind == Kind::Key ? "on " : "";
    m_carrier->addItem(on + piece(false), carrierBelow);
    m_carrier->addItem(on + piece(true), carrierAbove);
    const int carrier = joint.kind == Kind::Key && !joint.integral ? looseCarrier
                        : joint.carrierAbove                       ? carrierAbove
                                                                   : carrierBelow;
    m_carrier->setCurrentIndex(m_carrier->findData(carrier));
    auto* label = qobject_cast<QLabel*>(m_form->labelForField(m_carrier));
    label->setText(joint.kind == Kind::DrawBolt ? "Head in" : joint.kind == Kind::Key ? "Key" : "Stands on");
    help(m_carrier, joint.kind == Kind::Screw ? "The piece that the outer thread is grown on; the other is turned "
                                                "onto it, with all that hangs on it."
                    : joint.kind == Kind::Key ? "A loose key is printed lying, and strongest; one grown on a piece "
                                                "can't be lost."
                    : joint.kind == Kind::Dovetail
                        ? "The piece that the dovetail is grown on; the other slides onto it."
                        : "The piece that the bolt goes through.");
}

void JointEditor::showReach()
{
    const Form& joint = *m_joint;
    const QString other = piece(!joint.carrierAbove);
    if (joint.kind == Kind::DrawBolt)
        m_depthLabel->setText(joint.hold == Form::Hold::Insert ? "Insert's de&pth" : "Nut's de&pth");
    else
        m_depthLabel->setText(bothSides(joint) ? "De&pth, each side" : "De&pth in " + other);
    m_depth->setRange(
        joint.kind == Kind::Dowel ? std::max(core::shallowestDowelMm, core::leastReachDiameters * joint.diameterMm)
                                  : core::shallowestDowelMm,
        core::deepestDowelMm,
        joint.kind == Kind::Dowel ? "a dowel is at least a quarter of its diameter deep on each side" : "");
    m_depth->setValue(joint.depthMm);
    help(m_depth,
         joint.kind == Kind::DrawBolt
             ? QString("From the face to %1, in %2.")
                   .arg(joint.hold == Form::Hold::Insert ? "the end of the insert" : "the seat of the nut", other)
             : QString("How far it reaches into %1; the bore goes %2 mm further.")
                   .arg(bothSides(joint) ? "each piece" : other, numberText(core::boreEndClearanceMm, 2)));
    m_taper->setRange(0, steepestTaper * joint.depthMm, "a key that is steeper springs out");
    m_taper->setValue(joint.taperMm);
    help(m_taper, "How much narrower each side is at the ends than at the face: easy to put in, tight at the end.");
    m_length->setRange(leastLengthMm, largestMm);
    m_length->setValue(joint.lengthMm);
    help(m_length, "From its place to its end, the way that it slides.");
    m_grip->setRange(leastLengthMm, largestMm);
    m_grip->setValue(joint.gripMm);
    help(m_grip, QString("From the face to the seat of the head, in %1: what the bolt squeezes.")
                     .arg(piece(joint.carrierAbove)));
}

void JointEditor::showPlace()
{
    const mesh::Vec2 half = 0.5 * (m_ground.high - m_ground.low), from = m_joint->at - m_ground.middle();
    // A joint that a moved cut has left beside its face keeps its numbers until they are changed.
    m_x->setRange(std::min(-half.x, from.x), std::max(half.x, from.x), "the face ends there");
    m_y->setRange(std::min(-half.y, from.y), std::max(half.y, from.y), "the face ends there");
    m_x->setValue(from.x);
    m_y->setValue(from.y);
    help(m_x, "From the middle of the face to the joint's axis, along the first axis of the face.");
    help(m_y, "From the middle of the face to the joint's axis, along the second axis of the face.");
}

void JointEditor::showTurn()
{
    const Form& joint = *m_joint;
    m_keyed->setChecked(joint.keyed);
    m_keyed->setEnabled(m_editable && joint.rod == Form::Rod::Printed);
    help(m_keyed, joint.rod == Form::Rod::Printed
                      ? "The bore has the dowel's flat too, so that the pieces can't turn about it."
                      : "A bought rod is round: it can't be keyed.");
    m_angle->setValue(joint.angle * 180 / M_PI);
    m_angle->setEnabled(joint.kind != Kind::Dowel || joint.keyed);
    const bool flat = joint.kind == Kind::Dowel || (joint.kind == Kind::Key && joint.section == Form::Section::D);
    m_angleLabel->setText(flat                                    ? "Flat looks to"
                          : core::liesAlongFace(joint)            ? "Slides out to"
                          : joint.kind == Kind::DrawBolt          ? "Slot opens to"
                          : joint.section == Form::Section::Cross ? "Arm points to"
                                                                  : "Side looks to");
    help(m_angle, m_angle->isEnabled() ? "From the first axis of the face towards the second."
                                       : "Only a keyed dowel has a direction.");
}

} // namespace quoin::ui
