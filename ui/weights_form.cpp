// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/weights_form.h"

#include "core/suggest.h"

#include <QComboBox>
#include <QDoubleSpinBox>
#include <QFormLayout>
#include <QLabel>
#include <QScopedValueRollback>
#include <QSpinBox>
#include <QToolButton>

#include <algorithm>

namespace quoin::ui {

namespace {

constexpr double mostWeight = 100, weightStep = 0.25;

/// Of a preference's words: the first letter large.
QString title(const char* name)
{
    QString words = QString::fromLatin1(name);
    words[0] = words[0].toUpper();
    return words;
}

} // namespace

WeightsForm::WeightsForm(QFormLayout& form, QWidget* parent) : QObject(parent)
{
    m_preference = new QComboBox(parent);
    m_preference->setObjectName(QStringLiteral("preference"));
    for (const core::CutPreference p : core::cutPreferences()) {
        m_preference->addItem(title(core::preferenceName(p)));
        m_preference->setItemData(m_preference->count() - 1, QString::fromLatin1(core::preferenceHelp(p)),
                                  Qt::ToolTipRole);
    }
    form.addRow(tr("Prefer"), m_preference);
    m_more = new QSpinBox(parent);
    m_more->setObjectName(QStringLiteral("morePieces"));
    m_more->setRange(0, core::mostMorePieces);
    m_more->setSpecialValueText(tr("none"));
    const auto showPieces = [this](int pieces) { m_more->setSuffix(pieces == 1 ? tr(" piece") : tr(" pieces")); };
    showPieces(0);
    connect(m_more, &QSpinBox::valueChanged, this, showPieces);
    m_more->setToolTip(tr("How many pieces more than the fewest that were found may be spent on better cuts. None: the "
                          "number of pieces comes first, whatever the weights."));
    form.addRow(tr("More allowed"), m_more);
    m_alternatives = new QSpinBox(parent);
    m_alternatives->setObjectName(QStringLiteral("alternatives"));
    m_alternatives->setRange(1, core::mostAlternatives - 1);
    m_alternatives->setValue(core::mostAlternatives - 1);
    const auto showWays = [this](int ways) { m_alternatives->setSuffix(ways == 1 ? tr(" way") : tr(" ways")); };
    showWays(m_alternatives->value());
    connect(m_alternatives, &QSpinBox::valueChanged, this, showWays);
    m_alternatives->setToolTip(tr("How many ways that really differ are shown in the end, at most."));
    form.addRow(tr("Show"), m_alternatives);
    m_expand = new QToolButton(parent);
    m_expand->setObjectName(QStringLiteral("weights"));
    m_expand->setCheckable(true);
    m_expand->setAutoRaise(true);
    m_expand->setArrowType(Qt::RightArrow);
    m_expand->setText(tr("Weights one by one"));
    m_expand->setToolButtonStyle(Qt::ToolButtonTextBesideIcon);
    m_expand->setToolTip(tr("How much each term counts among ways with the same number of pieces."));
    form.addRow(m_expand);
    buildWeights(parent);
    form.addRow(m_each);
    connect(m_expand, &QToolButton::toggled, this, [this](bool open) {
        m_each->setVisible(open);
        m_expand->setArrowType(open ? Qt::DownArrow : Qt::RightArrow);
    });
    connect(m_preference, &QComboBox::activated, this, [this](int index) {
        if (const auto i = static_cast<std::size_t>(index); i < core::cutPreferences().size())
            setWeights(core::weightsFor(core::cutPreferences()[i]));
        showPreference();
    });
    setWeights({});
}

void WeightsForm::buildWeights(QWidget* parent)
{
    m_each = new QWidget(parent);
    m_each->setObjectName(QStringLiteral("eachWeight"));
    auto* form = new QFormLayout(m_each);
    form->setContentsMargins({});
    form->setFieldGrowthPolicy(QFormLayout::ExpandingFieldsGrow);
    const auto& kinds = core::cutTermKinds();
    for (std::size_t i = 0; i < kinds.size(); ++i) {
        auto* box = new QDoubleSpinBox(m_each);
        box->setObjectName(QStringLiteral("weight_%1").arg(QLatin1String(kinds[i].key)));
        box->setRange(0, mostWeight);
        box->setDecimals(2);
        box->setSingleStep(weightStep);
        box->setPrefix(QStringLiteral("× "));
        box->setToolTip(QString::fromUtf8(kinds[i].help));
        auto* label = new QLabel(QString::fromUtf8(kinds[i].name), m_each);
        label->setToolTip(box->toolTip());
        label->setBuddy(box);
        form->addRow(label, box);
        connect(box, &QDoubleSpinBox::valueChanged, this, [this] {
            if (!m_quiet)
                showPreference();
        });
        m_weights[i] = box;
    }
    m_each->hide();
}

core::CutWeights WeightsForm::weights() const
{
    core::CutWeights out;
    for (std::size_t i = 0; i < m_weights.size(); ++i)
        out.*core::cutTermKinds()[i].weight = m_weights[i]->value();
    return out;
}

void WeightsForm::setWeights(const core::CutWeights& weights)
{
    {
        const QScopedValueRollback quiet(m_quiet, true);
        for (std::size_t i = 0; i < m_weights.size(); ++i)
            m_weights[i]->setValue(weights.*core::cutTermKinds()[i].weight);
    }
    showPreference();
}

int WeightsForm::morePieces() const
{
    return m_more->value();
}

int WeightsForm::alternatives() const
{
    return m_alternatives->value();
}

/// Names the preference that the weights are those of, or says that they are the user's own.
void WeightsForm::showPreference()
{
    const auto& all = core::cutPreferences();
    const core::CutWeights now = weights();
    const auto found = std::find_if(all.begin(), all.end(), [&](auto p) { return core::weightsFor(p) == now; });
    const int known = static_cast<int>(all.size());
    const bool own = found == all.end();
    if (own && m_preference->count() == known)
        m_preference->addItem(tr("Own weights"));
    if (!own && m_preference->count() > known)
        m_preference->removeItem(known);
    m_preference->setCurrentIndex(static_cast<int>(found - all.begin()));
    m_preference->setToolTip(own ? tr("The weights below. Choose a preference to go back to its own.")
                                 : QString::fromLatin1(core::preferenceHelp(*found)));
}

} // namespace quoin::ui
