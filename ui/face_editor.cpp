// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/face_editor.h"

#include "core/dovetail_length.h"
#include "core/face_choice.h"
#include "core/joint_rules.h"
#include "ui/joint_editor.h"
#include "ui/joint_words.h"
#include "ui/quantity_text.h"

#include <QComboBox>
#include <QEvent>
#include <QFormLayout>
#include <QGridLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

#include <algorithm>
#include <array>

namespace quoin::ui {

namespace {

using How = core::FaceChoice::How;

constexpr std::array<core::Fit, 4> fits{core::Fit::Free, core::Fit::Sliding, core::Fit::Snug, core::Fit::Press};

QLabel* wrapped(QWidget* parent)
{
    auto* label = new QLabel(parent);
    label->setWordWrap(true);
    label->setTextInteractionFlags(Qt::TextSelectableByMouse | Qt::TextSelectableByKeyboard);
    return label;
}

QComboBox* choiceBox(QWidget* parent, const QString& name)
{
    auto* box = new QComboBox(parent);
    box->setAccessibleName(name);
    box->setFocusPolicy(Qt::StrongFocus);
    box->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    box->setMinimumContentsLength(8);
    return box;
}

} // namespace

FaceEditor::FaceEditor(QWidget* parent) : QWidget(parent)
{
    m_title = wrapped(this);
    m_got = wrapped(this);
    m_got->setAccessibleName("What the face got");
    buildHow();
    m_jointTitle = wrapped(this);
    m_fault = wrapped(this);
    m_fault->setAccessibleName("Rule that the joint breaks");
    m_editor = new JointEditor(this);
    m_add = new QPushButton("Add j&oint", this);
    m_next = choiceBox(this, "Kind of the next joint");
    m_next->addItem("another like these", -1);
    for (const core::JointForm::Kind kind : core::allJointKinds) {
        m_next->addItem(kindWords(kind), static_cast<int>(kind));
        m_next->setItemData(m_next->count() - 1, kindHelp(kind), Qt::ToolTipRole);
    }
    m_remove = new QPushButton("&Remove joint", this);
    connect(m_add, &QPushButton::clicked, this, &FaceEditor::addJoint);
    connect(m_remove, &QPushButton::clicked, this, &FaceEditor::removeJoint);
    connect(m_editor, &JointEditor::live, this, [this](const core::JointForm& joint) {
        core::FaceChoice choice = placed();
        choice.joints[static_cast<std::size_t>(m_joint)] = joint;
        emit choiceLive(choice);
    });
    connect(m_editor, &JointEditor::wanted, this, [this](const core::JointForm& joint, const QString& what) {
        core::FaceChoice choice = placed();
        const QString name = jointTitle(m_joint);
        choice.joints[static_cast<std::size_t>(m_joint)] = joint;
        send(choice, QString("Change %1 of %2").arg(what, name), QString("%1 %2").arg(jointName(m_joint), what));
    });
    m_form = new QFormLayout;
    m_form->addRow("Ho&w", m_how);
    m_form->addRow("&Joints", m_kind);
    m_form->addRow("Lar&gest", m_size);
    m_form->addRow("Fi&t", m_fit);
    auto* buttons = new QGridLayout;
    buttons->addWidget(m_add, 0, 0);
    buttons->addWidget(m_next, 0, 1);
    buttons->addWidget(m_remove, 1, 0);
    buttons->setColumnStretch(0, 1);
    buttons->setColumnStretch(1, 1);
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->addWidget(m_title);
    layout->addWidget(m_got);
    layout->addLayout(m_form);
    layout->addWidget(m_take);
    layout->addWidget(m_jointTitle);
    layout->addWidget(m_fault);
    layout->addWidget(m_editor);
    layout->addLayout(buttons);
    showFace();
}

void FaceEditor::buildHow()
{
    m_how = choiceBox(this, "How the face is jointed");
    m_how->addItem("chosen for me", static_cast<int>(How::Automatic));
    m_how->addItem("by hand", static_cast<int>(How::ByHand));
    m_how->addItem("plain, glue", static_cast<int>(How::Plain));
    m_how->setItemData(0, "Joints that suit the face, as large and as far apart as the room allows.", Qt::ToolTipRole);
    m_how->setItemData(1, "Joints of your own, where you put them.", Qt::ToolTipRole);
    m_how->setItemData(2, "No joints: a flat face to be glued.", Qt::ToolTipRole);
    connect(m_how, &QComboBox::activated, this,
            [this](int at) { changeHow(static_cast<How>(m_how->itemData(at).toInt())); });
    m_kind = choiceBox(this, "Kind of joints");
    connect(m_kind, &QComboBox::activated, this, [this](int at) {
        core::FaceChoice choice = placed();
        choice.kind = at == 0 ? std::nullopt : std::optional(core::allJointKinds[static_cast<std::size_t>(at) - 1]);
        if (choice.kind == m_face->choice.kind)
            return;
        choice.diameterMm.reset(); // sizes of another kind mean nothing here
        send(choice, choice.kind ? sentenceCase(kindsWords(*choice.kind)) : "Joints as the part");
        showSizes();
    });
    m_size = choiceBox(this, "Largest joint");
    connect(m_size, &QComboBox::activated, this, [this](int at) {
        core::FaceChoice choice = placed();
        choice.diameterMm = at == 0 ? std::nullopt : std::optional(m_size->itemData(at).toDouble());
        send(choice, "Largest joint");
    });
    m_fit = choiceBox(this, "Fit of the joints");
    connect(m_fit, &QComboBox::activated, this, [this](int at) {
        core::FaceChoice choice = placed();
        choice.fit = at == 0 ? std::nullopt : std::optional(fits[static_cast<std::size_t>(at) - 1]);
        send(choice, "Fit");
    });
    m_take = new QPushButton("Take these and change them &by hand", this);
    connect(m_take, &QPushButton::clicked, this, [this] {
        send(byHand(), "By hand from what was chosen");
        emit jointWanted(0);
    });
}

void FaceEditor::setFace(const std::optional<FaceRow>& face, int joint, const PartJoints& part)
{
    m_face = face;
    m_part = {{}, part.options, part.fit, part.material, part.machine, part.fits};
    m_joint = joint;
    if (m_joint >= jointCount())
        m_joint = -1;
    showFace();
}

void FaceEditor::showFace()
{
    const bool any = m_face.has_value();
    const QString why = any ? QString() : QString("Select a face in the list or in the view first.");
    m_title->setText(any ? QString("<b>Face %1</b>, between pieces %2 and %3, %4")
                               .arg(m_face->mark)
                               .arg(m_face->pieceBelow)
                               .arg(m_face->pieceAbove)
                               .arg(areaText(m_face->areaMm2))
                         : "Select a face to see and change how it is jointed.");
    m_got->setText(any ? asSentence(m_face->got) : QString());
    m_got->setVisible(any);
    m_how->setEnabled(any);
    m_how->setToolTip(any ? "Who decides on the joints of this face." : why);
    if (any)
        m_how->setCurrentIndex(m_how->findData(static_cast<int>(m_face->choice.how)));
    showKinds();
    showSizes();
    showFits();
    const bool chosen = any && m_face->choice.how == How::Automatic;
    for (QComboBox* wish : {m_kind, m_size}) // they count for nothing else
        m_form->setRowVisible(wish, !any || chosen);
    m_take->setVisible(chosen && !m_face->joints.empty());
    m_take->setToolTip("The joints stay where they are and become yours to move, change and remove.");
    showJoint();
}

/// Why there is nothing to wish for of what is chosen; empty when there is.
QString FaceEditor::whyNoWish() const
{
    return !m_face                                ? "Select a face first."
           : m_face->choice.how != How::Automatic ? "Counts only while the joints are chosen for you."
           : !m_part.options.wanted               ? "No joints are chosen while there are none for the whole part."
                                                  : QString();
}

/// What is chosen on the face; none: what suits it.
std::optional<core::JointForm::Kind> FaceEditor::kindWanted() const
{
    return m_face && m_face->choice.kind ? m_face->choice.kind : m_part.options.kind;
}

void FaceEditor::showKinds()
{
    const QString why = whyNoWish();
    m_kind->clear();
    m_kind->addItem("as the part: " + (m_part.options.kind ? kindsWords(*m_part.options.kind) : "as suits the face"));
    for (const core::JointForm::Kind kind : core::allJointKinds) {
        m_kind->addItem(kindsWords(kind));
        m_kind->setItemData(m_kind->count() - 1, kindHelp(kind), Qt::ToolTipRole);
        if (m_face && m_face->choice.kind == kind)
            m_kind->setCurrentIndex(m_kind->count() - 1);
    }
    m_kind->setEnabled(why.isEmpty());
    m_kind->setToolTip(why.isEmpty() ? "The kind of joint that is chosen for this face." : why);
}

void FaceEditor::showSizes()
{
    const QString why = whyNoWish();
    m_size->setEnabled(why.isEmpty());
    m_size->setToolTip(why.isEmpty() ? "Smaller ones are chosen where this one has no room." : why);
    m_size->clear();
    m_size->addItem("as the face asks");
    core::JointForm form;
    form.kind = kindWanted().value_or(core::JointForm::Kind::Dowel);
    const bool metric = form.kind == core::JointForm::Kind::DrawBolt;
    const auto words = [&](double mm) { return metric ? "M" + numberText(mm, 2) : numberText(mm, 2) + " mm"; };
    for (const double mm : core::sizesOf(form))
        m_size->addItem(words(mm), mm);
    if (!m_face || !m_face->choice.diameterMm)
        return;
    int at = m_size->findData(*m_face->choice.diameterMm);
    if (at < 0) { // a size of a design from elsewhere
        m_size->addItem(words(*m_face->choice.diameterMm), *m_face->choice.diameterMm);
        at = m_size->count() - 1;
    }
    m_size->setCurrentIndex(at);
}

void FaceEditor::showFits()
{
    const auto processes = processesOf(m_face.value_or(FaceRow{}));
    m_fit->clear();
    m_fit->addItem("as the part: " + fitWords(m_part.fit, m_part, processes));
    for (const core::Fit fit : fits)
        m_fit->addItem(fitWords(fit, m_part, processes));
    const bool can = m_face && m_face->choice.how != How::Plain;
    m_fit->setEnabled(can);
    m_fit->setToolTip(can       ? QString("Clearance between what goes in and its bore, for %1.").arg(m_part.material)
                      : !m_face ? "Select a face first."
                                : "A plain face has no joints to fit.");
    if (m_face && m_face->choice.fit)
        m_fit->setCurrentIndex(static_cast<int>(std::ranges::find(fits, *m_face->choice.fit) - fits.begin()) + 1);
}

int FaceEditor::jointCount() const
{
    if (!m_face)
        return 0;
    return static_cast<int>(m_face->choice.how == How::ByHand ? m_face->choice.joints.size() : m_face->joints.size());
}

QString FaceEditor::jointName(int joint) const
{
    return m_face->mark + QString::number(joint + 1);
}

std::optional<core::JointForm> FaceEditor::formOf(int joint) const
{
    const auto at = static_cast<std::size_t>(joint);
    if (m_face->choice.how == How::ByHand && at < m_face->choice.joints.size())
        return m_face->choice.joints[at];
    if (at < m_face->joints.size())
        return m_face->joints[at].joint;
    return std::nullopt;
}

QString FaceEditor::jointTitle(int joint) const
{
    const auto form = formOf(joint);
    return kindWords(form ? form->kind : core::JointForm::Kind::Dowel) + ' ' + jointName(joint);
}

void FaceEditor::changeEvent(QEvent* event)
{
    QWidget::changeEvent(event);
    if (event->type() == QEvent::PaletteChange && m_fault != nullptr)
        showFaults();
}

bool FaceEditor::canAdd() const
{
    return m_face.has_value();
}

bool FaceEditor::canRemove() const
{
    return m_face && m_joint >= 0;
}

void FaceEditor::showJoint()
{
    const bool hand = m_face && m_face->choice.how == How::ByHand;
    const bool any = m_face && m_joint >= 0;
    m_jointTitle->setVisible(any || (hand && jointCount() > 0));
    m_jointTitle->setText("Select a joint to change its numbers.");
    showFaults();
    const QString why = !m_face ? "Select a face first."
                        : !any  ? "Select a joint first, or add one."
                                : "This joint is chosen for you. Take it over by hand to change it.";
    const std::optional<core::JointForm> joint = any ? formOf(m_joint) : std::nullopt;
    if (any)
        m_jointTitle->setText(QString("<b>%1</b>").arg(sentenceCase(jointTitle(m_joint))) +
                              (hand ? "" : ", chosen for you"));
    m_editor->setVisible(any);
    m_editor->setJoint(joint, joint ? groundOf(*m_face, m_part.options.wallMm, joint->at) : JointGround{},
                       hand && any ? QString() : why);
    m_add->setEnabled(canAdd());
    m_add->setToolTip(canAdd() ? "One more joint, where this face has most room for it. In the view: Ctrl and click."
                               : "Select a face first.");
    m_next->setEnabled(canAdd());
    m_next->setToolTip(canAdd() ? "What the next joint shall be." : "Select a face first.");
    m_remove->setEnabled(canRemove());
    m_remove->setToolTip(canRemove() ? "Removes the selected joint; the others stay, by hand." : why);
}

/// Of the selected joint; of all of them while none is.
void FaceEditor::showFaults()
{
    Verdict worst = Verdict::Warning;
    QStringList faults;
    for (std::size_t i = 0; m_face && i < m_face->joints.size(); ++i) {
        const JointRow& row = m_face->joints[i];
        if (row.fault.isEmpty() || (m_joint >= 0 && static_cast<int>(i) != m_joint))
            continue;
        faults << asSentence(m_joint < 0 ? row.name + ": " + row.fault : row.fault);
        worst = row.impossible ? Verdict::Bad : worst;
    }
    m_fault->setVisible(!faults.isEmpty());
    m_fault->setText(faults.join('\n'));
    QPalette colours = palette();
    colours.setColor(QPalette::WindowText, verdictColour(worst, isDark(palette())));
    m_fault->setPalette(colours);
}

/// The choice with a place that finds its face again.
core::FaceChoice FaceEditor::placed() const
{
    core::FaceChoice choice = m_face->choice;
    if (!m_face->held)
        choice.at = core::placeOn(m_face->region);
    return choice;
}

/// The same face by hand, from the joints that it has now.
core::FaceChoice FaceEditor::byHand() const
{
    core::FaceChoice choice = placed();
    choice.how = How::ByHand;
    choice.joints.clear();
    for (const JointRow& row : m_face->joints)
        choice.joints.push_back(row.joint);
    return choice;
}

void FaceEditor::changeHow(How how)
{
    if (how == m_face->choice.how)
        return;
    core::FaceChoice choice = placed();
    // What was done by hand before is still there; else it starts from what was chosen.
    if (how == How::ByHand && choice.joints.empty())
        choice = byHand();
    choice.how = how;
    send(choice, QString("%1").arg(m_how->itemText(m_how->findData(static_cast<int>(how)))));
}

void FaceEditor::addJoint()
{
    if (!canAdd())
        return;
    const core::FaceChoice choice = m_face->choice.how == How::ByHand ? placed() : byHand();
    addJointAt(core::placeForAnother(m_face->region, choice.joints));
}

void FaceEditor::addJointAt(mesh::Vec2 at)
{
    if (!canAdd())
        return;
    using Kind = core::JointForm::Kind;
    core::FaceChoice choice = m_face->choice.how == How::ByHand ? placed() : byHand();
    const int wished = m_next->currentData().toInt();
    core::JointForm joint;
    if (wished >= 0 || choice.joints.empty()) {
        joint = core::jointFor(wished >= 0 ? static_cast<Kind>(wished) : kindWanted().value_or(Kind::Dowel), at,
                               groundOf(*m_face, m_part.options.wallMm, at).space);
        joint = core::keptOn(m_face->region, joint, m_part.options.wallMm);
    } else { // another of those that are there
        joint = choice.joints.back();
        joint.keyed = false;
        joint.at = at;
    }
    choice.joints.push_back(joint);
    send(choice, "Add " + kindWords(joint.kind));
    emit jointWanted(static_cast<int>(choice.joints.size()) - 1);
}

void FaceEditor::removeJoint()
{
    if (!canRemove())
        return;
    core::FaceChoice choice = m_face->choice.how == How::ByHand ? placed() : byHand();
    const QString name = jointTitle(m_joint);
    choice.joints.erase(choice.joints.begin() + m_joint);
    const int next = std::min(m_joint, static_cast<int>(choice.joints.size()) - 1);
    send(choice, "Remove " + name);
    emit jointWanted(next);
}

void FaceEditor::send(const core::FaceChoice& choice, const QString& what, const QString& mergeKey)
{
    // What comes next starts from this one, though its joints take a while to be worked out.
    m_face->choice = choice;
    m_face->held = true;
    emit choiceWanted(choice, QString("Face %1: %2").arg(m_face->mark, what),
                      mergeKey.isEmpty() ? mergeKey : QString("face %1 %2").arg(m_face->mark, mergeKey));
}

} // namespace quoin::ui

#include "moc_face_editor.cpp"
