// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/plan_work.h"

#include "core/calibration.h"
#include "core/jointed_pieces.h"
#include "core/plate_figures.h"
#include "core/plate_source.h"
#include "core/same_word.h"
#include "mesh/transform.h"

#include <fmt/format.h>

#include <algorithm>

namespace quoin::ui {

namespace {

Problem cancelled()
{
    return {Reason::Cancelled, "cancelled", {}, {}, {}};
}

/// "heron-neck/3#2" is a copy of the third line of heron-neck.
std::pair<std::string, int> lineOf(const std::string& id)
{
    const std::size_t slash = id.rfind('/');
    if (slash == std::string::npos)
        return {id, 0};
    int number = 0;
    for (std::size_t i = slash + 1; i < id.size() && id[i] >= '0' && id[i] <= '9'; ++i)
        number = 10 * number + (id[i] - '0');
    return {id.substr(0, slash), number};
}

} // namespace

/// One part made ready; its estimates by everything that they depend on.
struct PlanCache::Part {
    core::RealisedPtr realised;
    core::Project project; ///< with its assembly
    core::PartToPrint toPrint;
    struct Key {
        core::Recipe recipe;
        std::string material, machine;
        std::vector<core::PrintedRow> log;
        double density = 0, diameter = 0;
        friend bool operator==(const Key&, const Key&) = default;
    };
    std::vector<std::pair<Key, core::ProjectEstimate>> estimates; ///< of one set
};

PlanCache::PlanCache() = default;
PlanCache::~PlanCache() = default;

Status PlanCache::makeParts(const PlanQuestion& q, const Context& context)
{
    std::erase_if(m_parts, [&](const auto& known) { return q.design.part(known.first) == nullptr; });
    std::size_t done = 0;
    for (const core::PartDesign& design : q.design.parts) {
        context.report(0.1 * static_cast<double>(done++) / static_cast<double>(q.design.parts.size()),
                       "making the pieces ready");
        if (context.cancelled())
            return cancelled();
        const core::RealisedPtr& realised = q.realised.at(design.id);
        std::unique_ptr<Part>& part = m_parts[design.id];
        if (!part || part->realised != realised) {
            auto made = std::make_unique<Part>();
            made->realised = realised;
            made->project = realised->project;
            core::Project& p = made->project;
            auto jointed = core::jointedPieces(p.pieces, p.seams, p.plan, p.layout, context);
            if (!jointed)
                return jointed.problem();
            p.assembly = core::planAssembly(core::assemblyInput(p.pieces, p.plan, p.seams, p.layout.joints), context);
            auto list = core::partsList(p, *jointed);
            if (!list)
                return list.problem();
            for (core::Piece& piece : p.pieces)
                piece.mesh = {}; // the lists have what is printed
            made->toPrint.list = std::move(*list);
            made->toPrint.small = design.source;
            made->toPrint.scale = design.scale;
            part = std::move(made);
        }
        part->project.part.name = part->toPrint.name = design.name;
        part->project.part.material = part->toPrint.material = design.material;
        part->toPrint.machine = design.machine;
        const auto quantity = q.quantities.find(design.name);
        part->toPrint.quantity = quantity != q.quantities.end() ? quantity->second : design.quantity;
    }
    return Done{};
}

Result<core::ProjectEstimate> PlanCache::estimates(const PlanQuestion& q, const Context& context)
{
    core::ProjectEstimate out;
    out.recipe = q.setup.recipe;
    for (const core::PartDesign& design : q.design.parts) {
        if (context.cancelled())
            return cancelled();
        Part& part = *m_parts.at(design.id);
        core::PrintSetup setup = q.setup;
        if (const auto own = q.recipes.find(design.name); own != q.recipes.end())
            setup.recipe = own->second;
        const auto recipe = setup.recipes.find(setup.recipe);
        if (!recipe)
            return recipe.problem();
        const auto filament = setup.filaments.find(part.toPrint.material);
        if (!filament)
            return filament.problem();
        const Part::Key key{*recipe,          part.toPrint.material,    part.toPrint.machine,
                            setup.log.rows(), filament->densityGPerCm3, filament->diameterMm};
        auto known =
            std::find_if(part.estimates.begin(), part.estimates.end(), [&](const auto& e) { return e.first == key; });
        if (known == part.estimates.end()) {
            core::PartToPrint set = part.toPrint;
            set.quantity = 1;
            auto made = core::estimateParts({std::move(set)}, setup, context);
            if (!made)
                return made.problem();
            part.estimates.emplace_back(key, std::move(*made));
            known = std::prev(part.estimates.end());
        }
        const core::ProjectEstimate& e = known->second;
        for (core::EstimatedPiece piece : e.pieces) {
            piece.part = design.name;
            piece.count *= part.toPrint.quantity;
            out.pieces.push_back(std::move(piece));
        }
        for (const core::Filament& f : e.filaments)
            if (std::none_of(out.filaments.begin(), out.filaments.end(),
                             [&](const core::Filament& g) { return core::sameWord(f.material, g.material); }))
                out.filaments.push_back(*filament); // its price may have changed since
        if (out.calibration.find(e.calibration) == std::string::npos)
            out.calibration += (out.calibration.empty() ? "" : "; ") + e.calibration;
        out.notes.insert(out.notes.end(), e.notes.begin(), e.notes.end());
    }
    return out;
}

Result<PlanWorkPtr> PlanCache::work(const PlanQuestion& q, const Context& context)
{
    const std::lock_guard lock(m_lock);
    if (const Status s = makeParts(q, context); !s)
        return s.problem();
    auto estimate = estimates(q, context);
    if (!estimate)
        return estimate.problem();
    PlanQuestion other = q;
    other.setup.recipe = coarserRecipe(q.setup.recipes, q.setup.recipe);
    auto compared = core::ProjectEstimate{};
    if (q.compare && !other.setup.recipe.empty()) {
        other.recipes.clear();
        auto made = estimates(other, context);
        if (!made && made.problem().reason == Reason::Cancelled)
            return made.problem();
        if (made)
            compared = std::move(*made);
    }

    std::vector<core::ListedProject> listed;
    std::vector<core::PartToPrint> parts;
    for (const core::PartDesign& design : q.design.parts) {
        const Part& part = *m_parts.at(design.id);
        listed.push_back({&part.project, &part.toPrint.list, part.toPrint.quantity});
        parts.push_back(part.toPrint);
    }
    context.report(0.9, "shadows on the plate");
    core::PlateSourceOptions options;
    options.coupon = q.coupon;
    auto job = core::plateJobOf(listed, options, context);
    if (!job)
        return job.problem();
    std::map<std::pair<std::string, int>, const core::EstimatedPiece*> byLine, otherByLine;
    for (const core::EstimatedPiece& p : estimate->pieces)
        byLine[{p.part, p.number}] = &p;
    for (const core::EstimatedPiece& p : compared.pieces)
        otherByLine[{p.part, p.number}] = &p;
    for (core::PlatePieceInfo& piece : job->pieces) {
        // A wish for a piece that has gone is no reason to have no plan.
        piece.first = std::any_of(q.first.begin(), q.first.end(),
                                  [&](const std::string& wish) { return wish == piece.id || wish == piece.name; });
        const auto line = lineOf(piece.id);
        if (const auto at = byLine.find(line); at != byLine.end())
            if (const auto recipe = q.setup.recipes.find(at->second->recipe))
                piece.figures = core::figuresOf(at->second->each, *recipe);
        if (const auto at = otherByLine.find(line); at != otherByLine.end())
            if (const auto recipe = q.setup.recipes.find(at->second->recipe))
                piece.others = {core::figuresOf(at->second->each, *recipe)};
    }
    auto out = std::make_shared<PlanWork>();
    context.report(0.95, "what scaling does");
    if (!q.compare)
        out->scalingToCome = true;
    else if (auto scaling = core::scalingOfAll(parts, repriced(*estimate, q.setup), q.setup, context))
        out->scaling = std::move(*scaling);
    if (context.cancelled())
        return cancelled();
    if (!q.setup.log.rows().empty())
        out->past = core::pastEstimates(q.setup.log).words;
    out->scale = parts.empty() ? 1 : parts.front().scale;
    for (const core::PartToPrint& p : parts)
        if (p.scale != out->scale)
            out->scale = 0;
    out->estimate = std::move(*estimate);
    out->job = std::make_shared<const core::PlateJob>(std::move(*job));
    return PlanWorkPtr(out);
}

std::string coarserRecipe(const core::RecipeBook& book, const std::string& name)
{
    const auto recipe = book.find(name);
    const std::size_t space = name.find(' ');
    if (!recipe || space == std::string::npos)
        return {};
    const std::string purpose = name.substr(space);
    const core::Recipe* best = nullptr;
    const auto all = book.all();
    for (const core::Recipe& r : all)
        if (r.nozzleMm > recipe->nozzleMm && r.name.ends_with(purpose) &&
            (best == nullptr || r.nozzleMm < best->nozzleMm))
            best = &r;
    return best != nullptr ? best->name : std::string();
}

core::ProjectEstimate repriced(core::ProjectEstimate estimate, const core::PrintSetup& setup)
{
    for (core::EstimatedPiece& p : estimate.pieces) {
        const auto filament = setup.filaments.find(p.material);
        const double perKg = filament ? filament->pricePerKg : 0;
        p.each.materialCost = p.each.grams / 1000 * perKg;
        p.each.machineCost = p.each.hours * setup.machinePerHour + p.each.energyKwh * setup.pricePerKwh;
    }
    for (core::Filament& f : estimate.filaments)
        if (const auto now = setup.filaments.find(f.material))
            f = *now;
    return estimate;
}

core::ProjectEstimate onMachines(const core::ProjectEstimate& estimate, const core::PrintPlan& plan)
{
    std::map<std::pair<std::string, int>, std::map<std::size_t, int>> copies;
    for (const core::PlanBar& bar : plan.bars)
        for (const core::PlatePiece& on : plan.plates[bar.plate].pieces)
            ++copies[lineOf(plan.job.pieces[on.piece].id)][bar.machine];
    core::ProjectEstimate out = estimate;
    out.pieces.clear();
    for (const core::EstimatedPiece& p : estimate.pieces) {
        int left = p.count;
        for (const auto& [machine, n] : copies[std::pair(p.part, p.number)]) {
            core::EstimatedPiece some = p;
            some.count = std::min(n, left);
            some.machine = plan.request.machines[machine].name;
            left -= some.count;
            if (some.count > 0)
                out.pieces.push_back(std::move(some));
        }
        if (left > 0) {
            core::EstimatedPiece rest = p; // printed, or on no machine
            rest.count = left;
            rest.machine = "printed already, or on no machine";
            out.pieces.push_back(std::move(rest));
        }
    }
    return out;
}

} // namespace quoin::ui
