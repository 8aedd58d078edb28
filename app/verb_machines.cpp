// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/verbs.h"

#include "core/machine.h"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <iostream>
#include <optional>

namespace quoin::app {

namespace {

struct MachinesVerb {
    std::string name, bed, like, attended, failures;
    std::optional<double> marginMm, gapMm, nozzleMm, speed, costPerHour, powerW, changeMinutes, spoolMinutes;
    std::vector<std::string> materials, away;
    std::string nights, weekends;
    std::string material;
    std::optional<int> spools;
    std::optional<double> spoolGrams, openGrams, pricePerKg;
    bool asJson = false;
};

int list(bool asJson)
{
    const auto shop = core::loadShop(core::machinesFile());
    if (!shop)
        return say(shop.problem());
    if (asJson) {
        nlohmann::json machines = nlohmann::json::array(), stock = nlohmann::json::array();
        for (const core::Machine& m : shop->machines)
            machines.push_back(core::machineJson(m));
        for (const core::SpoolStock& s : shop->stock)
            stock.push_back(core::stockJson(s));
        std::cout << nlohmann::json{{"machines", machines}, {"stock", stock}}.dump(1) << "\n";
        return Ok;
    }
    if (shop->machines.empty())
        fmt::print("No machine yet. Keep one: quoin machines set \"big one\" --bed 300x300x400 --attended "
                   "\"mon-fri 8-18\"\n");
    for (const core::Machine& m : shop->machines)
        fmt::print("{:<16} {}\n", m.name, core::machineWords(m));
    for (const core::SpoolStock& s : shop->stock)
        fmt::print("{:<16} {} spools of {:g} g and {:g} g open{}\n", s.material, s.spools, s.spoolGrams, s.openGrams,
                   s.pricePerKg > 0 ? fmt::format(", {:g} a kg", s.pricePerKg) : "");
    return Ok;
}

Result<bool> yesOrNo(const std::string& text, const char* option)
{
    if (text == "yes" || text == "no")
        return text == "yes";
    return Problem{Reason::BadArgument,
                   fmt::format("\"{}\" is neither yes nor no", text),
                   {},
                   {},
                   fmt::format("Write {} yes, or {} no.", option, option)};
}

/// "2/100h" (in so many hours of printing) or "5%" (of prints).
Result<core::FailureRate> failuresFrom(const std::string& text)
{
    const auto wrong = Problem{Reason::BadArgument,
                               fmt::format("\"{}\" is no failure rate", text),
                               {},
                               {},
                               "Write 0.2/100h for failures in a hundred hours of printing, or 5% of prints."};
    try {
        std::size_t end = 0;
        const double number = std::stod(text, &end);
        const std::string rest = text.substr(end);
        if (rest == "%")
            return core::FailureRate{core::FailureRate::Per::Print, number / 100};
        if (rest == "/100h" || rest == "/100 h")
            return core::FailureRate{core::FailureRate::Per::Hour, number / 100};
    } catch (const std::exception&) {
        return wrong;
    }
    return wrong;
}

Status apply(const MachinesVerb& o, core::Machine& m)
{
    if (!o.bed.empty()) {
        const auto bed = core::bedFromText(o.bed, {});
        const auto known = bed ? bed : [&]() -> Result<core::Bed> {
            const auto beds = core::BedShelf(core::BedShelf::defaultFile()).all();
            return beds ? core::bedFromText(o.bed, *beds) : beds.problem();
        }();
        if (!known)
            return known.problem();
        m.bed = *known;
        m.bed.machines = 1;
    }
    if (!o.attended.empty()) {
        const auto days = core::attendedFromText(o.attended);
        if (!days)
            return days.problem();
        m.calendar.days = *days;
    }
    for (const auto& [text, option, value] :
         {std::tuple(&o.nights, "--nights", &m.calendar.nights), {&o.weekends, "--weekends", &m.calendar.weekends}})
        if (!text->empty()) {
            const auto yes = yesOrNo(*text, option);
            if (!yes)
                return yes.problem();
            *value = *yes;
        }
    if (!o.failures.empty()) {
        const auto rate = failuresFrom(o.failures);
        if (!rate)
            return rate.problem();
        m.failure = *rate;
    }
    for (const auto& [given, value] : {std::pair(&o.marginMm, &m.marginMm),
                                       {&o.gapMm, &m.gapMm},
                                       {&o.nozzleMm, &m.nozzleMm},
                                       {&o.speed, &m.speedFactor},
                                       {&o.costPerHour, &m.costPerHour},
                                       {&o.powerW, &m.powerW},
                                       {&o.changeMinutes, &m.changeMinutes},
                                       {&o.spoolMinutes, &m.spoolChangeMinutes}})
        if (*given)
            *value = **given;
    if (!o.materials.empty())
        m.materials = o.materials.size() == 1 && o.materials[0] == "any" ? std::vector<std::string>{} : o.materials;
    for (const std::string& text : o.away) {
        const auto day = core::momentFromText(text);
        if (!day)
            return day.problem();
        m.calendar.away.push_back(std::chrono::floor<std::chrono::days>(*day));
    }
    return Done{};
}

int set(const MachinesVerb& o)
{
    const auto shop = core::loadShop(core::machinesFile());
    if (!shop)
        return say(shop.problem());
    core::Machine m;
    if (const core::Machine* old = shop->machine(o.like.empty() ? o.name : o.like); old != nullptr)
        m = *old;
    else if (!o.like.empty())
        return say({Reason::BadArgument,
                    fmt::format("there is no machine called \"{}\"", o.like),
                    {},
                    {},
                    "quoin machines list shows the names."});
    else if (o.bed.empty())
        return say({Reason::BadArgument, "a new machine needs a bed", {}, {}, "Give --bed 300x300x400, or d250x300."});
    m.name = o.name;
    if (const Status s = apply(o, m); !s)
        return say(s.problem());
    const auto more = core::withMachine(*shop, m);
    if (!more)
        return say(more.problem());
    if (const Status s = core::saveShop(*more, core::machinesFile()); !s)
        return say(s.problem());
    fmt::print("{}: {}\nkept in {}\n", m.name, core::machineWords(m), core::machinesFile().string());
    return Ok;
}

int remove(const MachinesVerb& o)
{
    const auto shop = core::loadShop(core::machinesFile());
    if (!shop)
        return say(shop.problem());
    const auto less = core::withoutMachine(*shop, o.name);
    if (!less)
        return say(less.problem());
    const Status s = core::saveShop(*less, core::machinesFile());
    return s ? static_cast<int>(Ok) : say(s.problem());
}

int stock(const MachinesVerb& o)
{
    const auto shop = core::loadShop(core::machinesFile());
    if (!shop)
        return say(shop.problem());
    core::SpoolStock line{o.material, 0, 1000, 0, 0};
    if (const core::SpoolStock* old = shop->spools(o.material); old != nullptr)
        line = *old;
    line.spools = o.spools.value_or(line.spools);
    line.spoolGrams = o.spoolGrams.value_or(line.spoolGrams);
    line.openGrams = o.openGrams.value_or(line.openGrams);
    line.pricePerKg = o.pricePerKg.value_or(line.pricePerKg);
    const auto more = core::withStock(*shop, line);
    if (!more)
        return say(more.problem());
    if (const Status s = core::saveShop(*more, core::machinesFile()); !s)
        return say(s.problem());
    fmt::print("{}: {:g} g on the shelf\n", line.material, line.grams());
    return Ok;
}

void addSet(CLI::App* verb, const std::shared_ptr<MachinesVerb>& o, Work& run)
{
    CLI::App* setting = verb->add_subcommand("set", "Keep a machine, or change what is known of it");
    setting->add_option("name", o->name, "Your name for it")->required();
    setting->add_option("--bed", o->bed, "300x300x400, d250x300 for a round one, or a bed's name");
    setting->add_option("--like", o->like, "Begin with what is known of this other machine");
    setting->add_option("--attended", o->attended, "When somebody is there: \"mon-fri 8-18, sat 9:30-12\", or always");
    setting->add_option("--nights", o->nights, "yes or no: may run while nobody is there, Monday to Friday");
    setting->add_option("--weekends", o->weekends, "yes or no: may run while nobody is there on Saturday and Sunday");
    setting->add_option("--away", o->away, "Days on which nobody comes, 2026-12-24; may be repeated")
        ->allow_extra_args(false);
    setting->add_option("--failures", o->failures, "0.2/100h: failures in so many hours; or 5% of prints");
    setting->add_option("--speed", o->speed, "Speed factor: 1.2 prints a fifth more in an hour");
    setting->add_option("--nozzle", o->nozzleMm, "Nozzle, mm: prints only recipes for it; 0 for any");
    setting->add_option("--material", o->materials, "Materials that it prints; any for all")->delimiter(',');
    setting->add_option("--margin", o->marginMm, "Of the plate, kept free, mm");
    setting->add_option("--gap", o->gapMm, "Between pieces on a plate, mm");
    setting->add_option("--change", o->changeMinutes, "To change a plate, minutes");
    setting->add_option("--spool-change", o->spoolMinutes, "To change a spool, minutes");
    setting->add_option("--cost", o->costPerHour, "Of an hour: wear and room, in your money");
    setting->add_option("--power", o->powerW, "Mean while printing, W; 0: as the recipe says");
    setting->callback([o, &run] { run = [o](const Context&) { return set(*o); }; });
}

} // namespace

void addMachines(CLI::App& app, Work& run)
{
    auto o = std::make_shared<MachinesVerb>();
    CLI::App* verb = app.add_subcommand("machines", "Your machines and the filament on the shelf, for plans");
    verb->require_subcommand(0, 1);
    verb->callback([&run, verb] {
        if (verb->get_subcommands().empty())
            run = [](const Context&) { return list(false); };
    });
    CLI::App* listing = verb->add_subcommand("list", "List them");
    listing->add_flag("--json", o->asJson, "For programs");
    listing->callback([o, &run] { run = [o](const Context&) { return list(o->asJson); }; });
    addSet(verb, o, run);
    CLI::App* removing = verb->add_subcommand("remove", "Forget a machine");
    removing->add_option("name", o->name, "Its name")->required();
    removing->callback([o, &run] { run = [o](const Context&) { return remove(*o); }; });
    CLI::App* shelf = verb->add_subcommand("stock", "Say how much filament of a material there is");
    shelf->add_option("material", o->material, "PLA, PETG, ...")->required();
    shelf->add_option("--spools", o->spools, "Full ones");
    shelf->add_option("--spool-grams", o->spoolGrams, "On a full one (default 1000)");
    shelf->add_option("--open", o->openGrams, "Left on the one in use, g");
    shelf->add_option("--price", o->pricePerKg, "Of a kg, in your money");
    shelf->callback([o, &run] { run = [o](const Context&) { return stock(*o); }; });
}

} // namespace quoin::app
