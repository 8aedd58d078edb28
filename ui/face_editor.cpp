// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/face_editor.h"

#include "core/face_choice.h"
#include "core/joint_rules.h"
#include "ui/dowel_editor.h"
#include "ui/joint_words.h"
#include "ui/quantity_text.h"

#include <QComboBox>
#include <QEvent>
#include <QFormLayout>
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

DowelGround groundOf(const mesh::Region& region)
{
    DowelGround ground{{1e300, 1e300}, {-1e300, -1e300}};
    for (const mesh::Loop& loop : region)
        for (const mesh::Vec2 p : loop) {
            ground.low = {std::min(ground.low.x, p.x), std::min(ground.low.y, p.y)};
            ground.high = {std::max(ground.high.x, p.x), std::max(ground.high.y, p.y)};
        }
    return ground;
}

} // namespace

FaceEditor::FaceEditor(QWidget* parent) : QWidget(parent)
{
    m_title = wrapped(this);
    m_got = wrapped(this);
    m_got->setAccessibleName("What the face got");
    buildHow();
    m_dowelTitle = wrapped(this);
    m_fault = wrapped(this);
    m_fault->setAccessibleName("Rule that the dowel breaks");
    m_dowel = new DowelEditor(this);
    m_add = new QPushButton("Add d&owel", this);
    m_remove = new QPushButton("&Remove dowel", this);
    connect(m_add, &QPushButton::clicked, this, &FaceEditor::addDowel);
    connect(m_remove, &QPushButton::clicked, this, &FaceEditor::removeDowel);
    connect(m_dowel, &DowelEditor::live, this, [this](const core::JointForm& dowel) {
        core::FaceChoice choice = placed();
        choice.joints[static_cast<std::size_t>(m_joint)] = dowel;
        emit choiceLive(choice);
    });
    connect(m_dowel, &DowelEditor::wanted, this, [this](const core::JointForm& dowel, const QString& what) {
        core::FaceChoice choice = placed();
        choice.joints[static_cast<std::size_t>(m_joint)] = dowel;
        const QString name = dowelName(m_joint);
        send(choice, QString("Change %1 of dowel %2").arg(what, name), QString("dowel %1 %2").arg(name, what));
    });
    auto* form = new QFormLayout;
    form->addRow("Ho&w", m_how);
    form->addRow("Lar&gest dowel", m_size);
    form->addRow("Fi&t", m_fit);
    auto* buttons = new QHBoxLayout;
    buttons->addWidget(m_add);
    buttons->addWidget(m_remove);
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->addWidget(m_title);
    layout->addWidget(m_got);
    layout->addLayout(form);
    layout->addWidget(m_take);
    layout->addWidget(m_dowelTitle);
    layout->addWidget(m_fault);
    layout->addWidget(m_dowel);
    layout->addLayout(buttons);
    showFace();
}

void FaceEditor::buildHow()
{
    m_how = choiceBox(this, "How the face is jointed");
    m_how->addItem("chosen for me", static_cast<int>(How::Automatic));
    m_how->addItem("by hand", static_cast<int>(How::ByHand));
    m_how->addItem("plain, glue", static_cast<int>(How::Plain));
    m_how->setItemData(0, "Dowels as large and as far apart as the room allows.", Qt::ToolTipRole);
    m_how->setItemData(1, "Dowels of your own sizes, where you put them.", Qt::ToolTipRole);
    m_how->setItemData(2, "No dowels: a flat face to be glued.", Qt::ToolTipRole);
    connect(m_how, &QComboBox::activated, this,
            [this](int at) { changeHow(static_cast<How>(m_how->itemData(at).toInt())); });
    m_size = choiceBox(this, "Largest dowel");
    m_size->addItem("as the face asks");
    for (const double d : core::dowelSeriesMm)
        m_size->addItem(QString("%1 mm").arg(d), d);
    connect(m_size, &QComboBox::activated, this, [this](int at) {
        core::FaceChoice choice = placed();
        choice.diameterMm = at == 0 ? std::nullopt : std::optional(m_size->itemData(at).toDouble());
        send(choice, "Largest dowel");
    });
    m_fit = choiceBox(this, "Fit of the dowels");
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
    m_part = {{}, part.options, part.fit, part.material};
    m_joint = joint;
    if (m_joint >= dowelCount())
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
    m_got->setText(any ? sentenceCase(m_face->got) + '.' : QString());
    m_got->setVisible(any);
    m_how->setEnabled(any);
    m_how->setToolTip(any ? "Who decides on the dowels of this face." : why);
    if (any)
        m_how->setCurrentIndex(m_how->findData(static_cast<int>(m_face->choice.how)));
    showSizes();
    showFits();
    const bool chosen = any && m_face->choice.how == How::Automatic;
    m_take->setVisible(chosen && !m_face->joints.empty());
    m_take->setToolTip("The dowels stay where they are and become yours to move, resize and remove.");
    showDowel();
}

void FaceEditor::showSizes()
{
    const bool can = m_face && m_face->choice.how == How::Automatic && m_part.options.wanted;
    m_size->setEnabled(can);
    m_size->setToolTip(can       ? "Thinner dowels are chosen where this one has no room."
                       : !m_face ? "Select a face first."
                       : m_face->choice.how == How::Automatic
                           ? "No dowels are chosen while they are off for the whole part."
                           : "Counts only while the dowels are chosen for you.");
    int at = 0;
    if (m_face && m_face->choice.diameterMm) {
        at = m_size->findData(*m_face->choice.diameterMm);
        if (at < 0) { // a size of a design from elsewhere
            m_size->addItem(QString("%1 mm").arg(numberText(*m_face->choice.diameterMm, 2)),
                            *m_face->choice.diameterMm);
            at = m_size->count() - 1;
        }
    }
    m_size->setCurrentIndex(at);
}

void FaceEditor::showFits()
{
    m_fit->clear();
    m_fit->addItem("as the part: " + fitWords(m_part.fit, m_part.material));
    for (const core::Fit fit : fits)
        m_fit->addItem(fitWords(fit, m_part.material));
    const bool can = m_face && m_face->choice.how != How::Plain;
    m_fit->setEnabled(can);
    m_fit->setToolTip(can       ? QString("Clearance between dowel and bore, for %1.").arg(m_part.material)
                      : !m_face ? "Select a face first."
                                : "A plain face has no dowels to fit.");
    if (m_face && m_face->choice.fit)
        m_fit->setCurrentIndex(static_cast<int>(std::ranges::find(fits, *m_face->choice.fit) - fits.begin()) + 1);
}

int FaceEditor::dowelCount() const
{
    if (!m_face)
        return 0;
    return static_cast<int>(m_face->choice.how == How::ByHand ? m_face->choice.joints.size() : m_face->joints.size());
}

QString FaceEditor::dowelName(int joint) const
{
    return m_face->mark + QString::number(joint + 1);
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

void FaceEditor::showDowel()
{
    const bool hand = m_face && m_face->choice.how == How::ByHand;
    const bool any = m_face && m_joint >= 0;
    m_dowelTitle->setVisible(any || (hand && dowelCount() > 0));
    m_dowelTitle->setText("Select a dowel to change its numbers.");
    showFaults();
    const QString why = !m_face ? "Select a face first."
                        : !any  ? "Select a dowel first, or add one."
                                : "This dowel is chosen for you. Take it over by hand to change it.";
    std::optional<core::JointForm> dowel;
    if (any) {
        const auto at = static_cast<std::size_t>(m_joint);
        m_dowelTitle->setText(QString("<b>Dowel %1</b>").arg(dowelName(m_joint)) + (hand ? "" : ", chosen for you"));
        if (hand)
            dowel = m_face->choice.joints[at];
        else if (at < m_face->joints.size()) {
            const core::Joint& got = m_face->joints[at].joint;
            dowel = got;
        }
    }
    m_dowel->setVisible(any);
    m_dowel->setDowel(dowel, m_face ? groundOf(m_face->region) : DowelGround{}, hand && any ? QString() : why);
    m_add->setEnabled(canAdd());
    m_add->setToolTip(canAdd() ? "One more dowel, where this face has most room for it." : "Select a face first.");
    m_remove->setEnabled(canRemove());
    m_remove->setToolTip(canRemove() ? "Removes the selected dowel; the others stay, by hand." : why);
}

/// Of the selected dowel; of all of them while none is.
void FaceEditor::showFaults()
{
    Verdict worst = Verdict::Warning;
    QStringList faults;
    for (std::size_t i = 0; m_face && i < m_face->joints.size(); ++i) {
        const JointRow& row = m_face->joints[i];
        if (row.fault.isEmpty() || (m_joint >= 0 && static_cast<int>(i) != m_joint))
            continue;
        faults << (m_joint < 0 ? row.name + ": " + row.fault : sentenceCase(row.fault)) + '.';
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

/// The same face by hand, from the dowels that it has now.
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

void FaceEditor::addDowel()
{
    if (!canAdd())
        return;
    core::FaceChoice choice = m_face->choice.how == How::ByHand ? placed() : byHand();
    core::JointForm dowel;
    if (!choice.joints.empty()) {
        dowel = choice.joints.back();
        dowel.keyed = false;
    }
    dowel.at = core::placeForAnother(m_face->region, choice.joints);
    choice.joints.push_back(dowel);
    send(choice, "Add dowel");
    emit jointWanted(static_cast<int>(choice.joints.size()) - 1);
}

void FaceEditor::removeDowel()
{
    if (!canRemove())
        return;
    core::FaceChoice choice = m_face->choice.how == How::ByHand ? placed() : byHand();
    const QString name = dowelName(m_joint);
    choice.joints.erase(choice.joints.begin() + m_joint);
    const int next = std::min(m_joint, static_cast<int>(choice.joints.size()) - 1);
    send(choice, "Remove dowel " + name);
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
