// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/joints_panel.h"

#include "core/face_choice.h"
#include "ui/calm_wheel.h"
#include "ui/face_editor.h"
#include "ui/joint_options_editor.h"
#include "ui/joint_words.h"
#include "ui/problem_line.h"
#include "ui/quantity_text.h"
#include "ui/verdict_mark.h"

#include <QAction>
#include <QCheckBox>
#include <QGroupBox>
#include <QHeaderView>
#include <QLabel>
#include <QScopedValueRollback>
#include <QScrollArea>
#include <QSplitter>
#include <QTreeWidget>
#include <QVBoxLayout>

#include <algorithm>

namespace quoin::ui {

namespace {

enum Column { FaceColumn, JointColumn, SafetyColumn, StateColumn, columnCount };

constexpr int leastRows = 6;
constexpr int listShare = 400, editorShare = 600; ///< of the height, to begin with
constexpr int seamRole = Qt::UserRole;
constexpr int jointRole = Qt::UserRole + 1;

void setState(QTreeWidgetItem* item, const StandingWords& words)
{
    item->setIcon(StateColumn, verdictIcon(words.verdict));
    item->setText(StateColumn, words.brief);
    item->setToolTip(StateColumn, words.whole);
}

} // namespace

JointsPanel::JointsPanel(QWidget* parent) : QWidget(parent)
{
    buildTree();
    m_empty = new QLabel(this);
    m_empty->setWordWrap(true);
    m_empty->setAlignment(Qt::AlignCenter);
    m_empty->setMargin(12);
    m_totals = new QLabel(this);
    m_totals->setWordWrap(true);
    m_totals->setAccessibleName("Joints in all");
    m_problem = new ProblemLine("jointsProblem", this);
    m_onlyTrouble = new QCheckBox("Onl&y faces that need a look", this);
    m_onlyTrouble->setToolTip("Hides faces whose joints keep all rules, and those that are plain by choice.");
    connect(m_onlyTrouble, &QCheckBox::toggled, this, &JointsPanel::rebuild);
    m_face = new FaceEditor(this);
    m_options = new JointOptionsEditor(this);
    buildActions();

    auto* all = new QGroupBox("The whole part", this);
    auto* inAll = new QVBoxLayout(all);
    inAll->addWidget(m_options);
    auto* below = new QWidget(this);
    auto* editors = new QVBoxLayout(below);
    editors->setContentsMargins(0, 0, 4, 0);
    editors->addWidget(m_face);
    editors->addWidget(all);
    editors->addStretch();
    auto* scroll = new QScrollArea(this);
    scroll->setFocusPolicy(Qt::NoFocus);
    scroll->setWidgetResizable(true);
    scroll->setFrameShape(QFrame::NoFrame);
    scroll->setWidget(below);
    scroll->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    scroll->setMinimumWidth(below->minimumSizeHint().width() + 16);
    auto* above = new QWidget(this);
    auto* list = new QVBoxLayout(above);
    list->setContentsMargins(0, 0, 0, 0);
    list->addWidget(m_tree, 1);
    list->addWidget(m_empty, 1);
    list->addWidget(m_problem);
    list->addWidget(m_totals);
    list->addWidget(m_onlyTrouble);
    auto* split = new QSplitter(Qt::Vertical, this);
    split->addWidget(above);
    split->addWidget(scroll);
    split->setStretchFactor(0, 2);
    split->setStretchFactor(1, 3);
    split->setChildrenCollapsible(false);
    split->setSizes({listShare, editorShare});
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(6, 6, 6, 6);
    layout->addWidget(split);

    connect(m_face, &FaceEditor::choiceLive, this, &JointsPanel::faceChoiceLive);
    connect(m_face, &FaceEditor::choiceWanted, this,
            [this](const core::FaceChoice& choice, const QString& name, const QString& mergeKey) {
                FaceRow& row = m_joints.faces[static_cast<std::size_t>(m_seam)];
                row.choice = choice;
                row.held = true;
                emit faceChoiceWanted(choice, name, mergeKey);
                showSelected();
            });
    connect(m_face, &FaceEditor::jointWanted, this, [this](int joint) {
        // The list may show it only once the face has been worked out anew.
        m_joint = joint;
        select(m_seam, joint);
        emit selected(m_seam, joint);
    });
    connect(m_options, &JointOptionsEditor::optionsWanted, this, &JointsPanel::optionsWanted);
    connect(m_options, &JointOptionsEditor::fitsWanted, this, &JointsPanel::fitsWanted);
    calmWheel(*this);
    setWhyNone("No part yet.");
}

void JointsPanel::buildTree()
{
    m_tree = new QTreeWidget(this);
    m_tree->setColumnCount(columnCount);
    m_tree->setHeaderLabels({"Face, pieces", "Joints", "Safety", "State"});
    m_tree->headerItem()->setToolTip(FaceColumn, "The mating mark of a face and the pieces that meet there.");
    m_tree->headerItem()->setToolTip(
        JointColumn, "Joints of a face, or its area while it has none; size, depth and fit of a joint.");
    m_tree->headerItem()->setToolTip(SafetyColumn,
                                     "How many times what hangs on a face its weakest check bears, as estimated.");
    m_tree->header()->setSectionResizeMode(QHeaderView::ResizeToContents);
    // In a narrow window sizes are cut short before anything is said less of what is wrong.
    m_tree->header()->setSectionResizeMode(JointColumn, QHeaderView::Stretch);
    m_tree->header()->setStretchLastSection(false);
    m_tree->setUniformRowHeights(true);
    m_tree->setMinimumHeight(leastRows * fontMetrics().height() * 3 / 2);
    m_tree->setIndentation(fontMetrics().height());
    m_tree->setAllColumnsShowFocus(true);
    m_tree->setContextMenuPolicy(Qt::ActionsContextMenu);
    m_tree->setTabKeyNavigation(false);
    m_tree->setAccessibleName("Joints by face");
    connect(m_tree, &QTreeWidget::itemSelectionChanged, this, [this] {
        if (m_quiet)
            return;
        const auto items = m_tree->selectedItems();
        m_seam = items.isEmpty() ? -1 : items.front()->data(FaceColumn, seamRole).toInt();
        m_joint = items.isEmpty() ? -1 : items.front()->data(FaceColumn, jointRole).toInt();
        showSelected();
        emit selected(m_seam, m_joint);
    });
}

void JointsPanel::buildActions()
{
    m_add = new QAction("&Add joint", this);
    m_add->setShortcut(Qt::Key_Insert);
    m_remove = new QAction("&Remove joint", this);
    m_remove->setShortcut(Qt::Key_Delete);
    for (QAction* action : {m_add, m_remove}) {
        action->setShortcutContext(Qt::WidgetShortcut);
        m_tree->addAction(action);
    }
    connect(m_add, &QAction::triggered, m_face, &FaceEditor::addJoint);
    connect(m_remove, &QAction::triggered, m_face, &FaceEditor::removeJoint);
}

const FaceRow* JointsPanel::rowOf(int seam) const
{
    return seam >= 0 && seam < static_cast<int>(m_joints.faces.size()) ? &m_joints.faces[static_cast<std::size_t>(seam)]
                                                                       : nullptr;
}

/// The face of the new list that an earlier one has become; -1 when it is gone.
int JointsPanel::faceLike(const FaceRow& before) const
{
    const mesh::Vec2 at = before.held              ? before.choice.at
                          : !before.joints.empty() ? before.joints.front().joint.at
                                                   : core::placeOn(before.region);
    for (const FaceRow& face : m_joints.faces)
        if (face.choice.cut == before.choice.cut && mesh::contains(face.region, at))
            return static_cast<int>(face.seam);
    return -1;
}

void JointsPanel::setJoints(PartJoints joints)
{
    std::optional<FaceRow> before;
    if (const FaceRow* row = rowOf(m_seam))
        before = *row;
    m_joints = std::move(joints);
    m_seam = before ? faceLike(*before) : -1;
    if (m_seam < 0)
        m_joint = -1;
    setWhyNone(m_joints.faces.empty() ? "This part is in one piece: it has no faces to joint." : "");
    m_options->setOptions(m_joints);
    rebuild();
}

void JointsPanel::setWhyNone(const QString& why)
{
    m_whyNone = why;
    m_empty->setText(why);
    m_empty->setVisible(!why.isEmpty());
    m_tree->setVisible(why.isEmpty());
    if (!why.isEmpty() && !m_joints.faces.empty()) {
        m_joints.faces.clear();
        m_seam = m_joint = -1;
        rebuild();
    }
    showSelected();
    showTotals();
}

void JointsPanel::setProblem(const QString& words)
{
    m_problem->showWords(words);
}

void JointsPanel::rebuild()
{
    {
        const QScopedValueRollback quiet(m_quiet, true);
        m_tree->clear();
        QList<QTreeWidgetItem*> items;
        for (const FaceRow& face : m_joints.faces) {
            const Verdict verdict = standingOf(face, m_joints.options).verdict;
            if (m_onlyTrouble->isChecked() && (verdict == Verdict::Good || verdict == Verdict::None))
                continue;
            auto* item = new QTreeWidgetItem;
            showFace(item, face);
            items << item;
        }
        m_tree->addTopLevelItems(items);
        m_tree->expandAll();
    }
    select(m_seam, m_joint);
    showTotals();
}

void JointsPanel::showFace(QTreeWidgetItem* item, const FaceRow& face)
{
    item->setText(FaceColumn, QString("%1,  %2").arg(face.mark, piecesWords(face)));
    item->setToolTip(
        FaceColumn,
        QString("Face %1 between pieces %2 and %3").arg(face.mark).arg(face.pieceBelow).arg(face.pieceAbove));
    item->setText(JointColumn, face.joints.empty() ? areaText(face.areaMm2) : countWords(face));
    item->setToolTip(JointColumn,
                     QString("%1, on a face of %2")
                         .arg(face.joints.empty() ? QString("no joint") : countWords(face), areaText(face.areaMm2)));
    item->setData(FaceColumn, seamRole, static_cast<int>(face.seam));
    item->setData(FaceColumn, jointRole, -1);
    const core::Fit fit = fitOf(face, m_joints);
    showSafety(item, face);
    setState(item, standingOf(face, m_joints.options));
    for (std::size_t j = 0; j < face.joints.size(); ++j) {
        const JointRow& row = face.joints[j];
        auto* child = new QTreeWidgetItem(item);
        child->setText(FaceColumn, row.name + ' ' + kindWords(row.joint));
        const QString fitted = QString::fromStdString(core::fitName(fit));
        child->setText(JointColumn, sizeWords(row.joint) + ", " + fitted);
        child->setToolTip(
            JointColumn,
            QString("%1; %2, %3 mm a side").arg(sizeHelp(row.joint), fitted, numberText(row.joint.clearanceMm, 3, 2)));
        child->setData(FaceColumn, seamRole, static_cast<int>(face.seam));
        child->setData(FaceColumn, jointRole, static_cast<int>(j));
        setState(child, standingOf(row));
    }
}

void JointsPanel::showSafety(QTreeWidgetItem* item, const FaceRow& face)
{
    item->setText(SafetyColumn, face.strength ? safetyText(face.strength->safety) : QString());
    item->setTextAlignment(SafetyColumn, Qt::AlignRight | Qt::AlignVCenter);
    item->setToolTip(SafetyColumn, face.strength ? sentenceCase(face.strength->words) + ".\n" +
                                                       QString::fromStdString(core::strengthCaution())
                                                 : "Not reckoned yet, or nothing hangs on this face.");
}

void JointsPanel::setStrength(const std::vector<std::optional<FaceStrength>>& strength)
{
    for (FaceRow& face : m_joints.faces)
        face.strength = face.seam < strength.size() ? strength[face.seam] : std::nullopt;
    rebuild();
}

void JointsPanel::select(int seam, int joint)
{
    const QScopedValueRollback quiet(m_quiet, true);
    m_seam = rowOf(seam) != nullptr ? seam : -1;
    m_joint = m_seam >= 0 ? joint : -1;
    m_tree->setCurrentItem(nullptr);
    m_tree->clearSelection();
    for (int i = 0; i < m_tree->topLevelItemCount(); ++i) {
        QTreeWidgetItem* item = m_tree->topLevelItem(i);
        if (item->data(FaceColumn, seamRole).toInt() != m_seam)
            continue;
        QTreeWidgetItem* chosen = m_joint >= 0 && m_joint < item->childCount() ? item->child(m_joint) : item;
        m_tree->setCurrentItem(chosen);
        m_tree->scrollToItem(chosen);
    }
    showSelected();
}

void JointsPanel::addJoint(std::optional<mesh::Vec2> at)
{
    if (at)
        m_face->addJointAt(*at);
    else
        m_face->addJoint();
}

void JointsPanel::removeJoint()
{
    m_face->removeJoint();
}

int JointsPanel::selectedSeam() const
{
    return m_seam;
}

int JointsPanel::selectedJoint() const
{
    return m_joint;
}

void JointsPanel::showSelected()
{
    const FaceRow* row = rowOf(m_seam);
    m_face->setFace(row != nullptr ? std::optional(*row) : std::nullopt, m_joint, m_joints);
    m_add->setEnabled(m_face->canAdd());
    m_remove->setEnabled(m_face->canRemove());
}

void JointsPanel::showTotals()
{
    std::size_t joints = 0, look = 0;
    for (const FaceRow& face : m_joints.faces) {
        joints += face.joints.size();
        const Verdict verdict = standingOf(face, m_joints.options).verdict;
        look += verdict == Verdict::Warning || verdict == Verdict::Bad;
    }
    const auto count = [](std::size_t n, const char* one, const char* more) {
        return QString("%1 %2").arg(n).arg(n == 1 ? one : more);
    };
    QString words = count(m_joints.faces.size(), "face", "faces") + ", " + count(joints, "joint", "joints");
    if (look > 0)
        words += QString(", %1 a look").arg(count(look, "face needs", "faces need"));
    m_totals->setText(words);
    m_totals->setVisible(!m_joints.faces.empty());
    m_onlyTrouble->setVisible(!m_joints.faces.empty());
    m_onlyTrouble->setEnabled(look > 0 || m_onlyTrouble->isChecked());
}

} // namespace quoin::ui

#include "moc_joints_panel.cpp"
