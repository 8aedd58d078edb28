// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/scale_panel.h"

#include "core/material.h"
#include "core/split_job.h"
#include "ui/calm_wheel.h"
#include "ui/length_edit.h"
#include "ui/quantity_text.h"

#include <QCheckBox>
#include <QComboBox>
#include <QFormLayout>
#include <QGridLayout>
#include <QGroupBox>
#include <QLabel>
#include <QPushButton>
#include <QToolButton>
#include <QVBoxLayout>

namespace quoin::ui {

namespace {

struct HandyHeight {
    const char* words;
    double heightMm;
};

/// Things that everyone has stood beside. Common practice, no source.
constexpr std::array<HandyHeight, 4> handyHeights{
    {{"a table, 0.75 m", 750}, {"a person, 1.75 m", 1750}, {"a door, 2 m", 2000}, {"a room, 2.5 m", 2500}}};

QLabel* wrapped(QWidget* parent)
{
    auto* label = new QLabel(parent);
    label->setWordWrap(true);
    label->setTextInteractionFlags(Qt::TextSelectableByMouse | Qt::TextSelectableByKeyboard);
    return label;
}

QString sentence(const std::string& line)
{
    QString text = QString::fromStdString(line);
    if (!text.isEmpty())
        text[0] = text[0].toUpper();
    text.replace("cm3", "cm³").replace("cm2", "cm²");
    return text + '.';
}

} // namespace

ScalePanel::ScalePanel(QWidget* parent) : QWidget(parent)
{
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(6, 6, 6, 6);
    m_title = wrapped(this);
    layout->addWidget(m_title);
    m_together = new QCheckBox(this);
    m_together->setChecked(true);
    m_together->hide();
    connect(m_together, &QCheckBox::toggled, this, &ScalePanel::showAll);
    layout->addWidget(m_together);
    layout->addWidget(buildSizes());
    layout->addWidget(buildHandy());
    layout->addWidget(buildLargest());
    buildEffects(*layout);
    calmWheel(*this);
    showAll();
}

QWidget* ScalePanel::buildSizes()
{
    auto* box = new QWidget(this);
    auto* form = new QFormLayout(box);
    form->setContentsMargins(0, 0, 0, 0);
    m_factor = new FactorEdit(box);
    m_factor->setAccessibleName("Scale factor");
    form->addRow("Sc&ale factor", m_factor);
    connectField(m_factor, -1);
    static constexpr std::array<const char*, 3> labels{"&Width (x)", "&Depth (y)", "Heigh&t (z)"};
    static constexpr std::array<const char*, 3> names{"Wanted width", "Wanted depth", "Wanted height"};
    for (int axis = 0; axis < 3; ++axis) {
        m_sides[axis] = new LengthEdit(box);
        m_sides[axis]->setAccessibleName(names[axis]);
        form->addRow(labels[axis], m_sides[axis]);
        connectField(m_sides[axis], axis);
    }
    return box;
}

QWidget* ScalePanel::buildHandy()
{
    m_handyBox = new QGroupBox("As tall as", this);
    QGroupBox* box = m_handyBox;
    auto* grid = new QGridLayout(box);
    for (const HandyHeight& handy : handyHeights) {
        auto* button = new QToolButton(box);
        button->setText(handy.words);
        button->setAccessibleName(QString("As tall as ") + handy.words);
        button->setFocusPolicy(Qt::StrongFocus);
        button->setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
        connect(button, &QToolButton::clicked, this, [this, &handy] {
            const double factor = handy.heightMm / tallAsReadMm();
            adopt(factor);
            emit scaleWanted(factor);
        });
        const int at = static_cast<int>(m_handy.size());
        grid->addWidget(button, at / 2, at % 2);
        m_handy.push_back(button);
    }
    return box;
}

QWidget* ScalePanel::buildLargest()
{
    auto* box = new QGroupBox("Largest in one piece", this);
    auto* row = new QHBoxLayout(box);
    m_bed = new QComboBox(box);
    m_bed->setAccessibleName("Bed");
    m_bed->setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
    m_largest = new QPushButton("&Largest", box);
    row->addWidget(m_bed, 1);
    row->addWidget(m_largest);
    connect(m_largest, &QPushButton::clicked, this, [this] { emit largestWanted(m_bed->currentIndex()); });
    return box;
}

void ScalePanel::buildEffects(QVBoxLayout& layout)
{
    // Straight into the panel: wrapped labels in nested boxes are not given the height that they need.
    auto* title = new QLabel("What it does", this);
    layout.addWidget(title);
    auto* sizes = new QFormLayout;
    m_before = new QLabel(this);
    m_after = new QLabel(this);
    QFont bold = m_after->font();
    bold.setBold(true);
    m_after->setFont(bold);
    sizes->addRow("As read", m_before);
    sizes->addRow("Then", m_after);
    layout.addLayout(sizes);
    m_wholeWords = wrapped(this);
    m_wholeWords->hide();
    layout.addWidget(m_wholeWords);
    m_effects = wrapped(this);
    m_effects->setAlignment(Qt::AlignTop | Qt::AlignLeft);
    m_effects->setAccessibleName("What scaling does");
    layout.addWidget(m_effects, 1);
}

void ScalePanel::connectField(NumberEdit* field, int axis)
{
    const auto factorOf = [this, axis](double value) {
        return axis < 0 ? value : value / m_subject->health.extentsMm[axis];
    };
    connect(field, &NumberEdit::liveEdited, this, [this, factorOf](double value) {
        if (!m_subject)
            return;
        adopt(factorOf(value));
        emit scaleLive(m_subject->factor);
    });
    connect(field, &NumberEdit::edited, this, [this, factorOf](double value) {
        if (!m_subject)
            return;
        adopt(factorOf(value));
        emit scaleWanted(m_subject->factor);
    });
}

void ScalePanel::setSubject(std::optional<ScaleSubject> subject)
{
    m_subject = std::move(subject);
    showAll();
}

void ScalePanel::setBeds(const std::vector<core::Bed>& beds)
{
    const QString was = m_bed->currentText();
    m_bed->clear();
    for (const core::Bed& bed : beds) {
        const QString name = QString::fromStdString(bed.name), size = QString::fromStdString(core::sizeWords(bed));
        m_bed->addItem(name == size ? size + " mm" : name + ", " + size + " mm");
    }
    m_bed->setCurrentIndex(std::max(0, m_bed->findText(was)));
    showLargest();
}

void ScalePanel::setOthers(int parts, int alike)
{
    m_together->setVisible(parts > 1);
    m_together->setEnabled(alike > 1);
    m_together->setText(alike == parts ? tr("All %1 parts to&gether").arg(parts)
                                       : tr("The %1 parts of this scale to&gether").arg(alike));
    m_together->setToolTip(alike > 1 ? tr("Parts that fit each other stay so: their scale changes together")
                                     : tr("Not now: no other part has this scale"));
}

bool ScalePanel::together() const
{
    return m_together->isVisibleTo(this) && m_together->isEnabled() && m_together->isChecked();
}

void ScalePanel::setUnit(mesh::Unit unit)
{
    m_unit = unit;
    setLengthUnit(*this, unit);
    showAll();
}

void ScalePanel::setSearching(bool searching)
{
    m_searching = searching;
    showLargest();
}

void ScalePanel::adopt(double factor)
{
    m_subject->factor = factor;
    showFields();
    showEffects();
}

void ScalePanel::showAll()
{
    m_title->setText(m_subject ? QString("Scale of <b>%1</b>").arg(m_subject->name.toHtmlEscaped())
                               : QString("Select a part to scale it."));
    showFields();
    showEffects();
    showLargest();
}

void ScalePanel::showFields()
{
    const QString why = "Select a part first.";
    m_factor->setEnabled(m_subject.has_value());
    if (m_subject)
        m_factor->setValue(m_subject->factor);
    m_factor->setHelp(
        m_subject ? "How many times as large as the model was read: 8, 8x, 800 % or 8:1. Up and Down step." : why);
    for (int axis = 0; axis < 3; ++axis) {
        LengthEdit& side = *m_sides[axis];
        const double asRead = m_subject ? m_subject->health.extentsMm[axis] : 0;
        side.setEnabled(asRead > 0);
        side.setHelp(asRead > 0  ? "The size wanted, such as 1.8 m; the other two sides follow. Up and Down step."
                     : m_subject ? "The model has no size this way."
                                 : why);
        if (asRead > 0) {
            side.setRange(m_factor->least() * asRead, m_factor->most() * asRead);
            side.setValue(m_subject->factor * asRead);
        }
    }
    showHandy();
}

double ScalePanel::tallAsReadMm() const
{
    return !m_subject ? 0 : m_whole && together() ? m_whole->z : m_subject->health.extentsMm.z;
}

void ScalePanel::showHandy()
{
    const bool whole = m_whole && together(), tall = tallAsReadMm() > 0;
    m_handyBox->setTitle(whole ? "The whole sculpture as tall as" : "As tall as");
    for (QToolButton* button : m_handy) {
        button->setEnabled(tall);
        button->setToolTip(!m_subject ? "Select a part first."
                           : !tall    ? "The model has no height."
                           : whole    ? "Scale all parts so that together they stand this tall."
                                      : "Scale the part so that it becomes this tall.");
    }
    m_wholeWords->setVisible(whole);
    if (whole)
        m_wholeWords->setText(
            QString("Together the parts make %1.").arg(extentsText(m_subject->factor * *m_whole, m_unit)));
}

void ScalePanel::setWhole(std::optional<mesh::Vec3> extentsMm)
{
    m_whole = extentsMm;
    showHandy();
}

void ScalePanel::showEffects()
{
    m_lines.clear();
    if (m_subject) {
        const mesh::Health& before = m_subject->health;
        const double f = m_subject->factor;
        m_before->setText(extentsText(before.extentsMm, m_unit));
        m_after->setText(extentsText(f * before.extentsMm, m_unit));
        for (const std::string& line : core::scalingLines(f, before))
            if (!line.starts_with("scale ") && !line.starts_with("size kept")) // that stands above
                m_lines << sentence(line);
        if (const core::Material* material = core::findMaterial(m_subject->material.toStdString())) {
            const double grams = before.volumeMm3 / 1000 * material->densityGPerCm3;
            m_lines << (f == 1 ? QString("Solid in %1 it weighs %2; printed hollow it weighs less.")
                                     .arg(m_subject->material, massText(grams))
                               : QString("Solid in %1, %2 become %3; printed hollow it weighs less.")
                                     .arg(m_subject->material, massText(grams), massText(f * f * f * grams)));
        }
    } else {
        m_before->clear();
        m_after->clear();
    }
    QString list;
    for (const QString& line : m_lines)
        list += "<p style='margin-top:0; margin-bottom:4px'>" + line.toHtmlEscaped() + "</p>";
    m_effects->setText(list);
}

void ScalePanel::showLargest()
{
    const bool beds = m_bed->count() > 0;
    m_bed->setEnabled(beds && m_subject && !m_searching);
    m_largest->setEnabled(m_bed->isEnabled());
    m_largest->setText(m_searching ? "Searching…" : "&Largest");
    const QString tip = m_searching  ? "The largest scale is being worked out."
                        : !m_subject ? "Select a part first."
                        : !beds      ? "There is no bed yet. Add one first."
                                     : "Scale the part as large as this bed takes it without a cut.";
    m_largest->setToolTip(tip);
    m_bed->setToolTip(tip);
}

} // namespace quoin::ui

#include "moc_scale_panel.cpp"
