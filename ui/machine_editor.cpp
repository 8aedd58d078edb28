// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/machine_editor.h"

#include "ui/calm_wheel.h"
#include "ui/length_edit.h"

#include <QCheckBox>
#include <QComboBox>
#include <QDoubleSpinBox>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QRegularExpression>
#include <QScopedValueRollback>
#include <QSpinBox>

#include <fmt/format.h>

#include <algorithm>

namespace quoin::ui {

namespace {

using core::FailureRate;

constexpr std::array dayNames{"Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"};
constexpr std::array dayWords{"mon", "tue", "wed", "thu", "fri", "sat", "sun"};
constexpr double percent = 100;
constexpr double mostMm = 1000, mostNozzleMm = 5, mostCost = 10000, mostMinutes = 10000;
constexpr int mostPowerW = 20000;

QString qs(const std::string& text)
{
    return QString::fromStdString(text);
}

QDoubleSpinBox* spin(QWidget* parent, double least, double most, int digits, const QString& unit, const QString& tip)
{
    auto* box = new QDoubleSpinBox(parent);
    box->setRange(least, most);
    box->setDecimals(digits);
    box->setSuffix(unit);
    box->setToolTip(tip);
    return box;
}

/// The hours of one day: "8-12 13-18"; empty: nobody is there.
QString dayText(const std::vector<core::Attended>& spans)
{
    std::array<std::vector<core::Attended>, 7> days;
    days[0] = spans;
    if (spans.empty())
        return {};
    if (spans.size() == 1 && spans[0].fromMinute == 0 && spans[0].toMinute == 24 * 60)
        return QStringLiteral("0-24");
    QString text = qs(core::attendedText(days)); // "mon 8-18"
    return text.mid(text.indexOf(u' ') + 1);
}

} // namespace

MachineEditor::MachineEditor(QWidget* parent) : QWidget(parent)
{
    auto* form = new QFormLayout(this);
    form->setFieldGrowthPolicy(QFormLayout::AllNonFixedFieldsGrow);
    makeMachine(*form);
    makeHours(*form);
    makeRisk(*form);
    const auto told = [this] {
        if (!m_quiet)
            emit edited();
    };
    for (QLineEdit* edit : findChildren<QLineEdit*>())
        connect(edit, &QLineEdit::textEdited, this, told);
    for (QDoubleSpinBox* box : findChildren<QDoubleSpinBox*>())
        connect(box, &QDoubleSpinBox::valueChanged, this, told);
    for (LengthEdit* edit : {m_margin, m_gap})
        connect(edit, &LengthEdit::edited, this, told);
    connect(m_power, &QSpinBox::valueChanged, this, told);
    for (QCheckBox* box : {m_nights, m_weekends})
        connect(box, &QCheckBox::toggled, this, told);
    connect(m_failurePer, &QComboBox::currentIndexChanged, this, told);
    calmWheel(*this);
}

void MachineEditor::makeMachine(QFormLayout& form)
{
    m_name = new QLineEdit(this);
    m_name->setToolTip(tr("Your own name for it"));
    form.addRow(tr("&Name"), m_name);
    m_bed = new QLineEdit(this);
    m_bed->setToolTip(tr("Width x depth x height in mm, such as 300x300x400; with units, such as 30x30x40cm; a round "
                         "plate as diameter x height, such as d250x300"));
    form.addRow(tr("&Bed"), m_bed);
    m_margin = new LengthEdit(this);
    m_margin->setRange(0, mostMm);
    m_margin->setHelp(tr("Kept free on all four sides of the plate and at the top"));
    form.addRow(tr("&Margin"), m_margin);
    m_gap = new LengthEdit(this);
    m_gap->setRange(0, mostMm);
    m_gap->setHelp(tr("Between pieces on one plate, so that the nozzle passes and hands can lift them off"));
    form.addRow(tr("&Gap between pieces"), m_gap);
    m_nozzle = spin(this, 0, mostNozzleMm, 2, tr(" mm"), tr("Only recipes for this nozzle are printed on it"));
    m_nozzle->setSpecialValueText(tr("any: it is changed as needed"));
    m_nozzle->setSingleStep(0.1);
    form.addRow(tr("N&ozzle"), m_nozzle);
    m_materials = new QLineEdit(this);
    m_materials->setPlaceholderText(tr("any"));
    m_materials->setToolTip(tr("That it can print, such as PLA, PETG; empty for any"));
    form.addRow(tr("Ma&terials"), m_materials);
    m_speed = spin(this, 5, 2000, 0, tr(" % of the recipe's"),
                   tr("120 % prints in an hour what others print in an hour and twelve minutes"));
    form.addRow(tr("S&peed"), m_speed);
    m_cost = spin(this, 0, mostCost, 2, {}, tr("Wear and room, without energy"));
    form.addRow(tr("&Cost an hour"), m_cost);
    m_power = new QSpinBox(this);
    m_power->setRange(0, mostPowerW);
    m_power->setSuffix(tr(" W"));
    m_power->setSpecialValueText(tr("as the recipe says"));
    m_power->setToolTip(tr("Mean while printing, as a meter in the plug shows it"));
    form.addRow(tr("Po&wer"), m_power);
}

void MachineEditor::makeHours(QFormLayout& form)
{
    auto* words = new QLabel(tr("When somebody is there to change plates and to look after it:"), this);
    words->setWordWrap(true);
    form.addRow(words);
    for (std::size_t d = 0; d < m_days.size(); ++d) {
        m_days[d] = new QLineEdit(this);
        m_days[d]->setPlaceholderText(tr("nobody"));
        m_days[d]->setToolTip(tr("Such as 8-18, or 8:30-12 13-17; empty when nobody is there"));
        m_days[d]->setAccessibleName(tr("Attended on %1").arg(tr(dayNames[d])));
        if (d != 0) {
            form.addRow(tr(dayNames[d]), m_days[d]);
            continue;
        }
        auto* row = new QHBoxLayout;
        auto* same = new QPushButton(tr("Same till Friday"), this);
        same->setToolTip(tr("Monday's hours for Tuesday to Friday"));
        row->addWidget(m_days[d], 1);
        row->addWidget(same);
        form.addRow(tr(dayNames[d]), row);
        connect(same, &QPushButton::clicked, this, [this] {
            for (std::size_t day = 1; day < 5; ++day)
                m_days[day]->setText(m_days[0]->text());
            emit edited();
        });
    }
    m_nights = new QCheckBox(tr("May print on its own from Monday to Friday, nights as well"), this);
    m_weekends = new QCheckBox(tr("May print on its own on Saturdays and Sundays"), this);
    for (QCheckBox* box : {m_nights, m_weekends})
        box->setToolTip(tr("Hot machines can start fires: ask your insurer and the local fire rules before one runs "
                           "with nobody there"));
    form.addRow(m_nights);
    form.addRow(m_weekends);
    m_away = new QLineEdit(this);
    m_away->setPlaceholderText(tr("none"));
    m_away->setToolTip(tr("Days on which nobody is there, such as 2026-12-24, 2026-12-25"));
    form.addRow(tr("&Holidays"), m_away);
}

void MachineEditor::makeRisk(QFormLayout& form)
{
    m_change = spin(this, 0, mostMinutes, 0, tr(" min"), tr("To clear the plate and begin the next print"));
    form.addRow(tr("Cha&nging a plate"), m_change);
    m_spoolChange = spin(this, 0, mostMinutes, 0, tr(" min"), tr("To put on another spool"));
    form.addRow(tr("Changing a &spool"), m_spoolChange);
    m_failure = spin(this, 0, 90, 2, tr(" %"), tr("Count your prints that had to be begun again"));
    m_failurePer = new QComboBox(this);
    m_failurePer->addItems({tr("of each hour of printing"), tr("of each print")});
    m_failurePer->setAccessibleName(tr("Failures are counted"));
    m_failurePer->setToolTip(tr("By the hour, long prints fail more often than short ones; by the print, all alike"));
    auto* row = new QHBoxLayout;
    row->addWidget(m_failure);
    row->addWidget(m_failurePer, 1);
    form.addRow(tr("&Fails in"), row);
    qobject_cast<QLabel*>(form.labelForField(row))->setBuddy(m_failure);
}

void MachineEditor::setCurrency(const QString& currency)
{
    m_cost->setSuffix(QStringLiteral(" %1/h").arg(currency));
}

void MachineEditor::setMachine(const core::Machine& m)
{
    const QScopedValueRollback quiet(m_quiet, true);
    m_name->setText(qs(m.name));
    m_bedBefore = m.bed;
    m_bed->setText(m.bed.widthMm > 0 ? qs(core::sizeWords(m.bed)) : QString());
    m_margin->setValue(m.marginMm);
    m_gap->setValue(m.gapMm);
    m_nozzle->setValue(m.nozzleMm);
    QStringList materials;
    for (const std::string& name : m.materials)
        materials << qs(name);
    m_materials->setText(materials.join(QStringLiteral(", ")));
    m_speed->setValue(percent * m.speedFactor);
    m_cost->setValue(m.costPerHour);
    m_power->setValue(static_cast<int>(m.powerW));
    for (std::size_t d = 0; d < m_days.size(); ++d)
        m_days[d]->setText(dayText(m.calendar.days[d]));
    m_nights->setChecked(m.calendar.nights);
    m_weekends->setChecked(m.calendar.weekends);
    QStringList away;
    for (const auto day : m.calendar.away)
        away << qs(core::momentText(core::Moment(day))).left(10);
    m_away->setText(away.join(QStringLiteral(", ")));
    m_change->setValue(m.changeMinutes);
    m_spoolChange->setValue(m.spoolChangeMinutes);
    m_failure->setValue(percent * m.failure.rate);
    m_failurePer->setCurrentIndex(m.failure.per == FailureRate::Per::Hour ? 0 : 1);
}

Result<core::WorkCalendar> MachineEditor::calendar() const
{
    core::WorkCalendar c;
    c.days = {};
    for (std::size_t d = 0; d < m_days.size(); ++d) {
        const std::string text = m_days[d]->text().trimmed().toStdString();
        if (text.empty())
            continue;
        auto week = core::attendedFromText(fmt::format("{} {}", dayWords[d], text));
        if (!week)
            return Problem{Reason::BadArgument,
                           fmt::format("the hours of {} can't be read: \"{}\"", dayNames[d], text),
                           {},
                           {},
                           "Write 8-18, or 8:30-12 13-17, or nothing when nobody is there."};
        c.days[d] = (*week)[d];
    }
    c.nights = m_nights->isChecked();
    c.weekends = m_weekends->isChecked();
    for (const QString& word : m_away->text().split(QRegularExpression(QStringLiteral("[,; ]+")), Qt::SkipEmptyParts)) {
        const auto day = core::momentFromText(word.toStdString());
        if (!day)
            return Problem{Reason::BadArgument,
                           fmt::format("\"{}\" is no day", word.toStdString()),
                           {},
                           {},
                           "Write holidays like 2026-12-24, 2026-12-25."};
        c.away.push_back(std::chrono::floor<std::chrono::days>(*day));
    }
    std::sort(c.away.begin(), c.away.end());
    return c;
}

Result<core::Machine> MachineEditor::machine() const
{
    core::Machine m;
    m.name = m_name->text().trimmed().toStdString();
    const auto bed = core::bedFromText(m_bed->text().trimmed().toStdString(), {});
    if (!bed)
        return bed.problem();
    m.bed = core::sizeWords(*bed) == core::sizeWords(m_bedBefore) ? m_bedBefore : *bed;
    m.bed.machines = 1;
    m.marginMm = m_margin->value();
    m.gapMm = m_gap->value();
    m.nozzleMm = m_nozzle->value();
    for (const QString& word :
         m_materials->text().split(QRegularExpression(QStringLiteral("[,;]")), Qt::SkipEmptyParts))
        if (!word.trimmed().isEmpty())
            m.materials.push_back(word.trimmed().toStdString());
    m.speedFactor = m_speed->value() / percent;
    m.costPerHour = m_cost->value();
    m.powerW = m_power->value();
    auto hours = calendar();
    if (!hours)
        return hours.problem();
    m.calendar = std::move(*hours);
    m.changeMinutes = m_change->value();
    m.spoolChangeMinutes = m_spoolChange->value();
    m.failure.per = m_failurePer->currentIndex() == 0 ? FailureRate::Per::Hour : FailureRate::Per::Print;
    m.failure.rate = m_failure->value() / percent;
    if (const Status s = core::checkMachine(m); !s)
        return s.problem();
    return m;
}

} // namespace quoin::ui

#include "moc_machine_editor.cpp"
