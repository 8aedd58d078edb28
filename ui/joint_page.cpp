// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/joint_page.h"

#include "core/strength.h"

#include <QLabel>
#include <QScrollArea>
#include <QShortcut>
#include <QSignalBlocker>
#include <QTabWidget>
#include <QVBoxLayout>

namespace quoin::ui {

namespace {

constexpr double cautionShare = 0.9; ///< of the usual size of letters

/// In a low window the page is scrolled, in a narrow one too.
QScrollArea* scrolled(QWidget* panel, QWidget* parent)
{
    auto* area = new QScrollArea(parent);
    area->setWidgetResizable(true);
    area->setFrameShape(QFrame::NoFrame);
    area->setFocusPolicy(Qt::NoFocus); // it follows what is focused in it
    area->setWidget(panel);
    return area;
}

} // namespace

JointPage::JointPage(QWidget* joints, QWidget* strength, QWidget* order, QWidget* parent)
    : QWidget(parent), m_tabs(new QTabWidget(this))
{
    m_tabs->setDocumentMode(true);
    m_tabs->addTab(scrolled(joints, m_tabs), tr("Joints"));
    m_tabs->addTab(scrolled(strength, m_tabs), tr("Strength"));
    m_tabs->addTab(scrolled(order, m_tabs), tr("Order"));
    m_tabs->setTabToolTip(0, tr("Where the joints are and what they are, face by face"));
    m_tabs->setTabToolTip(1, tr("What the joints bear, as estimated, and the load that it is estimated for"));
    m_tabs->setTabToolTip(2, tr("In which order the pieces go together, step by step"));
    auto* caution = new QLabel(QString::fromStdString(core::strengthCaution()), this);
    caution->setWordWrap(true);
    caution->setAccessibleName(tr("Caution"));
    caution->setContentsMargins(6, 0, 6, 4);
    QFont small = caution->font();
    small.setPointSizeF(cautionShare * small.pointSizeF());
    caution->setFont(small);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(2);
    column->addWidget(m_tabs, 1);
    column->addWidget(caution);
    // From anywhere in the window while this step is shown; the tab bar's own keys need the focus.
    for (const auto& [keys, by] : {std::pair{QKeySequence::NextChild, 1}, {QKeySequence::PreviousChild, -1}})
        connect(new QShortcut(keys, this), &QShortcut::activated, this, [this, by = by] {
            m_tabs->setCurrentIndex((m_tabs->currentIndex() + by + m_tabs->count()) % m_tabs->count());
        });
    connect(m_tabs, &QTabWidget::currentChanged, this, [this](int at) { emit tabWanted(static_cast<JointTab>(at)); });
}

void JointPage::setTab(JointTab tab)
{
    const QSignalBlocker quiet(m_tabs);
    m_tabs->setCurrentIndex(static_cast<int>(tab));
}

JointTab JointPage::tab() const
{
    return static_cast<JointTab>(m_tabs->currentIndex());
}

} // namespace quoin::ui

#include "moc_joint_page.cpp"
