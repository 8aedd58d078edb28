// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/joint_editor.h"

#include "core/dovetail_length.h"
#include "ui/joint_editor_rows.h"
#include "ui/joint_words.h"
#include "ui/length_edit.h"
#include "ui/problem_line.h"
#include "ui/thread_editor.h"

#include <QCheckBox>
#include <QComboBox>
#include <QFormLayout>
#include <QLabel>
#include <QScopedValueRollback>

#include <cmath>

namespace quoin::ui {

using Form = core::JointForm;
using Kind = Form::Kind;

namespace {

QHBoxLayout* beside(QWidget* first, QWidget* second)
{
    auto* row = new QHBoxLayout;
    row->addWidget(first, 1);
    row->addWidget(second, 1);
    return row;
}

} // namespace

JointEditor::JointEditor(QWidget* parent) : QWidget(parent)
{
    buildFields();
    buildChoices();
    layOut();
    setJoint({}, {});
}

QComboBox* JointEditor::choice(const QString& name, const QString& text)
{
    auto* box = new QComboBox(this);
    box->setAccessibleName(name);
    box->setFocusPolicy(Qt::StrongFocus);
    box->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    box->setMinimumContentsLength(4);
    box->setProperty("help", text);
    return box;
}

void JointEditor::buildFields()
{
    const auto length = [this](const QString& name) {
        auto* field = new LengthEdit(this);
        field->setAccessibleName(name);
        return field;
    };
    m_diameter = length("Diameter of the joint");
    m_depth = length("Depth of the joint");
    m_taper = length("Taper of the key");
    m_length = length("Length of the dovetail");
    m_grip = length("Grip of the bolt");
    m_x = length("Place across the face");
    m_y = length("Place up the face");
    m_angle = new AngleEdit(this);
    m_angle->setAccessibleName("Angle of the joint");
    connectNumber(m_diameter, "diameter", [](Form& j, double value) { j = core::withDiameter(j, value); });
    connectNumber(m_depth, "depth", [](Form& j, double value) { j.depthMm = value; });
    connectNumber(m_taper, "taper", [](Form& j, double value) { j.taperMm = value; });
    connectNumber(m_length, "length", [](Form& j, double value) { j.lengthMm = value; });
    connectNumber(m_grip, "grip", [](Form& j, double value) { j.gripMm = value; });
    // Places are shown from the middle of the face.
    connectNumber(m_x, "place", [this](Form& j, double value) { j.at.x = value + m_ground.middle().x; });
    connectNumber(m_y, "place", [this](Form& j, double value) { j.at.y = value + m_ground.middle().y; });
    connectNumber(m_angle, "angle", [](Form& j, double degrees) { j.angle = degrees * M_PI / 180; });
    m_keyed = new QCheckBox("&Keyed", this);
    connect(m_keyed, &QCheckBox::toggled, this, [this](bool on) {
        if (m_quiet || !m_joint)
            return;
        Form next = *m_joint;
        next.keyed = on;
        take(next, "key");
    });
    m_thread = new ThreadEditor(this);
    connect(m_thread, &ThreadEditor::wanted, this, [this](const Form& next, const QString& what) { take(next, what); });
    m_problem = new ProblemLine("jointProblem", this);
}

void JointEditor::buildChoices()
{
    m_kind =
        choice("Kind of the joint", "What holds the two pieces here. Another kind begins with numbers that suit it.");
    for (const Kind kind : core::allJointKinds)
        m_kind->addItem(kindWords(kind), static_cast<int>(kind));
    for (int i = 0; i < m_kind->count(); ++i)
        m_kind->setItemData(i, kindHelp(core::allJointKinds[static_cast<std::size_t>(i)]), Qt::ToolTipRole);
    m_sizes = choice("Diameter from the series", "Usual sizes.");
    m_rod =
        choice("What the dowel is made of", "A bought rod is cut to length; its bore is wider by what a printed bore "
                                            "comes out too small.");
    m_rod->addItem("printed", static_cast<int>(Form::Rod::Printed));
    m_rod->addItem("wooden rod, bought", static_cast<int>(Form::Rod::Wood));
    m_rod->addItem("steel rod, bought", static_cast<int>(Form::Rod::Steel));
    m_section = choice("Section of the key", "A square fits four ways round; a D and a cross only one.");
    m_section->addItem("square", static_cast<int>(Form::Section::Square));
    m_section->addItem("D", static_cast<int>(Form::Section::D));
    m_section->addItem("cross", static_cast<int>(Form::Section::Cross));
    m_hold = choice("How the bolt is held", "What the bolt's thread goes into.");
    m_hold->addItem("heat-set insert", static_cast<int>(Form::Hold::Insert));
    m_hold->addItem("nut from the far side", static_cast<int>(Form::Hold::FarNut));
    m_hold->addItem("nut from the side", static_cast<int>(Form::Hold::SideNut));
    m_carrier = choice("Piece that carries it", {});
    const auto picked = [this](QComboBox* box, const QString& what, std::function<Form(Form, int)> set) {
        connect(box, &QComboBox::activated, this, [this, box, what, set = std::move(set)](int at) {
            if (!m_joint)
                return;
            const Form next = set(*m_joint, box->itemData(at).toInt());
            if (!(next == *m_joint))
                take(next, what);
        });
    };
    picked(m_kind, "kind", [this](const Form& j, int kind) {
        const Form next = core::changedTo(j, static_cast<Kind>(kind), m_ground.space);
        return next == j ? j : core::keptOn(m_ground.region, next, m_ground.wallMm);
    });
    picked(m_rod, "rod", [](const Form& j, int rod) { return core::withRod(j, static_cast<Form::Rod>(rod)); });
    picked(m_section, "section", [](Form j, int section) {
        j.section = static_cast<Form::Section>(section);
        return j;
    });
    picked(m_hold, "nut", [](const Form& j, int hold) { return core::withHold(j, static_cast<Form::Hold>(hold)); });
    picked(m_carrier, "carrier", [](Form j, int carrier) {
        if (carrier != looseCarrier)
            j.carrierAbove = carrier == carrierAbove;
        if (j.kind == Kind::Key)
            j.integral = carrier != looseCarrier;
        return j;
    });
    connect(m_sizes, &QComboBox::activated, this, [this](int at) {
        if (m_joint && m_sizes->itemData(at).isValid())
            take(core::withDiameter(*m_joint, m_sizes->itemData(at).toDouble()), "diameter");
    });
}

void JointEditor::layOut()
{
    m_form = new QFormLayout(this);
    m_form->setContentsMargins(0, 0, 0, 0);
    m_form->addRow("Kin&d", m_kind);
    auto* size = new QLabel("Si&ze", this);
    size->setBuddy(m_diameter);
    m_form->addRow(size, beside(m_diameter, m_sizes));
    m_form->addRow("Made of", m_rod);
    m_form->addRow("Section", m_section);
    m_form->addRow("Carried by", m_carrier);
    m_form->addRow("Held by", m_hold);
    m_thread->addTo(*m_form);
    m_depthLabel = new QLabel(this);
    m_depthLabel->setBuddy(m_depth);
    m_form->addRow(m_depthLabel, m_depth);
    m_form->addRow("Grip", m_grip);
    m_form->addRow("Taper, each side", m_taper);
    m_form->addRow("Length", m_length);
    m_form->addRow("Place &across", m_x);
    m_form->addRow("Place &up", m_y);
    m_form->addRow(m_keyed);
    m_angleLabel = new QLabel(this);
    m_angleLabel->setBuddy(m_angle);
    m_form->addRow(m_angleLabel, m_angle);
    m_form->addRow(m_problem);
}

void JointEditor::connectNumber(NumberEdit* field, const QString& what, std::function<void(Form&, double)> set)
{
    connect(field, &NumberEdit::liveEdited, this, [this, set](double value) {
        if (!m_joint)
            return;
        Form next = *m_joint;
        set(next, value);
        emit live(next);
    });
    connect(field, &NumberEdit::edited, this, [this, set, what](double value) {
        if (!m_joint)
            return;
        Form next = *m_joint;
        set(next, value);
        take(next, what);
    });
}

bool JointEditor::sound(const Form& joint)
{
    const Status status = core::checkForm(joint);
    const QString why = status ? QString() : QString::fromStdString(status.problem().sentence());
    m_problem->showWords(why);
    return why.isEmpty();
}

void JointEditor::take(const Form& joint, const QString& what)
{
    if (sound(joint)) {
        m_joint = joint;
        showJoint();
        emit wanted(joint, what);
    } else {
        showJoint(); // as it was
    }
}

void JointEditor::setJoint(const std::optional<Form>& joint, const JointGround& ground, const QString& whyNot)
{
    if (!(joint == m_joint))
        m_problem->showWords({});
    m_joint = joint;
    m_ground = ground;
    m_editable = joint && whyNot.isEmpty();
    setEnabled(m_editable);
    setToolTip(m_editable ? QString() : whyNot);
    showJoint();
}

} // namespace quoin::ui

#include "moc_joint_editor.cpp"
