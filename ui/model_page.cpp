// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/model_page.h"

#include <QComboBox>
#include <QLabel>
#include <QLocale>
#include <QVBoxLayout>

#include <algorithm>
#include <array>

namespace quoin::ui {

namespace {

constexpr std::array units{mesh::Unit::Micron, mesh::Unit::Millimetre, mesh::Unit::Centimetre,
                           mesh::Unit::Metre,  mesh::Unit::Inch,       mesh::Unit::Foot};

constexpr double smallMm = 5, largeMm = 5000; ///< models that fit a hand lie between; common practice, no source

QLabel* textLabel(QWidget* parent)
{
    auto* label = new QLabel(parent);
    label->setWordWrap(true);
    label->setTextInteractionFlags(Qt::TextSelectableByMouse | Qt::TextSelectableByKeyboard);
    label->setTextFormat(Qt::PlainText);
    return label;
}

QString facts(const core::PartDesign& part)
{
    const mesh::Vec3 e = core::scaledBounds(part).extents() / part.scale;
    const double largest = std::max({e.x, e.y, e.z});
    const QString doubt = largest < smallMm   ? QObject::tr("\nVery small for a model: is the file of another unit?")
                          : largest > largeMm ? QObject::tr("\nVery large for a model: is the file of another unit?")
                                              : QString();
    return QObject::tr("From: %1\nSize as read: %2 × %3 × %4 mm\n%5 triangles")
               .arg(QString::fromStdString(part.sourceFile))
               .arg(e.x, 0, 'f', 2)
               .arg(e.y, 0, 'f', 2)
               .arg(e.z, 0, 'f', 2)
               .arg(QLocale().toString(static_cast<qulonglong>(part.source->triangles.size()))) +
           doubt;
}

QString healthWords(const mesh::Health& health)
{
    const auto bodies = static_cast<qulonglong>(health.bodies.size());
    QString text = QObject::tr("Volume %1 cm³, surface %2 cm²; %3.")
                       .arg(health.volumeMm3 / 1e3, 0, 'g', 4)
                       .arg(health.areaMm2 / 1e2, 0, 'g', 4)
                       .arg(bodies == 1 ? QObject::tr("1 body") : QObject::tr("%1 bodies").arg(bodies));
    for (const Note& note : health.notes) {
        QString line = QString::fromStdString(note.text);
        if (!line.isEmpty())
            line[0] = line[0].toUpper();
        text += QStringLiteral("\n%1%2.").arg(
            line, note.place.empty() ? QString() : QObject::tr(" at %1").arg(QString::fromStdString(note.place)));
    }
    return text;
}

} // namespace

ModelPage::ModelPage(QWidget* parent) : QWidget(parent)
{
    auto* layout = new QVBoxLayout(this);
    m_name = textLabel(this);
    QFont large = m_name->font();
    large.setBold(true);
    m_name->setFont(large);
    m_facts = textLabel(this);
    auto* unitRow = new QHBoxLayout;
    auto* unitLabel = new QLabel(tr("&Unit of the file"), this);
    m_unit = new QComboBox(this);
    m_unit->setObjectName(QStringLiteral("sourceUnit"));
    m_unit->setToolTip(tr("What a 1 in the file means: most files don't say. Another unit makes the model larger or "
                          "smaller, and its cuts with it"));
    for (const mesh::Unit unit : units)
        m_unit->addItem(QString::fromStdString(mesh::unitName(unit)), static_cast<int>(unit));
    unitLabel->setBuddy(m_unit);
    unitRow->addWidget(unitLabel);
    unitRow->addWidget(m_unit, 1);
    connect(m_unit, &QComboBox::activated, this,
            [this] { emit unitWanted(static_cast<mesh::Unit>(m_unit->currentData().toInt())); });
    m_health = textLabel(this);
    m_repairs = textLabel(this);
    layout->addWidget(m_name);
    layout->addWidget(m_facts);
    layout->addLayout(unitRow);
    layout->addWidget(m_health);
    layout->addWidget(m_repairs);
    layout->addStretch();
}

void ModelPage::show(const core::PartDesign* part, const mesh::Health* health)
{
    m_name->setText(part != nullptr ? QString::fromStdString(part->name) : tr("No part is selected"));
    m_unit->setEnabled(part != nullptr);
    if (part != nullptr)
        m_unit->setCurrentIndex(m_unit->findData(static_cast<int>(part->sourceUnit)));
    m_facts->setText(part != nullptr ? facts(*part) : QString());
    m_health->setText(part == nullptr     ? QString()
                      : health != nullptr ? tr("Closed, oriented and free of self-intersections: fit to be cut.\n") +
                                                healthWords(*health)
                                          : tr("Walls are being looked at."));
    QString repairs;
    if (part != nullptr)
        for (const std::string& repair : part->repairs)
            repairs += tr("\nmended: %1").arg(QString::fromStdString(repair));
    m_repairs->setText(repairs.trimmed());
    m_repairs->setVisible(!repairs.isEmpty());
}

} // namespace quoin::ui
