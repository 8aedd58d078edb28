// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/plan_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

namespace quoin::app {

namespace {

constexpr std::size_t mostNames = 3;

std::string piecesOf(const core::PrintPlan& plan, const core::Plate& plate)
{
    std::string out;
    for (std::size_t i = 0; i < plate.pieces.size() && i < mostNames; ++i)
        out += (i == 0 ? "" : ", ") + plan.job.pieces[plate.pieces[i].piece].name;
    if (plate.pieces.size() > mostNames)
        out += fmt::format(" and {} more", plate.pieces.size() - mostNames);
    return out;
}

void printBars(const core::PrintPlan& plan)
{
    std::vector<const core::PlanBar*> bars;
    for (const core::PlanBar& b : plan.bars)
        bars.push_back(&b);
    std::stable_sort(bars.begin(), bars.end(), [&](const core::PlanBar* a, const core::PlanBar* b) {
        return plan.plates[a->plate].number < plan.plates[b->plate].number;
    });
    fmt::print("{:>5}  {:<16} {:<16} {:<16} {:>7} {:>8}  {}\n", "plate", "machine", "start", "end", "hours", "grams",
               "pieces");
    for (const core::PlanBar* b : bars) {
        const core::Plate& plate = plan.plates[b->plate];
        fmt::print("{:>5}  {:<16} {:<16} {:<16} {:>7.1f} {:>8.0f}  {}\n", plate.number,
                   plan.request.machines[b->machine].name, core::momentWords(b->start),
                   core::momentWords(b->end) + (b->endsAttended ? "" : "*"), b->hours, b->grams, piecesOf(plan, plate));
    }
    if (std::any_of(bars.begin(), bars.end(), [](const core::PlanBar* b) { return !b->endsAttended; }))
        fmt::print("* ends while nobody is there\n");
}

} // namespace

void printPlan(const core::PrintPlan& plan, const std::string& planFile, const std::string& out)
{
    if (!plan.bars.empty())
        printBars(plan);
    fmt::print("\n{}\n", plan.verdict);
    for (const core::PlanLeft& l : plan.left)
        fmt::print("can't be printed: {}: {}.\n", plan.job.pieces[l.piece].name, l.why);
    if (!plan.bars.empty()) {
        fmt::print("Order: {}{}; no order of these plates ends before {} ({}).\n", plan.how,
                   plan.optimal ? ", none ends earlier" : "", core::momentWords(plan.earliest), plan.earliestWords);
        fmt::print("{} plates; {} at least by the same rules ({}).\n{}.\n", plan.plates.size(), plan.leastPlates,
                   plan.leastPlatesWords, plan.sharedWords);
        fmt::print("{:.2f} kg, {:.1f} machine hours, {:.1f} kWh{}. {}\n", plan.grams / 1000, plan.hours, plan.energyKwh,
                   plan.cost > 0 ? fmt::format(", {:.2f} of your money", plan.cost) : "", plan.reprints.words);
    }
    for (std::size_t m = 0; m < plan.use.size(); ++m)
        fmt::print("{}: {} plates, {:.1f} h, {:.0f} % of the time, {} spool changes\n", plan.request.machines[m].name,
                   plan.use[m].plates, plan.use[m].hours, 100 * plan.use[m].busyShare, plan.use[m].spoolChanges);
    for (const core::SpoolNeed& s : plan.spools)
        fmt::print("{}.\n", s.words);
    if (plan.piecesDone > 0)
        fmt::print("{} of {} pieces are printed or being printed: {:.0f} g, {:.1f} h.\n", plan.piecesDone,
                   plan.piecesAll, plan.printedGrams, plan.printedHours);
    for (const core::PlanHelp& h : plan.help)
        fmt::print("would help: {}: {}{}\n", h.words, core::gainWords(h),
                   h.assumption.empty() ? "" : " (" + h.assumption + ")");
    for (const Note& n : plan.notes)
        fmt::print("note: {}\n", n.text);
    for (const std::string& c : plan.cautions)
        fmt::print("caution: {}\n", c);
    fmt::print("What was told is kept in {}{}\n", planFile, out.empty() ? "" : "; the plan's files are in " + out);
}

} // namespace quoin::app
