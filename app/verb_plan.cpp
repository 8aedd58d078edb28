// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/console.h"
#include "app/plan_report.h"
#include "app/verbs.h"

#include "core/design_file.h"
#include "core/jointed_pieces.h"
#include "core/parts_list.h"
#include "core/plate_figures.h"
#include "core/plate_source.h"
#include "core/print_plan_file.h"
#include "core/realise.h"
#include "core/state_folder.h"
#include "ui/plan_pdf.h"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <iostream>
#include <optional>

namespace quoin::app {

namespace fs = std::filesystem;

namespace {

struct PlanVerb {
    std::string job, start, deadline, out, recipe, coupon, tests;
    std::vector<std::string> machines, first, quantities, printed, failed, printing, planned;
    std::optional<double> alone, tall, shared, grams, hours, kwh;
    std::string machine, at;
    std::optional<int> runs;
    std::optional<std::uint64_t> seed;
    std::string soonest;
    bool asJson = false, noHelp = false, fresh = false;
};

/// A machine by its name in the shop, or a generic one by its bed.
Result<core::Machine> machineNamed(const std::string& text, const core::Shop& shop)
{
    if (const core::Machine* m = shop.machine(text); m != nullptr)
        return *m;
    const auto bed = core::bedFromText(text, {});
    if (!bed)
        return Problem{Reason::BadArgument,
                       fmt::format("there is no machine called \"{}\"", text),
                       {},
                       {},
                       "Keep it first (quoin machines set), or give a bed like 300x300x400 for one with usual values."};
    core::Machine m;
    m.name = text;
    m.bed = *bed;
    m.bed.machines = 1;
    return m;
}

Status setMachines(const PlanVerb& o, const core::Shop& shop, core::PlanRequest& request)
{
    if (!o.machines.empty()) {
        request.machines.clear();
        for (const std::string& text : o.machines) {
            auto m = machineNamed(text, shop);
            if (!m)
                return m.problem();
            request.machines.push_back(std::move(*m));
        }
        return Done{};
    }
    if (request.machines.empty())
        request.machines = shop.machines;
    // A machine of the shop is taken as it is now.
    for (core::Machine& m : request.machines)
        if (const core::Machine* now = shop.machine(m.name); now != nullptr)
            m = *now;
    if (request.machines.empty())
        return Problem{Reason::BadArgument,
                       "there is no machine to print on",
                       {},
                       {},
                       "Give --machine, or keep one with quoin machines set."};
    return Done{};
}

Result<core::Moment> momentOr(const std::string& text, core::Moment otherwise)
{
    return text.empty() ? Result<core::Moment>(otherwise) : core::momentFromText(text);
}

Status setRequest(const PlanVerb& o, const core::Shop& shop, core::PlanDocument& document)
{
    core::PlanRequest& r = document.request;
    if (const Status s = setMachines(o, shop, r); !s)
        return s;
    r.stock = shop.stock;
    if (o.start.empty() && r.start == core::Moment{})
        return Problem{
            Reason::BadArgument, "it isn't said when printing begins", {}, {}, "Give --start \"2026-12-01 08:00\"."};
    const auto start = momentOr(o.start, r.start);
    if (!start)
        return start.problem();
    r.start = *start;
    if (o.deadline == "none") {
        r.deadline.reset();
    } else if (!o.deadline.empty()) {
        const auto deadline = core::momentFromText(o.deadline);
        if (!deadline)
            return deadline.problem();
        r.deadline = *deadline;
    }
    if (!o.tests.empty()) {
        if (o.tests != "never" && o.tests != "first" && o.tests != "wait")
            return Problem{Reason::BadArgument,
                           fmt::format("\"{}\" is no way to treat test fits", o.tests),
                           {},
                           {},
                           "Write never, first, or wait."};
        r.testFits = o.tests == "never"   ? core::TestFits::Never
                     : o.tests == "first" ? core::TestFits::First
                                          : core::TestFits::FirstAndWait;
    }
    r.plates.aloneOverHours = o.alone.value_or(r.plates.aloneOverHours);
    r.plates.tallAloneMm = o.tall.value_or(r.plates.tallAloneMm);
    if (o.shared)
        r.plates.mostHours = *o.shared;
    r.pricePerKwh = o.kwh.value_or(r.pricePerKwh);
    r.simulations = o.runs.value_or(r.simulations);
    r.seed = o.seed.value_or(r.seed);
    r.plates.seed = r.seed;
    r.help = !o.noHelp;
    if (!o.soonest.empty() && o.soonest != "yes" && o.soonest != "no")
        return Problem{Reason::BadArgument,
                       fmt::format("\"{}\" is neither yes nor no", o.soonest),
                       {},
                       {},
                       "Write --soonest yes, or --soonest no."};
    if (!o.soonest.empty())
        r.sturdy = o.soonest == "no";
    return Done{};
}

Status setSource(const PlanVerb& o, core::PlanDocument& document)
{
    if (!o.recipe.empty())
        document.recipe = o.recipe;
    if (!o.coupon.empty())
        document.coupon = o.coupon == "none" ? std::string() : fs::absolute(o.coupon).string();
    if (!o.first.empty())
        document.first = o.first.size() == 1 && o.first[0] == "none" ? std::vector<std::string>{} : o.first;
    for (const std::string& text : o.quantities) {
        const std::size_t equals = text.rfind('=');
        int n = 0;
        try {
            n = equals == std::string::npos ? 0 : std::stoi(text.substr(equals + 1));
        } catch (const std::exception&) {
            n = 0;
        }
        if (n < 1 || n > 1000)
            return Problem{Reason::BadArgument,
                           fmt::format("\"{}\" is no quantity of a part", text),
                           {},
                           {},
                           "Write --quantity heron-leg=2."};
        document.quantities[text.substr(0, equals)] = n;
    }
    return Done{};
}

Result<core::PlateJob> jobOfDesign(const fs::path& file, const core::PlateSourceOptions& options,
                                   const Context& context)
{
    core::MeshKeeper keeper;
    auto opened = core::openDesign(file, keeper, {}, context);
    if (!opened)
        return opened.problem();
    std::vector<core::Project> projects;
    std::vector<std::vector<core::ListedPart>> lists;
    std::vector<int> quantities;
    for (const core::PartDesign& part : opened->design.parts) {
        const auto realised = core::realise(opened->design, part, {}, {}, context);
        if (!realised)
            return realised.problem();
        core::Project project = (*realised)->project;
        auto jointed = core::jointedPieces(project.pieces, project.seams, project.plan, project.layout, context);
        if (!jointed)
            return jointed.problem();
        project.assembly = core::planAssembly(
            core::assemblyInput(project.pieces, project.plan, project.seams, project.layout.joints), context);
        auto list = core::partsList(project, *jointed);
        if (!list)
            return list.problem();
        projects.push_back(std::move(project));
        lists.push_back(std::move(*list));
        quantities.push_back(part.quantity);
    }
    std::vector<core::ListedProject> listed;
    for (std::size_t i = 0; i < projects.size(); ++i)
        listed.push_back({&projects[i], &lists[i], quantities[i]});
    return core::plateJobOf(listed, options, context);
}

Result<core::PlateJob> jobOf(const PlanVerb& o, const core::PlanDocument& document, core::PrintSetup setup,
                             const Context& context)
{
    core::PlateSourceOptions options;
    setup.recipe = document.recipe;
    setup.pricePerKwh = document.request.pricePerKwh;
    if (document.request.machines.size() == 1) // several: it isn't known yet which one prints what
        setup.machine = document.request.machines.front().name;
    options.figures = core::figuresWith(setup, o.noHelp ? std::vector<std::string>{}
                                                        : core::coarserRecipes(setup.recipes, setup.recipe));
    options.quantities = document.quantities;
    options.coupon = document.coupon;
    options.first = document.first;
    return fs::is_directory(o.job) ? core::plateJobOf(fs::path(o.job), options, context)
                                   : jobOfDesign(o.job, options, context);
}

/// What the maker reports, for pieces that are there.
Status addReports(const PlanVerb& o, const core::PlateJob& job, core::PlanDocument& document)
{
    const auto at = momentOr(o.at.empty() ? o.start : o.at, document.request.start);
    if (!at)
        return at.problem();
    for (const auto& [names, state] : {std::pair(&o.printed, core::PieceState::Printed),
                                       {&o.failed, core::PieceState::Failed},
                                       {&o.printing, core::PieceState::Printing},
                                       {&o.planned, core::PieceState::Planned}})
        for (const std::string& name : *names) {
            const auto reports = core::reportsFor(job, document, name, {{}, state, *at, o.machine, o.grams, o.hours});
            if (!reports)
                return reports.problem();
            for (const core::PieceReport& report : *reports) {
                auto more = core::withReport(document.request.progress, report);
                if (!more)
                    return more.problem();
                document.request.progress = std::move(*more);
            }
        }
    return Done{};
}

/// What was weighed and timed goes into the maker's log, so that the next estimate is better.
Status addToLog(const core::PlateJob& job, const core::PlanProgress& progress, std::size_t known, core::PrintLog log)
{
    const std::size_t before = log.rows().size();
    for (std::size_t i = known; i < progress.reports.size(); ++i)
        for (const core::PlatePieceInfo& piece : job.pieces)
            if (piece.id == progress.reports[i].piece) {
                auto more = core::logWith(log, piece, progress.reports[i]);
                if (!more)
                    return more.problem();
                log = std::move(*more);
            }
    return log.rows().size() == before ? Status(Done{}) : log.save(core::PrintLog::defaultFile());
}

int plan(const PlanVerb& o, const Context& context)
{
    const fs::path file = core::planFileOf(o.job);
    core::PlanDocument document;
    if (fs::exists(file) && !o.fresh) {
        auto known = core::loadPlan(file);
        if (!known)
            return say(known.problem());
        document = std::move(*known);
    }
    const auto shop = core::loadShop(core::machinesFile());
    if (!shop)
        return say(shop.problem());
    for (const Status& s : {setRequest(o, *shop, document), setSource(o, document)})
        if (!s)
            return say(s.problem());
    auto setup = core::loadPrintSetup();
    if (!setup)
        return say(setup.problem());
    const auto job = jobOf(o, document, *setup, context);
    if (!job)
        return say(job.problem());
    const std::size_t known = document.request.progress.reports.size();
    if (const Status s = addReports(o, *job, document); !s)
        return say(s.problem());
    const auto made = core::planPrinting(*job, document.request, context);
    if (!made)
        return say(made.problem());
    if (const Status s = core::savePlan(core::withPlates(document, *made), file); !s)
        return say(s.problem());
    if (const Status s = addToLog(*job, document.request.progress, known, setup->log); !s)
        return say(s.problem());
    constexpr std::string_view planEnd = ".plan.json";
    const std::string whole = file.filename().string();
    const std::string name = whole.substr(0, whole.size() - planEnd.size());
    if (!o.out.empty()) {
        const auto files = core::writePlanFiles(*made, name, core::timeStamp(), o.out, {}, {"plan.pdf"});
        if (!files)
            return say(files.problem());
        if (const Status s = ui::writePlanPdf(*made, name, fs::path(o.out) / "plan.pdf"); !s)
            return say(s.problem());
    }
    clearProgress();
    if (o.asJson)
        std::cout << core::planJson(*made).dump(1, ' ', false, nlohmann::json::error_handler_t::replace) << "\n";
    else
        printPlan(*made, file.string(), o.out);
    return Ok;
}

void addOptions(CLI::App* verb, const std::shared_ptr<PlanVerb>& o)
{
    verb->add_option("job", o->job, "Folder of an export, one that holds several, or NAME.quoin.json")->required();
    verb->add_option("--machine", o->machines,
                     "A machine of yours, or a bed like 300x300x400 for one with usual values; may be repeated")
        ->allow_extra_args(false);
    verb->add_option("--start", o->start, "When printing begins, or begins again: \"2026-12-01 08:00\"");
    verb->add_option("--deadline", o->deadline, "When all has to be ready; none for no date");
    verb->add_option("--out", o->out, "Folder for the plan: PDF, CSV, calendar, pictures");
    verb->add_option("--recipe", o->recipe, "Recipe that the pieces are printed with");
    verb->add_option("--coupon", o->coupon, "Folder of a fit coupon to print first; none for none");
    verb->add_option("--tests", o->tests, "Test fits: never, first (default), or wait until they are ready");
    verb->add_option("--first", o->first, "A piece wanted first; may be repeated")->allow_extra_args(false);
    verb->add_option("--quantity", o->quantities, "PART=N: how often a part is made; may be repeated")
        ->allow_extra_args(false);
    verb->add_option("--alone-over", o->alone, "Pieces of more hours get a plate of their own (default 10)");
    verb->add_option("--tall-alone", o->tall, "So do pieces taller than this, mm (default 200)");
    verb->add_option("--shared-most", o->shared, "Hours that a plate of several pieces may take (default: by risk)");
    verb->add_option("--soonest", o->soonest,
                     "yes: the order that ends first, even when one little later stands failures better (default no)");
    verb->add_option("--kwh-price", o->kwh, "Of a kWh, in your money");
    verb->add_option("--runs", o->runs, "How often the plan is played through for the chance (default 2000)")
        ->check(CLI::Range(0, 1'000'000));
    verb->add_option("--seed", o->seed, "Of the dice and searches: the same seed, the same plan");
    verb->add_option("--done,--printed", o->printed,
                     "A piece that is printed, or \"plate 3\" of the last plan; may be repeated")
        ->allow_extra_args(false);
    verb->add_option("--failed", o->failed, "A piece that has failed; may be repeated")->allow_extra_args(false);
    verb->add_option("--printing", o->printing, "A piece that is being printed now")->allow_extra_args(false);
    verb->add_option("--planned", o->planned, "Take back what was said of a piece")->allow_extra_args(false);
    verb->add_option("--grams", o->grams, "What the reported piece really weighed");
    verb->add_option("--hours", o->hours, "What it really took, or is expected to take");
    verb->add_option("--on", o->machine, "The machine that prints or printed it");
    verb->add_option("--at", o->at, "When that was (default: --start)");
    verb->add_flag("--no-help", o->noHelp, "Don't look for what would help");
    verb->add_flag("--fresh", o->fresh, "Forget the earlier plan and what was reported");
    verb->add_flag("--json", o->asJson, "The whole plan, for programs");
}

} // namespace

void addPlan(CLI::App& app, Work& run)
{
    auto o = std::make_shared<PlanVerb>();
    CLI::App* verb =
        app.add_subcommand("plan", "Plan the printing: plates, machines, dates, and whether the date holds");
    addOptions(verb, o);
    verb->callback([o, &run] { run = [o](const Context& context) { return plan(*o, context); }; });
}

} // namespace quoin::app
