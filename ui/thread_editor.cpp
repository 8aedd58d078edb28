// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/thread_editor.h"

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

/// What a print may be too thick at the faces (a first layer squeezed out, paint, glue), for the words.
constexpr double tooThickMm = 0.1;
constexpr double samePitchMm = 1e-6;

QComboBox* choiceBox(QWidget* parent, const QString& name)
{
    auto* box = new QComboBox(parent);
    box->setAccessibleName(name);
    box->setFocusPolicy(Qt::StrongFocus);
    box->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    box->setMinimumContentsLength(4);
    return box;
}

} // namespace

ThreadEditor::ThreadEditor(QWidget* parent) : QObject(parent)
{
    m_profile = choiceBox(parent, "Thread profile");
    m_profile->addItem("printable, 45° flanks", false);
    m_profile->addItem("trapezoidal, ISO 2901", true);
    m_pitch = choiceBox(parent, "Pitch");
    m_starts = choiceBox(parent, "Starts");
    for (int n = 1; n <= core::mostStarts; ++n)
        m_starts->addItem(n == 1 ? QString("1 start") : QString("%1 starts").arg(n), n);
    m_left = new QCheckBox("Left hand", parent);
    m_follows = new QLabel(parent);
    m_follows->setWordWrap(true);
    m_follows->setTextInteractionFlags(Qt::TextSelectableByMouse);
    m_follows->setAccessibleName("What follows from the thread");
    m_climb = new QWidget(parent);
    auto* row = new QHBoxLayout(m_climb);
    row->setContentsMargins(0, 0, 0, 0);
    row->addWidget(m_pitch, 1);
    row->addWidget(m_starts, 1);
    connect(m_profile, &QComboBox::activated, this,
            [this](int at) { say(core::withProfile(m_joint, m_profile->itemData(at).toBool()), "thread profile"); });
    connect(m_pitch, &QComboBox::activated, this, [this](int at) {
        core::JointForm next = m_joint;
        next.thread.pitchMm = m_pitch->itemData(at).toDouble();
        say(next, "pitch");
    });
    connect(m_starts, &QComboBox::activated, this, [this](int at) {
        core::JointForm next = m_joint;
        next.thread.starts = m_starts->itemData(at).toInt();
        say(next, "starts");
    });
    connect(m_left, &QCheckBox::toggled, this, [this](bool on) {
        if (m_quiet)
            return;
        core::JointForm next = m_joint;
        next.thread.leftHand = on;
        say(next, "hand");
    });
}

void ThreadEditor::addTo(QFormLayout& form)
{
    m_form = &form;
    form.addRow("Thread", m_profile);
    form.addRow("Pitch", m_climb);
    form.addRow(QString(), m_left);
    form.addRow(m_follows);
}

void ThreadEditor::setVisible(bool visible)
{
    for (QWidget* row :
         {static_cast<QWidget*>(m_profile), m_climb, static_cast<QWidget*>(m_left), static_cast<QWidget*>(m_follows)})
        m_form->setRowVisible(row, visible);
}

void ThreadEditor::say(const core::JointForm& joint, const QString& what)
{
    if (!(joint == m_joint))
        emit wanted(joint, what);
}

void ThreadEditor::setJoint(const core::JointForm& joint, const QString& whyNot)
{
    const QScopedValueRollback quiet(m_quiet, true);
    m_joint = joint;
    m_profile->setCurrentIndex(joint.thread.trapezoidal ? 1 : 0);
    m_pitch->clear();
    for (const double pitch : core::pitchesOf(joint))
        m_pitch->addItem(QString("%1 mm").arg(numberText(pitch, 2)), pitch);
    int at = -1;
    for (int i = 0; i < m_pitch->count(); ++i)
        if (std::abs(m_pitch->itemData(i).toDouble() - joint.thread.pitchMm) < samePitchMm)
            at = i;
    if (at < 0) { // of a design from elsewhere
        m_pitch->addItem(QString("%1 mm").arg(numberText(joint.thread.pitchMm, 3)), joint.thread.pitchMm);
        at = m_pitch->count() - 1;
    }
    m_pitch->setCurrentIndex(at);
    m_starts->setCurrentIndex(std::clamp(joint.thread.starts, 1, core::mostStarts) - 1);
    m_left->setChecked(joint.thread.leftHand);
    const auto help = [&](QWidget* field, const QString& text) { field->setToolTip(whyNot.isEmpty() ? text : whyNot); };
    help(m_profile, "Printable: prints without support while its axis stands upright. Trapezoidal: steeper flanks, for "
                    "parts that are bought or machined to the standard.");
    help(m_pitch, "From one crest to the next. Coarse ones bear rough printing, fine ones hold their angle.");
    help(m_starts, "Threads side by side: fewer turns to the seat, and as many ways to begin.");
    help(m_left, joint.kind == core::JointForm::Kind::Stud ? "Both ends are turned the other way round."
                                                           : "Turned the other way round.");
    showFollows();
}

void ThreadEditor::showFollows()
{
    const double lead = m_joint.thread.leadMm();
    if (!(lead > 0)) {
        m_follows->clear();
        return;
    }
    const double degrees = core::seatedAngleError(tooThickMm, lead) * 180 / M_PI;
    m_follows->setText(QString("<b>%1</b>: lead %2 mm, %3 turns to the seat. Faces %4 mm too thick leave the pieces "
                               "%5° from their angle.")
                           .arg(QString::fromStdString(core::designation(core::threadOf(m_joint))), numberText(lead, 2),
                                numberText(core::turnsOf(m_joint), 1), numberText(tooThickMm, 1),
                                numberText(degrees, 1, 1)));
    m_follows->setToolTip(
        "360° times what the faces are too thick, over the lead: paint, glue or a swollen first layer "
        "stop the screw early. A longer lead turns less.");
}

} // namespace quoin::ui

#include "moc_thread_editor.cpp"
