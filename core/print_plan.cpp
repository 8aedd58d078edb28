// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/print_plan.h"

#include "core/print_plan_parts.h"
#include "core/same_word.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <set>

namespace quoin::core {

namespace {

constexpr double supportDoubt = 0.1; ///< share of its hours that a piece on support is thought to risk more
constexpr double stepWeight = 0.4;   ///< of the order of assembly against the risk: what may fail comes first
constexpr double minutesInHour = 60;
constexpr double sure = 0.9; ///< chance from which nothing more need be done

/// Wishes of a plate: early in the assembly, and what would hurt most when it fails early, too.
void setRanks(const PlateJob& job, const std::vector<Machine>& machines, std::vector<Plate>& plates)
{
    std::vector<double> risk, step;
    for (const Plate& plate : plates) {
        const double chance = machines[plate.laidOutFor].failure.chance(plate.hours);
        double loss = chance * plate.hours, first = 1e9;
        for (const PlatePiece& p : plate.pieces) {
            const PlatePieceInfo& piece = job.pieces[p.piece];
            loss += (piece.standsFlat ? 0 : supportDoubt * piece.figures.hours) + piece.failed * piece.figures.hours;
            if (piece.assembly > 0)
                first = std::min(first, static_cast<double>(piece.assembly));
        }
        risk.push_back(loss);
        step.push_back(first);
    }
    double mostRisk = 0, mostStep = 1;
    for (std::size_t i = 0; i < plates.size(); ++i) {
        mostRisk = std::max(mostRisk, risk[i]);
        if (step[i] < 1e9)
            mostStep = std::max(mostStep, step[i]);
    }
    for (std::size_t i = 0; i < plates.size(); ++i)
        plates[i].rank = 1 + stepWeight * std::min(step[i] / mostStep, 1.0) - (mostRisk > 0 ? risk[i] / mostRisk : 0);
}

std::vector<JobMachine> jobMachines(const PlanRequest& request, const std::vector<long>& freeFrom,
                                    const std::vector<std::shared_ptr<const WorkTime>>& times)
{
    std::vector<JobMachine> out;
    for (std::size_t m = 0; m < request.machines.size(); ++m) {
        const Machine& machine = request.machines[m];
        out.push_back({times[m].get(), machine.speedFactor, static_cast<long>(std::ceil(machine.changeMinutes)),
                       times[m]->minuteOf(request.start) + freeFrom[m]});
    }
    return out;
}

PlanBar barOf(const Plate& plate, std::size_t index, const JobRun& run, const Machine& machine, const WorkTime& time)
{
    PlanBar bar;
    bar.plate = index;
    bar.machine = run.machine;
    bar.change = time.momentOf(run.run.change);
    bar.start = time.momentOf(run.run.start);
    bar.end = time.momentOf(run.run.end);
    bar.ready = time.momentOf(run.run.ready);
    bar.endsAttended = run.run.ready == run.run.end;
    bar.grams = plate.grams;
    bar.hours = static_cast<double>(run.run.end - run.run.start) / minutesInHour;
    bar.failChance = machine.failure.chance(bar.hours);
    bar.words = fmt::format("{} to {}", momentWords(bar.start), momentWords(bar.end));
    if (!bar.endsAttended)
        bar.words += fmt::format(", taken off {}", momentWords(bar.ready));
    return bar;
}

/// Plates in the order in which they begin, numbered.
void numberPlates(PrintPlan& plan)
{
    std::vector<std::size_t> order(plan.plates.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::vector<Moment> start(plan.plates.size(), Moment::max());
    for (const PlanBar& b : plan.bars)
        start[b.plate] = b.start;
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return start[a] < start[b]; });
    std::vector<Plate> plates;
    std::vector<std::size_t> place(plan.plates.size());
    for (const std::size_t i : order) {
        place[i] = plates.size();
        plates.push_back(std::move(plan.plates[i]));
        plates.back().number = static_cast<int>(plates.size());
    }
    plan.plates = std::move(plates);
    for (PlanBar& b : plan.bars)
        b.plate = place[b.plate];
}

std::string aboutDeadline(const PrintPlan& plan)
{
    const double hours = hoursBetween(plan.finish, *plan.request.deadline);
    return hours >= 0 ? fmt::format("{} before the deadline", spanWords(hours))
                      : fmt::format("{} after the deadline", spanWords(-hours));
}

std::string verdictOf(const PrintPlan& plan)
{
    if (plan.plates.empty() && plan.left.empty())
        return "Everything is printed.";
    std::string out;
    if (!plan.left.empty())
        out = fmt::format("{} piece{} can't be printed on these machines, so that the work can't be finished. ",
                          plan.left.size(), plan.left.size() == 1 ? "" : "s");
    if (plan.plates.empty())
        return out;
    const std::size_t machines = plan.request.machines.size();
    out += fmt::format("On {} {} is ready {} if nothing fails",
                       machines == 1 ? std::string("one machine") : fmt::format("{} machines", machines),
                       plan.left.empty() ? "all" : "the rest", momentWords(plan.finish));
    if (plan.request.deadline)
        out += ", " + aboutDeadline(plan);
    out += ".";
    if (plan.chance)
        out += " " + plan.chance->words;
    const bool doubtful = !plan.left.empty() || plan.keepsDeadline == false ||
                          (plan.chance && plan.chance->kept && *plan.chance->kept < sure);
    if (doubtful && !plan.help.empty())
        out += fmt::format(" What helps most: {} ({}).", plan.help.front().words, gainWords(plan.help.front()));
    return out;
}

/// What a machine prints just now: pieces that began at the same moment lie on one plate.
struct RunningPrint {
    std::string name;
    double hours = 0, startUpHours = 0; ///< as estimated, of all of them
    double givenHours = 0;              ///< as reported, for the plate; 0: not
};

void addRunning(std::map<std::pair<std::size_t, Moment>, RunningPrint>& running, const PlanRequest& request,
                const PlatePieceInfo& piece, const PieceReport& report, std::vector<Note>& notes)
{
    for (std::size_t m = 0; m < request.machines.size(); ++m) {
        if (!sameWord(request.machines[m].name, report.machine))
            continue;
        RunningPrint& print = running[{m, report.at}];
        print.name += (print.name.empty() ? "" : ", ") + piece.name;
        print.hours += piece.figures.hours;
        print.startUpHours = std::max(print.startUpHours, piece.figures.startUpHours);
        print.givenHours = std::max(print.givenHours, report.hours.value_or(0));
        return;
    }
    notes.push_back(
        {Note::Severity::Warning,
         fmt::format("{} is being printed on {}, which is none of the plan's machines.", piece.name, report.machine),
         piece.id});
}

Status checkRequest(const PlateJob& job, const PlanRequest& request)
{
    const auto refused = [](const std::string& what, const std::string& remedy) {
        return Problem{Reason::BadArgument, what, {}, {}, remedy};
    };
    if (request.machines.empty())
        return refused("there is no machine to print on", "Name one, or keep one with `quoin machines set`.");
    if (job.pieces.empty())
        return refused("there is nothing to print", "Give an export or a design with pieces.");
    for (std::size_t i = 0; i < request.machines.size(); ++i) {
        if (const Status s = checkMachine(request.machines[i]); !s)
            return s;
        for (std::size_t j = 0; j < i; ++j)
            if (sameWord(request.machines[i].name, request.machines[j].name))
                return refused(fmt::format("two machines are called \"{}\"", request.machines[i].name),
                               "Give each a name of its own.");
    }
    std::set<std::string> ids;
    for (const PlatePieceInfo& p : job.pieces)
        if (!ids.insert(p.id).second)
            return refused(fmt::format("two pieces are called \"{}\"", p.id), "Give each part a name of its own.");
    if (request.deadline && *request.deadline <= request.start)
        return refused("the deadline is not after the start", "Give a later deadline, or an earlier start.");
    return Done{};
}

} // namespace

std::string gainWords(const PlanHelp& help)
{
    std::string out = std::abs(help.hoursGained) < 1 / minutesInHour
                          ? std::string("at the same time")
                          : spanWords(std::abs(help.hoursGained)) + (help.hoursGained > 0 ? " earlier" : " later");
    if (help.piecesGained > 0)
        out = fmt::format("{} more piece{} can be printed", help.piecesGained, help.piecesGained == 1 ? "" : "s");
    if (help.chance)
        out += fmt::format(", the deadline then holds with a chance of {:.0f} %", 100 * *help.chance);
    return out;
}

std::string spanWords(double hours)
{
    const long minutes = std::lround(hours * minutesInHour);
    const long h = minutes / 60;
    if (h >= 48)
        return h % 24 == 0 ? fmt::format("{} d", h / 24) : fmt::format("{} d {} h", h / 24, h % 24);
    return h > 0 ? (minutes % 60 != 0 && h < 10 ? fmt::format("{} h {} min", h, minutes % 60) : fmt::format("{} h", h))
                 : fmt::format("{} min", minutes);
}

std::vector<std::shared_ptr<const WorkTime>> workTimes(const PlanRequest& request)
{
    std::vector<std::shared_ptr<const WorkTime>> out;
    for (std::size_t m = 0; m < request.machines.size(); ++m) {
        std::shared_ptr<const WorkTime> same;
        for (std::size_t k = 0; k < m && !same; ++k)
            if (request.machines[k].calendar == request.machines[m].calendar)
                same = out[k];
        out.push_back(same ? same : std::make_shared<const WorkTime>(request.machines[m].calendar, request.start));
    }
    return out;
}

Result<ToPrint> stillToPrint(const PlateJob& job, const PlanRequest& request)
{
    ToPrint out;
    out.all = job.pieces.size();
    out.freeFrom.assign(request.machines.size(), 0);
    out.job.outlines = job.outlines;
    std::set<std::string> ids;
    std::map<std::pair<std::size_t, Moment>, RunningPrint> running;
    for (const PlatePieceInfo& piece : job.pieces) {
        ids.insert(piece.id);
        const PieceReport* last = request.progress.last(piece.id);
        const PieceState state = last != nullptr ? last->state : PieceState::Planned;
        PlatePieceInfo copy = piece;
        copy.failed = request.progress.failures(piece.id);
        copy.testFit = piece.testFit && request.testFits != TestFits::Never;
        if (state == PieceState::Printed) {
            ++out.done;
            out.printedGrams += last->grams.value_or(piece.figures.grams);
            out.printedHours += last->hours.value_or(piece.figures.hours);
            continue;
        }
        if (state != PieceState::Printing) {
            out.job.pieces.push_back(std::move(copy));
            continue;
        }
        ++out.done;
        addRunning(running, request, piece, *last, out.notes);
    }
    for (const auto& [key, print] : running) {
        const auto& [m, began] = key;
        const double hours = print.givenHours > 0 ? print.givenHours
                                                  : print.hours / request.machines[m].speedFactor + print.startUpHours;
        const double left = std::max(hoursBetween(request.start, began) + hours, 0.0);
        out.freeFrom[m] = std::max(out.freeFrom[m], std::lround(left * minutesInHour));
        out.notes.push_back({Note::Severity::Info,
                             fmt::format("{} is being printed on {}, {}.", print.name, request.machines[m].name,
                                         left > 0 ? "for " + spanWords(left) + " more"
                                                  : std::string("and should be done: say how it came out")),
                             {}});
    }
    for (const PieceReport& r : request.progress.reports)
        if (!ids.contains(r.piece))
            out.notes.push_back({Note::Severity::Warning,
                                 fmt::format("The log speaks of {}, which isn't in this job any more.", r.piece),
                                 r.piece});
    return out;
}

PrintPlan scheduledPlan(const ToPrint& toPrint, const PlanRequest& request, const PlateSet& set,
                        std::vector<std::vector<std::size_t>>& order, const Context& context)
{
    PrintPlan plan;
    plan.job = toPrint.job;
    plan.request = request;
    plan.plates = set.plates;
    plan.leastPlates = set.leastPlates;
    plan.leastPlatesWords = set.leastWords;
    plan.sharedWords = set.sharedWords;
    plan.piecesDone = toPrint.done;
    plan.piecesAll = toPrint.all;
    plan.printedGrams = toPrint.printedGrams;
    plan.printedHours = toPrint.printedHours;
    plan.notes = toPrint.notes;
    for (const PlateSet::Left& l : set.left)
        plan.left.push_back({l.piece, l.why});
    setRanks(plan.job, request.machines, plan.plates);
    const auto times = workTimes(request);
    const auto machines = jobMachines(request, toPrint.freeFrom, times);
    std::vector<Job> jobs;
    for (const Plate& p : plan.plates)
        jobs.push_back({p.hours, p.machines, p.urgency, std::nullopt, p.rank});
    ScheduleRules rules;
    rules.waitForTests = request.testFits == TestFits::FirstAndWait;
    rules.tries = request.tries;
    rules.seed = request.seed;
    rules.alikeMinutes = std::max(request.alikeMinutes, 1L);
    rules.start = std::move(order);
    const ScheduleAnswer answer = schedule(jobs, machines, rules, context);
    order = answer.best.order;
    const auto momentOf = [&](long minute) { return times[0]->momentOf(minute); };
    for (const JobRun& run : answer.best.runs) {
        Plate& plate = plan.plates[run.job];
        plate = laidOutOn(plan.job, plate, request.machines[run.machine], run.machine);
        plan.bars.push_back(barOf(plate, run.job, run, request.machines[run.machine], *times[run.machine]));
    }
    for (const std::size_t j : answer.impossible) {
        const Plate& plate = plan.plates[j];
        for (const PlatePiece& p : plate.pieces)
            plan.left.push_back(
                {p.piece,
                 fmt::format("it takes {:.1f} h in one go, and none of its machines may run that long: let one "
                             "run at night or at weekends, or split the piece",
                             plate.hours)});
    }
    plan.finish = plan.bars.empty() ? request.start : momentOf(answer.best.finish);
    plan.earliest = plan.bars.empty() ? request.start : momentOf(answer.bound.finish);
    plan.earliestWords = answer.bound.words;
    plan.optimal = answer.optimal;
    plan.how = answer.how;
    numberPlates(plan);
    if (request.deadline)
        plan.keepsDeadline = plan.left.empty() && plan.finish <= *request.deadline;
    return plan;
}

std::vector<std::string> planCautions(const std::vector<Machine>& machines)
{
    const bool unattended = std::any_of(machines.begin(), machines.end(), [](const Machine& m) {
        return attendedText(m.calendar.days) != "always" && (m.calendar.nights || m.calendar.weekends);
    });
    std::vector<std::string> out;
    if (unattended)
        out.emplace_back(
            "Machines run here while nobody is there. A hot machine can start a fire: keep a working smoke "
            "alarm above it, nothing that burns near it, and ask your insurer and the local fire rules "
            "first.");
    else
        out.emplace_back("A hot machine can start a fire: keep a working smoke alarm above it and nothing that burns "
                         "near it, and follow the local fire rules.");
    out.emplace_back("Melted plastic gives off fumes and fine dust: air the room as the material's data sheet asks.");
    out.emplace_back("Hours and grams are estimates, and the chance rests on the failure rate given.");
    return out;
}

Result<PrintPlan> planPrinting(const PlateJob& job, const PlanRequest& request, const Context& context)
{
    if (const Status s = checkRequest(job, request); !s)
        return s.problem();
    const auto toPrint = stillToPrint(job, request);
    if (!toPrint)
        return toPrint.problem();
    const auto set = makePlates(toPrint->job, request.machines, request.plates, context);
    if (!set)
        return set.problem();
    std::vector<std::vector<std::size_t>> order;
    PrintPlan plan = sturdyPlan(*toPrint, request, *set, order, context);
    addUse(plan);
    addReprints(plan);
    addSpools(plan);
    if (request.simulations > 0 && !plan.bars.empty())
        addChance(plan, request.simulations, context);
    if (request.help && !plan.bars.empty())
        plan.help = whatHelps(plan, *toPrint, *set, order, context);
    if (context.cancelled())
        return Problem{Reason::Cancelled, "planning was cancelled", {}, {}, {}};
    plan.cautions = planCautions(request.machines);
    plan.verdict = verdictOf(plan);
    return plan;
}

} // namespace quoin::core
