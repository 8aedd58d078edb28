// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/today.h"
#include "app/verbs.h"

#include "core/material_filament.h"

#include <fmt/format.h>

#include <iostream>

namespace quoin::app {

namespace {

struct MaterialsVerb {
    std::string material, source;
    double density = 0, price = 0, spool = 0, diameter = 0;
    bool hasDensity = false, hasPrice = false, hasSpool = false, hasDiameter = false;
    bool asJson = false;
};

Result<core::FilamentShelf> shelf()
{
    return core::FilamentShelf::load(core::FilamentShelf::defaultFile());
}

nlohmann::ordered_json strengthJson(const core::MaterialStrength& s)
{
    return {{"tensile_along_mpa", {{"low", s.tensileAlongMpa}, {"high", s.tensileAlongHighMpa}}},
            {"tensile_across_mpa", {{"low", s.tensileAcrossMpa}, {"high", s.tensileAcrossHighMpa}}},
            {"source", s.source}};
}

void printOne(const core::Filament& f, bool own)
{
    const core::MaterialStrength* s = core::findStrength(f.material);
    fmt::print("{}{}\n  {:g} g/cm3 ({})\n  {:g} a kg, {:g} g a spool, {:g} mm ({})\n", f.material,
               own ? ", your own" + (f.date.empty() ? "" : " of " + f.date) : "", f.densityGPerCm3, f.densitySource,
               f.pricePerKg, f.spoolG, f.diameterMm, f.priceSource);
    if (s != nullptr)
        fmt::print("  bears {:g} to {:g} MPa in its layers, {:g} to {:g} across them ({})\n", s->tensileAlongMpa,
                   s->tensileAlongHighMpa, s->tensileAcrossMpa, s->tensileAcrossHighMpa, s->source);
    fmt::print("  softens at {:g} to {:g} degrees C ({})\n  shrinks by {:.1f} to {:.1f} % ({})\n",
               f.glassTransitionC.low, f.glassTransitionC.high, f.glassTransitionSource, 100 * f.shrinkage.low,
               100 * f.shrinkage.high, f.shrinkageSource);
}

int list(const MaterialsVerb& o)
{
    const auto filaments = shelf();
    if (!filaments)
        return say(filaments.problem());
    nlohmann::ordered_json json = nlohmann::ordered_json::array();
    for (const core::Filament& f : filaments->all()) {
        if (!o.asJson) {
            printOne(f, filaments->isOwn(f.material));
            continue;
        }
        json.push_back(core::filamentJson(f));
        if (const core::MaterialStrength* s = core::findStrength(f.material))
            json.back()["strength"] = strengthJson(*s);
        json.back()["own"] = filaments->isOwn(f.material);
    }
    if (o.asJson)
        std::cout << json.dump(1, ' ', false, nlohmann::json::error_handler_t::replace) << "\n";
    return Ok;
}

int set(const MaterialsVerb& o)
{
    const auto filaments = shelf();
    if (!filaments)
        return say(filaments.problem());
    auto filament = filaments->find(o.material);
    if (!filament)
        return say(filament.problem());
    if (!o.hasDensity && !o.hasPrice && !o.hasSpool && !o.hasDiameter)
        return say({Reason::BadArgument, "nothing to keep was given", "", "",
                    "Give --price, --spool, --density or --diameter."});
    const std::string source = o.source.empty() ? "set by hand" : o.source;
    if (o.hasDensity) {
        filament->densityGPerCm3 = o.density;
        filament->densitySource = source;
    }
    if (o.hasPrice)
        filament->pricePerKg = o.price;
    if (o.hasSpool)
        filament->spoolG = o.spool;
    if (o.hasDiameter)
        filament->diameterMm = o.diameter;
    if (o.hasPrice || o.hasSpool || o.hasDiameter)
        filament->priceSource = source;
    filament->date = today();
    const auto more = filaments->withFilament(*filament);
    if (!more)
        return say(more.problem());
    if (const Status s = more->save(core::FilamentShelf::defaultFile()); !s)
        return say(s.problem());
    printOne(*filament, true);
    return Ok;
}

int remove(const MaterialsVerb& o)
{
    const auto filaments = shelf();
    if (!filaments)
        return say(filaments.problem());
    const auto less = filaments->withoutFilament(o.material);
    if (!less)
        return say(less.problem());
    if (const Status s = less->save(core::FilamentShelf::defaultFile()); !s)
        return say(s.problem());
    fmt::print("In force now:\n");
    printOne(*less->find(o.material), false);
    return Ok;
}

} // namespace

void addMaterials(CLI::App& app, Work& run)
{
    auto o = std::make_shared<MaterialsVerb>();
    CLI::App* verb = app.add_subcommand("materials", "Density, price, spool, strength and heat of each material");
    verb->require_subcommand(0, 1);
    verb->callback([o, &run, verb] {
        if (verb->get_subcommands().empty())
            run = [o](const Context&) { return list(*o); };
    });
    CLI::App* listing = verb->add_subcommand("list", "List them, each fact with its source");
    listing->add_flag("--json", o->asJson, "For programs");
    listing->callback([o, &run] { run = [o](const Context&) { return list(*o); }; });
    CLI::App* setting = verb->add_subcommand("set", "Keep what your filament costs and weighs");
    setting->add_option("material", o->material, "PLA, PETG, ABS, ASA, PA12 or PA6")->required();
    CLI::Option* density = setting->add_option("--density", o->density, "g/cm3");
    CLI::Option* price = setting->add_option("--price", o->price, "A kilogram, in your currency");
    CLI::Option* spool = setting->add_option("--spool", o->spool, "Grams of plastic on a full spool");
    CLI::Option* diameter = setting->add_option("--diameter", o->diameter, "1.75 or 2.85 mm, as measured");
    setting->add_option("--source", o->source, "Who says so");
    setting->callback([o, density, price, spool, diameter, &run] {
        o->hasDensity = density->count() > 0;
        o->hasPrice = price->count() > 0;
        o->hasSpool = spool->count() > 0;
        o->hasDiameter = diameter->count() > 0;
        run = [o](const Context&) { return set(*o); };
    });
    CLI::App* removing = verb->add_subcommand("remove", "Forget your own row of a material");
    removing->add_option("material", o->material, "As listed")->required();
    removing->callback([o, &run] { run = [o](const Context&) { return remove(*o); }; });
}

} // namespace quoin::app
