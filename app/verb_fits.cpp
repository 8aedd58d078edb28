// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/today.h"
#include "app/verbs.h"

#include "core/coupon_file.h"
#include "core/fit_table.h"
#include "core/length.h"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <array>
#include <iostream>

namespace quoin::app {

namespace {

struct FitsVerb {
    std::string material, machine, process, coupon, source;
    int slid = 0, snug = 0, press = 0, loose = 0; ///< steps of a coupon
    bool hasPress = false, hasLoose = false, asJson = false;
    std::vector<std::string> lengths; ///< free, sliding, snug, press
};

/// Own rows and the shipped ones that none of them hides, or what counts for one material.
std::vector<std::pair<core::FitRow, bool>> rowsOf(const core::FitTable& table, const FitsVerb& o)
{
    using Origin = core::FoundFit::Origin;
    std::vector<std::pair<core::FitRow, bool>> rows;
    if (!o.material.empty()) {
        for (const core::FitProcess p : core::fitProcesses) {
            const core::FoundFit found = table.lookup(o.material, o.machine, p);
            rows.emplace_back(found.row, found.origin != Origin::Shipped && found.origin != Origin::ShippedAnyMaterial);
        }
        return rows;
    }
    for (const core::FitRow& row : table.own())
        rows.emplace_back(row, true);
    for (const core::FitRow& row : core::shippedFits())
        if (table.lookup(row.material, "", row.process).row == row)
            rows.emplace_back(row, false);
    return rows;
}

int list(const FitsVerb& o)
{
    const auto table = core::FitTable::load(core::FitTable::defaultFile());
    if (!table)
        return say(table.problem());
    const auto orAny = [](const std::string& name) { return name.empty() ? std::string("any") : name; };
    nlohmann::json j = nlohmann::json::array();
    if (!o.asJson)
        fmt::print("{:<10} {:<14} {:<8} {:>8} {:>8} {:>8} {:>8}   clearance per side, mm\n", "material", "machine",
                   "process", "free", "sliding", "snug", "press");
    for (const auto& [row, own] : rowsOf(*table, o)) {
        if (!o.asJson)
            fmt::print("{:<10} {:<14} {:<8} {:>8.3f} {:>8.3f} {:>8.3f} {:>8.3f}   {}{}\n", orAny(row.material),
                       orAny(row.machine), core::processName(row.process), row.freeMm, row.slidingMm, row.snugMm,
                       row.pressMm, own ? "yours: " : "", row.source);
        j.push_back({{"material", row.material},
                     {"machine", row.machine},
                     {"process", core::processName(row.process)},
                     {"free_mm", row.freeMm},
                     {"sliding_mm", row.slidingMm},
                     {"snug_mm", row.snugMm},
                     {"press_mm", row.pressMm},
                     {"source", row.source},
                     {"date", row.date},
                     {"own", own}});
    }
    if (o.asJson)
        std::cout << j.dump(1, ' ', false, nlohmann::json::error_handler_t::replace) << "\n";
    return Ok;
}

Result<core::FitRow> rowOfCoupon(const FitsVerb& o, core::FitProcess process)
{
    auto sheet = core::readCouponSheet(o.coupon);
    if (!sheet)
        return sheet.problem();
    if (!o.material.empty())
        sheet->material = o.material;
    if (!o.machine.empty())
        sheet->machine = o.machine;
    core::CouponAnswers answers{process, o.slid, o.snug, {}, {}};
    if (o.hasPress)
        answers.press = o.press;
    if (o.hasLoose)
        answers.free = o.loose;
    return core::rowFromCoupon(*sheet, answers);
}

Result<core::FitRow> rowOfLengths(const FitsVerb& o, core::FitProcess process)
{
    std::array<double, 4> mm{};
    for (std::size_t i = 0; i < mm.size(); ++i) {
        const auto length = core::lengthMmFrom(o.lengths[i]);
        if (!length)
            return length.problem();
        mm[i] = *length;
    }
    return core::FitRow{o.material, o.machine, process, mm[0], mm[1], mm[2], mm[3], "set by hand", ""};
}

int set(const FitsVerb& o)
{
    const auto process = core::processFromText(o.process);
    if (!process)
        return say(process.problem());
    if (o.coupon.empty() == o.lengths.empty())
        return say({Reason::BadArgument, "a row is set from a coupon or from its four lengths", "", "",
                    "Give --coupon DIR with --slid and --snug, or --mm FREE,SLIDING,SNUG,PRESS."});
    auto row = o.coupon.empty() ? rowOfLengths(o, *process) : rowOfCoupon(o, *process);
    if (!row)
        return say(row.problem());
    row->date = today();
    if (!o.source.empty())
        row->source = o.source;
    const auto file = core::FitTable::defaultFile();
    const auto table = core::FitTable::load(file);
    if (!table)
        return say(table.problem());
    const auto more = table->withRow(*row);
    if (!more)
        return say(more.problem());
    if (const Status s = more->save(file); !s)
        return say(s.problem());
    fmt::print("{}\nfree {:.3f}, sliding {:.3f}, snug {:.3f}, press {:.3f} mm per side; kept in {}\n",
               more->lookup(row->material, row->machine, *process).words(), row->freeMm, row->slidingMm, row->snugMm,
               row->pressMm, file.string());
    return Ok;
}

int remove(const FitsVerb& o)
{
    const auto process = core::processFromText(o.process);
    if (!process)
        return say(process.problem());
    const auto file = core::FitTable::defaultFile();
    const auto table = core::FitTable::load(file);
    if (!table)
        return say(table.problem());
    const auto less = table->withoutRow(o.material, o.machine, *process);
    if (!less)
        return say(less.problem());
    if (const Status s = less->save(file); !s)
        return say(s.problem());
    fmt::print("In force now: {}\n", less->lookup(o.material, o.machine, *process).words());
    return Ok;
}

void addScope(CLI::App* verb, const std::shared_ptr<FitsVerb>& o)
{
    verb->add_option("--material", o->material, "Material; any when left out");
    verb->add_option("--machine", o->machine, "Your name for the machine; any when left out");
}

void addSet(CLI::App* verb, const std::shared_ptr<FitsVerb>& o, Work& run)
{
    CLI::App* setting = verb->add_subcommand("set", "Keep a row of your own, from a coupon or from lengths");
    addScope(setting, o);
    setting->add_option("--process", o->process, "What goes into what: dowel, key, thread or rod")->required();
    CLI::Option* coupon = setting->add_option("--coupon", o->coupon, "Folder of the coupon that you printed");
    CLI::Option* slid = setting->add_option("--slid", o->slid, "The tightest step that slid")->needs(coupon);
    CLI::Option* snug =
        setting->add_option("--snug", o->snug, "The tightest step that a firm push took in")->needs(coupon);
    CLI::Option* press =
        setting->add_option("--press", o->press, "A step that a mallet took in (else one under snug)")->needs(coupon);
    CLI::Option* loose =
        setting->add_option("--loose", o->loose, "A step that fell in (else 0.15 mm over slid)")->needs(coupon);
    coupon->needs(slid)->needs(snug);
    setting->add_option("--mm", o->lengths, "FREE,SLIDING,SNUG,PRESS: clearances per side")
        ->expected(4)
        ->delimiter(',')
        ->excludes(coupon);
    setting->add_option("--source", o->source, "Who says so");
    setting->callback([o, press, loose, &run] {
        o->hasPress = press->count() > 0;
        o->hasLoose = loose->count() > 0;
        run = [o](const Context&) { return set(*o); };
    });
}

} // namespace

void addFits(CLI::App& app, Work& run)
{
    auto o = std::make_shared<FitsVerb>();
    CLI::App* verb =
        app.add_subcommand("fits", "Clearances per material, machine and process: shipped ones and your own");
    verb->require_subcommand(0, 1);
    verb->callback([o, &run, verb] {
        if (verb->get_subcommands().empty())
            run = [o](const Context&) { return list(*o); };
    });
    CLI::App* listing = verb->add_subcommand("list", "List them; for a material, those in force");
    addScope(listing, o);
    listing->add_flag("--json", o->asJson, "For programs");
    listing->callback([o, &run] { run = [o](const Context&) { return list(*o); }; });
    addSet(verb, o, run);
    CLI::App* removing = verb->add_subcommand("remove", "Forget a row of your own");
    addScope(removing, o);
    removing->add_option("--process", o->process, "dowel, key, thread or rod")->required();
    removing->callback([o, &run] { run = [o](const Context&) { return remove(*o); }; });
}

} // namespace quoin::app
