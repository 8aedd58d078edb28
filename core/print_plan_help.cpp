// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/print_plan_parts.h"
#include "core/same_word.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace quoin::core {

namespace {

constexpr double leastGainHours = 0.5;
constexpr double leastChance = 0.04; ///< two such chances of 500 runs are apart by less for no reason
constexpr double splitOverhead =
    1.05; ///< two halves take a twentieth more than the whole: a face, a joint, a skin each
constexpr int fewRuns = 500;
constexpr long fewTries = 4000;
constexpr std::size_t firstsTried = 3;
constexpr int moreMinutes = 120; ///< of somebody there, at the end of each day that has hours

class Helper {
public:
    Helper(const PrintPlan& plan, const ToPrint& toPrint, const PlateSet& set,
           const std::vector<std::vector<std::size_t>>& order, const Context& context)
        : m_plan(plan), m_toPrint(toPrint), m_set(set), m_order(order), m_context(context)
    {
        // The chance with as few runs as the others get, so that like is compared with like.
        PrintPlan again = plan;
        if (plan.request.simulations > 0 && plan.request.deadline)
            addChance(again, std::min(plan.request.simulations, fewRuns), context);
        m_chance = again.chance ? again.chance->kept : std::nullopt;
    }

    std::vector<PlanHelp> found()
    {
        moreMachines();
        moreHours();
        otherRecipes();
        splitLongest();
        firstOnes();
        otherPlates();
        std::stable_sort(m_out.begin(), m_out.end(), [](const PlanHelp& a, const PlanHelp& b) {
            return a.piecesGained != b.piecesGained ? a.piecesGained > b.piecesGained
                   : a.hoursGained != b.hoursGained ? a.hoursGained > b.hoursGained
                                                    : a.chanceGained.value_or(0) > b.chanceGained.value_or(0);
        });
        return std::move(m_out);
    }

private:
    /// From the plan's own order when the plates are the same; machines may have been added.
    PrintPlan planned(const ToPrint& toPrint, const PlanRequest& request, const PlateSet& set,
                      bool samePlates = true) const
    {
        PlanRequest light = request;
        light.tries = std::min(request.tries, fewTries);
        std::vector<std::vector<std::size_t>> order;
        if (samePlates) {
            order = m_order;
            order.resize(request.machines.size());
        }
        PrintPlan plan = scheduledPlan(toPrint, light, set, order, m_context);
        if (request.simulations > 0 && request.deadline)
            addChance(plan, std::min(request.simulations, fewRuns), m_context);
        return plan;
    }

    /// Keeps an option when it gains anything. Pieces that could not be printed and now can count as a gain.
    void offer(const std::string& kind, const std::string& words, const std::string& assumption, const PrintPlan& plan)
    {
        if (m_context.cancelled() || plan.left.size() > m_plan.left.size())
            return;
        PlanHelp help;
        help.kind = kind;
        help.words = words;
        help.assumption = assumption;
        help.finish = plan.finish;
        help.hoursGained = hoursBetween(plan.finish, m_plan.finish);
        if (plan.chance && m_chance) {
            help.chance = plan.chance->kept;
            help.chanceGained = *plan.chance->kept - *m_chance;
        }
        help.piecesGained = m_plan.left.size() - plan.left.size();
        if (help.piecesGained == 0 && help.hoursGained < leastGainHours && help.chanceGained.value_or(0) < leastChance)
            return;
        m_out.push_back(std::move(help));
    }

    void tryRequest(const std::string& kind, const std::string& words, const std::string& assumption,
                    const PlanRequest& request)
    {
        offer(kind, words, assumption, planned(m_toPrint, request, m_set));
    }

    void moreMachines()
    {
        std::set<std::string> alike;
        for (std::size_t m = 0; m < m_plan.request.machines.size(); ++m) {
            PlanRequest request = m_plan.request;
            Machine more = request.machines[m];
            Machine plain = more;
            plain.name.clear();
            if (!alike.insert(machineWords(plain)).second)
                continue;
            more.name += " (one more)";
            request.machines.push_back(more);
            ToPrint toPrint = m_toPrint;
            toPrint.freeFrom.push_back(0);
            PlateSet set = m_set;
            for (Plate& p : set.plates)
                p.machines.push_back(p.machines[m]);
            offer("machine", fmt::format("One more machine like {}", m_plan.request.machines[m].name),
                  "it is there from the start, and the same people change its plates", planned(toPrint, request, set));
        }
    }

    void moreHours()
    {
        const auto all = [&](const auto& change) {
            PlanRequest request = m_plan.request;
            bool changed = false;
            for (Machine& m : request.machines)
                changed = change(m.calendar) || changed;
            return changed ? std::optional(request) : std::nullopt;
        };
        if (const auto request = all([](WorkCalendar& c) { return !std::exchange(c.nights, true); }))
            tryRequest("nights", "Let the machines run at night", "nobody is there then: see the cautions", *request);
        if (const auto request = all([](WorkCalendar& c) { return !std::exchange(c.weekends, true); }))
            tryRequest("weekends", "Let the machines run at weekends", "nobody is there then: see the cautions",
                       *request);
        if (const auto request = all([](WorkCalendar& c) {
                bool changed = false;
                for (auto& day : c.days)
                    if (!day.empty() && day.back().toMinute < 24 * 60) {
                        day.back().toMinute = std::min(24 * 60, day.back().toMinute + moreMinutes);
                        changed = true;
                    }
                return changed;
            }))
            tryRequest("attended", "Somebody there two hours longer each day", "", *request);
        if (const auto request = all([](WorkCalendar& c) {
                bool changed = false;
                for (const std::size_t day : {5u, 6u})
                    if (c.days[day].empty()) {
                        c.days[day] = {{10 * 60, 12 * 60}};
                        changed = true;
                    }
                return changed;
            }))
            tryRequest("attended", "Somebody there from 10 to 12 on Saturdays and Sundays, to change plates", "",
                       *request);
        if (m_plan.request.testFits != TestFits::Never) {
            PlanRequest request = m_plan.request;
            request.testFits = TestFits::Never;
            ToPrint toPrint = m_toPrint;
            for (PlatePieceInfo& p : toPrint.job.pieces)
                p.testFit = false;
            PlateSet set = m_set;
            for (Plate& p : set.plates)
                p.urgency = std::max(p.urgency, 1);
            offer("tests", "No test fit first", "a wrong clearance is then found late: seldom worth it",
                  planned(toPrint, request, set));
        }
    }

    /// All pieces for which figures with another recipe are known.
    void otherRecipes()
    {
        std::set<std::string> names;
        for (const PlatePieceInfo& p : m_toPrint.job.pieces)
            for (const PieceFigures& f : p.others)
                names.insert(f.recipe);
        for (const std::string& name : names) {
            ToPrint toPrint = m_toPrint;
            std::size_t changed = 0;
            double grams = 0;
            for (PlatePieceInfo& p : toPrint.job.pieces)
                for (const PieceFigures& f : p.others)
                    if (f.recipe == name && f.hours < p.figures.hours) {
                        grams += f.grams - p.figures.grams;
                        p.figures = f;
                        ++changed;
                        break;
                    }
            if (changed == 0)
                continue;
            replan("recipe", fmt::format("The recipe \"{}\" for {} piece{}", name, changed, changed == 1 ? "" : "s"),
                   fmt::format("{:+.0f} g; every machine for it needs the recipe's nozzle", grams), toPrint,
                   m_plan.request, true);
        }
    }

    /// The piece of the most hours in two halves.
    void splitLongest()
    {
        const auto& pieces = m_toPrint.job.pieces;
        const auto longest = std::max_element(pieces.begin(), pieces.end(), [](const auto& a, const auto& b) {
            return a.figures.hours < b.figures.hours;
        });
        if (longest == pieces.end())
            return;
        ToPrint toPrint = m_toPrint;
        PlatePieceInfo& half = toPrint.job.pieces[static_cast<std::size_t>(longest - pieces.begin())];
        PieceFigures& f = half.figures;
        for (double* v : {&f.hours, &f.lowHours, &f.highHours, &f.grams, &f.lowGrams, &f.highGrams})
            *v *= splitOverhead / 2;
        half.heightMm /= 2;
        PlatePieceInfo other = half;
        other.id += " (other half)";
        const std::string words = fmt::format("Split {} ({:.1f} h) in two", longest->name, longest->figures.hours);
        toPrint.job.pieces.push_back(std::move(other));
        replan("split", words, "two halves take a twentieth more than the whole, and need a joint", toPrint,
               m_plan.request, false);
    }

    /// The plates that would hurt most, each first.
    void firstOnes()
    {
        std::vector<std::size_t> order;
        for (std::size_t i = 0; i < m_set.plates.size(); ++i)
            if (m_set.plates[i].urgency >= 2)
                order.push_back(i);
        std::stable_sort(order.begin(), order.end(),
                         [&](std::size_t a, std::size_t b) { return m_set.plates[a].hours > m_set.plates[b].hours; });
        order.resize(std::min(order.size(), firstsTried));
        for (const std::size_t i : order) {
            PlateSet set = m_set;
            set.plates[i].urgency = 1;
            offer("first",
                  fmt::format("Print {} first ({:.1f} h)", m_toPrint.job.pieces[set.plates[i].pieces[0].piece].name,
                              set.plates[i].hours),
                  "", planned(m_toPrint, m_plan.request, set));
        }
    }

    void otherPlates()
    {
        PlanRequest request = m_plan.request;
        request.plates.aloneOverHours = 1e4;
        request.plates.tallAloneMm = 1e5;
        request.plates.mostHours = std::max(m_set.sharedHours, 48.0);
        replan("plates", "Fill the plates as far as they go, up to two days each",
               "a failure then loses more at once, which the chance takes into account", m_toPrint, request, false);
        request = m_plan.request;
        request.plates.mostHours = 6;
        request.plates.aloneOverHours = std::min(request.plates.aloneOverHours, 6.0);
        replan("plates", "Smaller plates, of six hours at most when shared", "", m_toPrint, request, false);
    }

    void replan(const std::string& kind, const std::string& words, const std::string& assumption,
                const ToPrint& toPrint, PlanRequest request, bool anyNozzle)
    {
        if (anyNozzle)
            for (Machine& m : request.machines)
                m.nozzleMm = 0;
        request.plates.nestWork /= 4;
        const auto set = makePlates(toPrint.job, request.machines, request.plates, m_context);
        if (set)
            offer(kind, words, assumption, planned(toPrint, request, *set, false));
    }

    const PrintPlan& m_plan;
    const ToPrint& m_toPrint;
    const PlateSet& m_set;
    const std::vector<std::vector<std::size_t>>& m_order;
    const Context& m_context;
    std::optional<double> m_chance;
    std::vector<PlanHelp> m_out;
};

} // namespace

std::vector<PlanHelp> whatHelps(const PrintPlan& plan, const ToPrint& toPrint, const PlateSet& set,
                                const std::vector<std::vector<std::size_t>>& order, const Context& context)
{
    if (context.cancelled())
        return {};
    context.report(0.9, "looking for what would help");
    return Helper(plan, toPrint, set, order, context).found();
}

} // namespace quoin::core
