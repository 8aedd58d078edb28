// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/plate_build.h"

#include "core/nest_outline.h"
#include "core/same_word.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

namespace quoin::core {

using mesh::Region;

namespace {

constexpr double mostSharedHours = 24; ///< of a shared plate (common practice, no source)

bool takesRecipe(const PlatePieceInfo& piece, const Machine& machine)
{
    const double nozzle = piece.figures.nozzleMm;
    const bool nozzleFits = machine.nozzleMm <= 0 || nozzle <= 0 || std::abs(machine.nozzleMm - nozzle) < 1e-6;
    return nozzleFits && (machine.materials.empty() ||
                          std::any_of(machine.materials.begin(), machine.materials.end(),
                                      [&](const std::string& m) { return sameWord(m, piece.material); }));
}

bool tallEnough(const PlatePieceInfo& piece, const Machine& machine)
{
    return piece.heightMm <= (machine.bed.heightMm - machine.marginMm) * (1 + 1e-6);
}

/// Whether outlines fit machines, each asked once.
class Fits {
public:
    explicit Fits(const PlateJob& job) : m_job(job) {}
    bool operator()(const PlatePieceInfo& piece, const Machine& machine)
    {
        if (!takesRecipe(piece, machine) || !tallEnough(piece, machine))
            return false;
        const auto key =
            std::tuple(piece.outline, machine.bed.shape, machine.bed.widthMm, machine.bed.depthMm, machine.marginMm);
        const auto known = m_known.find(key);
        if (known != m_known.end())
            return known->second;
        const bool fits = fitsAlone(m_job.outlines[piece.outline], machine.bed, machine.marginMm);
        return m_known.emplace(key, fits).first->second;
    }

private:
    const PlateJob& m_job;
    std::map<std::tuple<std::size_t, Bed::Shape, double, double, double>, bool> m_known;
};

std::string whyNowhere(const PlateJob& job, const PlatePieceInfo& piece, const std::vector<Machine>& machines)
{
    if (std::none_of(machines.begin(), machines.end(), [&](const Machine& m) { return takesRecipe(piece, m); }))
        return fmt::format("no machine prints {} with the recipe \"{}\": take another recipe or machine",
                           piece.material, piece.figures.recipe);
    if (std::none_of(machines.begin(), machines.end(), [&](const Machine& m) { return tallEnough(piece, m); }))
        return fmt::format("it is {:.1f} mm high, more than any machine has: split it, or turn it another way",
                           piece.heightMm);
    const FlatBox box = flatBounds(job.outlines[piece.outline]);
    return fmt::format("its outline of {:.1f} x {:.1f} mm fits no bed with the margin: split it, or take a larger bed",
                       box.high.x - box.low.x, box.high.y - box.low.y);
}

/// Pieces that may share plates.
struct Group {
    std::string material, recipe;
    int urgency;
    std::vector<char> machines;
    std::vector<std::size_t> pieces;
};

int urgencyOf(const PlatePieceInfo& piece)
{
    return piece.testFit ? 0 : piece.first ? 1 : 2;
}

/// The smallest bed among those that can print a group: what lies on it lies on the others too, mostly.
std::size_t smallestOf(const std::vector<Machine>& machines, const std::vector<char>& mask)
{
    std::size_t best = machines.size();
    const auto area = [&](std::size_t m) { return machines[m].bed.widthMm * machines[m].bed.depthMm; };
    for (std::size_t m = 0; m < machines.size(); ++m)
        if (mask[m] != 0 && (best == machines.size() || area(m) < area(best)))
            best = m;
    return best;
}

class Builder {
public:
    Builder(const PlateJob& job, const std::vector<Machine>& machines, const PlateRules& rules, const Context& context)
        : m_job(job), m_machines(machines), m_rules(rules), m_context(context)
    {
    }

    Result<PlateSet> run()
    {
        setLimit();
        const std::vector<Group> groups = grouped();
        for (const Group& g : groups)
            if (const Status s = nestGroup(g); !s)
                return s.problem();
        if (m_context.cancelled())
            return Problem{Reason::Cancelled, "nesting was cancelled", {}, {}, {}};
        return std::move(m_out);
    }

private:
    /// Failure rates and waits of the machines, averaged: plates are made before it is known where they go.
    void setLimit()
    {
        double limit = 0, change = 0, chance = 0;
        for (const Machine& m : m_machines) {
            const WorkTime time(m.calendar, Moment(std::chrono::local_days(std::chrono::year(2024) / 1 / 1)));
            const double cost = m.changeMinutes / 60 + time.meanWaitHours();
            change += cost / static_cast<double>(m_machines.size());
            limit = std::max(limit, sharedPlateHours(m.failure, cost));
            chance += m.failure.chance(10) / static_cast<double>(m_machines.size());
        }
        const double byRisk = std::max(limit, m_rules.aloneOverHours);
        m_out.sharedHours = m_rules.mostHours.value_or(std::min(byRisk, mostSharedHours));
        if (m_rules.mostHours)
            m_out.sharedWords =
                fmt::format("plates of several pieces take at most {:g} h, as told", *m_rules.mostHours);
        else if (byRisk < mostSharedHours)
            m_out.sharedWords = fmt::format("plates of several pieces take at most {:.0f} h: a plate more costs {:.1f} "
                                            "h for changing it and waiting "
                                            "until somebody is there, and a failure, which loses the whole plate "
                                            "({:.1f} % in 10 h), costs more than "
                                            "that beyond",
                                            m_out.sharedHours, change, 100 * chance);
        else
            m_out.sharedWords =
                fmt::format("plates of several pieces take at most a day, so that somebody sees each "
                            "of them daily; by the failures given ({:.1f} % in 10 h) they could be longer",
                            100 * chance);
    }

    std::vector<Group> grouped()
    {
        std::map<std::tuple<int, std::string, std::string, std::vector<char>>, Group> groups;
        Fits fits(m_job);
        for (std::size_t i = 0; i < m_job.pieces.size(); ++i) {
            const PlatePieceInfo& piece = m_job.pieces[i];
            std::vector<char> mask;
            for (const Machine& m : m_machines)
                mask.push_back(fits(piece, m) ? 1 : 0);
            if (std::find(mask.begin(), mask.end(), 1) == mask.end()) {
                m_out.left.push_back({i, whyNowhere(m_job, piece, m_machines)});
                continue;
            }
            const int urgency = urgencyOf(piece);
            Group& g = groups[{urgency, piece.material, piece.figures.recipe, mask}];
            g = {piece.material, piece.figures.recipe, urgency, mask, std::move(g.pieces)};
            g.pieces.push_back(i);
        }
        std::vector<Group> out;
        for (auto& [key, g] : groups)
            out.push_back(std::move(g));
        return out;
    }

    /// Why a piece stands alone; empty when it may share.
    std::string aloneWords(const PlatePieceInfo& piece) const
    {
        if (piece.figures.hours > m_rules.aloneOverHours)
            return fmt::format("alone: {:.1f} h, more than the {:g} h from which a piece gets a plate of its own, so "
                               "that one failure loses no other",
                               piece.figures.hours, m_rules.aloneOverHours);
        if (piece.heightMm > m_rules.tallAloneMm)
            return fmt::format("alone: {:.0f} mm tall, more than {:g} mm; a tall piece that is knocked over takes "
                               "others with it",
                               piece.heightMm, m_rules.tallAloneMm);
        if (piece.failed > 0)
            return fmt::format("alone: it has failed {} before",
                               piece.failed == 1 ? "once" : fmt::format("{} times", piece.failed));
        return {};
    }

    Status nestGroup(const Group& group)
    {
        const std::size_t machine = smallestOf(m_machines, group.machines);
        NestRules rules;
        rules.marginMm = m_machines[machine].marginMm;
        rules.gapMm = 0;
        for (std::size_t m = 0; m < m_machines.size(); ++m)
            if (group.machines[m] != 0)
                rules.gapMm = std::max(rules.gapMm, m_machines[m].gapMm);
        rules.mostLoad = m_out.sharedHours;
        rules.work = m_rules.nestWork;
        rules.seed = m_rules.seed;
        std::vector<NestItem> items;
        std::map<std::size_t, std::size_t> known;
        std::vector<Region> outlines;
        for (const std::size_t i : group.pieces) {
            const PlatePieceInfo& piece = m_job.pieces[i];
            const auto [at, isNew] = known.emplace(piece.outline, outlines.size());
            if (isNew)
                outlines.push_back(m_job.outlines[piece.outline]);
            items.push_back({at->second, piece.figures.hours, !aloneWords(piece).empty()});
        }
        auto nesting = nest(outlines, items, m_machines[machine].bed, rules, m_context);
        if (!nesting)
            return nesting.problem();
        m_out.leastPlates += nesting->leastPlates;
        m_out.leastWords = nesting->leastWords;
        for (const NestPlate& plate : nesting->plates)
            addPlate(group, machine, plate);
        for (const std::size_t item : nesting->unplaced)
            m_out.left.push_back({group.pieces[item], "it finds no place on the plate with its gap"});
        return Done{};
    }

    void addPlate(const Group& group, std::size_t machine, const NestPlate& nested)
    {
        Plate plate;
        plate.number = static_cast<int>(m_out.plates.size()) + 1;
        plate.material = group.material;
        plate.recipe = group.recipe;
        plate.urgency = group.urgency;
        plate.laidOutFor = machine;
        plate.filledShare = nested.filledShare;
        double startHours = 0, startGrams = 0;
        for (const NestPlace& p : nested.places) {
            const std::size_t index = group.pieces[p.item];
            const PlatePieceInfo& piece = m_job.pieces[index];
            plate.pieces.push_back({index, p.turn, p.at});
            plate.hours += piece.figures.hours;
            plate.grams += piece.figures.grams;
            plate.lowHours += piece.figures.lowHours;
            plate.highHours += piece.figures.highHours;
            plate.heightMm = std::max(plate.heightMm, piece.heightMm);
            startHours = std::max(startHours, piece.figures.startUpHours);
            startGrams = std::max(startGrams, piece.figures.startUpGrams);
        }
        plate.hours += startHours;
        plate.lowHours += startHours;
        plate.highHours += startHours;
        plate.grams += startGrams;
        plate.reason = reasonOf(plate);
        for (std::size_t m = 0; m < m_machines.size(); ++m)
            plate.machines.push_back(group.machines[m] != 0 && plateFits(m_job, plate, m_machines[m]) ? 1 : 0);
        m_out.plates.push_back(std::move(plate));
    }

    std::string reasonOf(const Plate& plate) const
    {
        const PlatePieceInfo& first = m_job.pieces[plate.pieces.front().piece];
        const std::string test = plate.urgency == 0 ? "test fit; " : plate.urgency == 1 ? "wanted first; " : "";
        if (plate.pieces.size() == 1) {
            const std::string alone = aloneWords(first);
            return test +
                   (alone.empty() ? "alone: nothing else of its material and recipe finds room beside it" : alone);
        }
        const Machine& machine = m_machines[plate.laidOutFor];
        double single = 0;
        for (const PlatePiece& p : plate.pieces)
            single += machine.failure.meanHours(m_job.pieces[p.piece].figures.hours);
        const double risk = machine.failure.meanHours(plate.hours) - single;
        const std::size_t saved = plate.pieces.size() - 1;
        return fmt::format("{}{} pieces together: {} plate change{} less, {:.1f} h of somebody's time, and no wait for "
                           "{}; that a failure loses all of them costs {:.1f} h on average",
                           test, plate.pieces.size(), saved, saved == 1 ? "" : "s",
                           static_cast<double>(saved) * machine.changeMinutes / 60, saved == 1 ? "it" : "them",
                           std::max(risk, 0.0));
    }

    const PlateJob& m_job;
    const std::vector<Machine>& m_machines;
    const PlateRules& m_rules;
    const Context& m_context;
    PlateSet m_out;
};

} // namespace

std::vector<Region> placedOutlines(const PlateJob& job, const Plate& plate)
{
    std::vector<Region> out;
    for (const PlatePiece& p : plate.pieces)
        out.push_back(shifted(turned(job.outlines[job.pieces[p.piece].outline], p.turn), p.at));
    return out;
}

bool plateFits(const PlateJob& job, const Plate& plate, const Machine& machine)
{
    for (const PlatePiece& p : plate.pieces) {
        const PlatePieceInfo& piece = job.pieces[p.piece];
        if (!takesRecipe(piece, machine) || !tallEnough(piece, machine))
            return false;
    }
    if (plate.pieces.size() == 1)
        return fitsAlone(job.outlines[job.pieces[plate.pieces[0].piece].outline], machine.bed, machine.marginMm);
    const NestCheck check = checkNest(placedOutlines(job, plate), machine.bed);
    return check.leastEdgeMm >= machine.marginMm - 0.002 && check.leastGapMm >= machine.gapMm - 0.002;
}

Plate laidOutOn(const PlateJob& job, const Plate& plate, const Machine& machine, std::size_t index)
{
    Plate out = plate;
    out.laidOutFor = index;
    if (plate.pieces.size() != 1)
        return out;
    NestRules rules;
    rules.marginMm = machine.marginMm;
    const Region& outline = job.outlines[job.pieces[plate.pieces[0].piece].outline];
    const auto nesting = nest({outline}, {NestItem{}}, machine.bed, rules);
    if (nesting && nesting->plates.size() == 1) {
        out.pieces[0].turn = nesting->plates[0].places[0].turn;
        out.pieces[0].at = nesting->plates[0].places[0].at;
        out.filledShare = nesting->plates[0].filledShare;
    }
    return out;
}

Result<PlateSet> makePlates(const PlateJob& job, const std::vector<Machine>& machines, const PlateRules& rules,
                            const Context& context)
{
    if (machines.empty())
        return Problem{Reason::BadArgument, "there is no machine to print on", {}, {}, "Name one, or keep one first."};
    for (const PlatePieceInfo& piece : job.pieces)
        if (piece.outline >= job.outlines.size() || job.outlines[piece.outline].empty() ||
            !(piece.figures.hours > 0 && piece.figures.hours < 1e5) || !(piece.figures.grams >= 0))
            return Problem{Reason::BadArgument,
                           fmt::format("{} has no outline, or no hours", piece.name),
                           piece.file,
                           {},
                           "Check its mesh and the recipe."};
    return Builder(job, machines, rules, context).run();
}

} // namespace quoin::core
