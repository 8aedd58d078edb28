// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/plan_shown.h"

#include "ui/quantity_text.h"
#include "ui/window_words.h"

#include <QCoreApplication>

#include <algorithm>
#include <numeric>

namespace quoin::ui {

namespace {

constexpr CivilMinute aroundMinutes = 6 * minutesInHour; ///< shown before the first thing and after the last

QString tr(const char* text)
{
    return QCoreApplication::translate("PlanShown", text);
}

QString qs(const std::string& text)
{
    return QString::fromStdString(text);
}

std::vector<std::pair<CivilMinute, CivilMinute>> attendedOf(const core::WorkCalendar& calendar, CivilMinute from,
                                                            CivilMinute to)
{
    std::vector<std::pair<CivilMinute, CivilMinute>> spans;
    for (CivilMinute day = from / minutesInDay * minutesInDay - minutesInDay; day <= to; day += minutesInDay) {
        const auto date = std::chrono::floor<std::chrono::days>(momentOf(day));
        if (std::find(calendar.away.begin(), calendar.away.end(), date) != calendar.away.end())
            continue;
        const auto weekday = std::chrono::weekday(date).iso_encoding() - 1;
        for (const core::Attended& a : calendar.days[weekday]) {
            const CivilMinute begin = day + a.fromMinute, end = day + a.toMinute;
            if (!spans.empty() && spans.back().second >= begin)
                spans.back().second = end; // through midnight
            else
                spans.emplace_back(begin, end);
        }
    }
    return spans;
}

ChartBar::Kind kindOf(const core::Plate& plate)
{
    return plate.urgency == 0   ? ChartBar::Kind::TestFit
           : plate.urgency == 1 ? ChartBar::Kind::Wished
                                : ChartBar::Kind::Ordinary;
}

QString pieceTip(const core::PlatePieceInfo& p)
{
    QString tip = tr("%1\n%2, %3 with %4, %5 tall")
                      .arg(qs(p.name), massText(p.figures.grams), hoursWords(p.figures.hours), qs(p.figures.recipe),
                           lengthText(p.heightMm));
    if (p.testFit)
        tip += tr("\nA test fit: try whether the joints go together before the rest is printed");
    if (p.first)
        tip += tr("\nWanted first");
    if (!p.standsFlat)
        tip += tr("\nStands on no flat face: it needs support, look at its first layers");
    if (p.failed > 0)
        tip += tr("\nHas failed %1 ×").arg(p.failed);
    return tip;
}

} // namespace

std::vector<std::size_t> barsInTime(const core::PrintPlan& plan)
{
    std::vector<std::size_t> order(plan.bars.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return plan.bars[a].start < plan.bars[b].start; });
    return order;
}

QString plateContents(const core::PrintPlan& plan, const core::Plate& plate)
{
    std::vector<std::pair<QString, int>> things;
    for (const core::PlatePiece& on : plate.pieces) {
        // "dowel (3)" is a copy of "dowel".
        QString name = qs(plan.job.pieces[on.piece].name);
        if (const auto copy = name.lastIndexOf(QStringLiteral(" (")); copy > 0 && name.endsWith(u')'))
            name.truncate(copy);
        const auto same = std::find_if(things.begin(), things.end(), [&](const auto& t) { return t.first == name; });
        if (same != things.end())
            ++same->second;
        else
            things.emplace_back(name, 1);
    }
    QStringList words;
    for (const auto& [name, n] : things)
        words << (n == 1 ? name : QStringLiteral("%1 × %2").arg(n).arg(name));
    return words.join(QStringLiteral(", "));
}

QString printWords(const core::PrintPlan& plan, std::size_t index)
{
    const core::PlanBar& bar = plan.bars[index];
    const core::Plate& plate = plan.plates[bar.plate];
    const core::Machine& machine = plan.request.machines[bar.machine];
    QString out = tr("Plate %1 on %2: %3").arg(plate.number).arg(qs(machine.name), plateContents(plan, plate));
    out += tr("\nBegins %1, ends %2").arg(momentWords(minuteOf(bar.start)), momentWords(minuteOf(bar.end)));
    out += bar.endsAttended ? tr("; somebody is there")
                            : tr("; taken off %1, when somebody comes").arg(momentWords(minuteOf(bar.ready)));
    out += tr("\n%1 (%2 to %3 likely), %4 of %5, recipe %6")
               .arg(hoursWords(bar.hours), hoursWords(plate.lowHours / machine.speedFactor),
                    hoursWords(plate.highHours / machine.speedFactor), massText(bar.grams), qs(plate.material),
                    qs(plate.recipe));
    out += tr("\nFails with a chance of %1 %").arg(numberText(100 * bar.failChance, 1));
    if (!plate.reason.empty())
        out += QStringLiteral("\n") + windowWords(plate.reason);
    for (const core::SpoolChange& change : plan.spoolChanges)
        if (change.bar == index)
            out += QStringLiteral("\n") + windowWords(change.words);
    return out;
}

ChartData chartOf(const core::PrintPlan& plan, std::optional<CivilMinute> now)
{
    ChartData data;
    if (plan.request.machines.empty())
        return data;
    const CivilMinute start = minuteOf(plan.request.start);
    CivilMinute last = minuteOf(std::max(plan.finish, plan.request.start));
    for (const core::PlanBar& b : plan.bars)
        last = std::max(last, minuteOf(b.ready));
    if (plan.request.deadline) {
        data.deadline = minuteOf(*plan.request.deadline);
        last = std::max(last, *data.deadline);
    }
    data.from = start - aroundMinutes / 2;
    data.to = std::max(last, start + minutesInDay) + aroundMinutes;
    if (now && *now >= start - minutesInDay && *now <= data.to) {
        data.now = now;
        data.from = std::min(data.from, *now - aroundMinutes / 2);
    }
    for (const core::Machine& m : plan.request.machines)
        data.rows.push_back({qs(m.name), tr("%1: %2").arg(qs(m.name), qs(core::machineWords(m))),
                             attendedOf(m.calendar, data.from, data.to)});
    for (std::size_t i = 0; i < plan.bars.size(); ++i) {
        const core::PlanBar& b = plan.bars[i];
        const core::Plate& plate = plan.plates[b.plate];
        data.bars.push_back({static_cast<int>(i), static_cast<int>(b.machine), minuteOf(b.start), minuteOf(b.end),
                             minuteOf(b.ready), QString::number(plate.number), printWords(plan, i), kindOf(plate)});
    }
    return data;
}

PlateShown plateOf(const core::PrintPlan& plan, std::size_t index)
{
    const core::PlanBar& bar = plan.bars[index];
    const core::Plate& plate = plan.plates[bar.plate];
    const core::Machine& machine = plan.request.machines[bar.machine];
    PlateShown shown;
    shown.title = tr("Plate %1 on %2").arg(plate.number).arg(qs(machine.name));
    shown.bed = machine.bed;
    shown.marginMm = machine.marginMm;
    const auto outlines = core::placedOutlines(plan.job, plate);
    for (std::size_t i = 0; i < plate.pieces.size(); ++i) {
        const core::PlatePieceInfo& piece = plan.job.pieces[plate.pieces[i].piece];
        shown.shapes.push_back({static_cast<int>(plate.pieces[i].piece), QString::number(i + 1), pieceTip(piece),
                                outlines[i], !piece.standsFlat || piece.failed > 0});
    }
    return shown;
}

} // namespace quoin::ui
