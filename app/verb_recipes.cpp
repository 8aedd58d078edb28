// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/verbs.h"

#include "core/recipe_book.h"

#include <fmt/format.h>

#include <iostream>

namespace quoin::app {

namespace {

struct RecipesVerb {
    std::string name, like, source;
    std::vector<std::string> values;
    bool asJson = false;
};

Result<core::RecipeBook> book()
{
    return core::RecipeBook::load(core::RecipeBook::defaultFile());
}

int printJson(const nlohmann::ordered_json& json)
{
    std::cout << json.dump(1, ' ', false, nlohmann::json::error_handler_t::replace) << "\n";
    return Ok;
}

int list(const RecipesVerb& o)
{
    const auto recipes = book();
    if (!recipes)
        return say(recipes.problem());
    nlohmann::ordered_json json = nlohmann::ordered_json::array();
    if (!o.asJson)
        fmt::print("{:<20} {:>9} {:>8} {:>8} {:>6} {:>9} {:>18} {:>9}  {}\n", "recipe", "nozzle mm", "line mm",
                   "layer mm", "walls", "skins", "infill", "mm3/s", "from");
    for (const core::Recipe& r : recipes->all()) {
        if (o.asJson) {
            json.push_back(core::recipeJson(r));
            json.back()["own"] = recipes->isOwn(r.name);
            continue;
        }
        fmt::print("{:<20} {:>9g} {:>8g} {:>8g} {:>6} {:>9} {:>18} {:>9g}  {}\n", r.name, r.nozzleMm, r.lineWidthMm,
                   r.layerMm, r.walls, fmt::format("{} / {}", r.topLayers, r.bottomLayers),
                   fmt::format("{:g} % {}", 100 * r.infillShare, core::patternName(r.infill)), r.flowMm3S,
                   recipes->isOwn(r.name) ? "your own" : "shipped");
    }
    return o.asJson ? printJson(json) : Ok;
}

int show(const RecipesVerb& o)
{
    const auto recipes = book();
    if (!recipes)
        return say(recipes.problem());
    const auto recipe = recipes->find(o.name);
    if (!recipe)
        return say(recipe.problem());
    if (o.asJson)
        return printJson(core::recipeJson(*recipe));
    fmt::print("{} ({}{})\n", recipe->name, recipes->isOwn(recipe->name) ? "your own" : "shipped",
               recipe->source.empty() ? "" : "; " + recipe->source);
    for (const core::RecipeField& f : core::recipeFields())
        fmt::print("  {:<20} {:>10g} {:<8} {}\n", f.key, f.value(*recipe), f.unit, f.words);
    fmt::print("  {:<20} {:>10} {:<8} {}\n", "infill_pattern", core::patternName(recipe->infill), "",
               "lines, grid, triangles, honeycomb or gyroid");
    fmt::print("  {:<20} {:>10} {:<8} {}\n", "support", recipe->support ? "yes" : "no", "", "below overhangs");
    fmt::print("Lines lie {:.3f} mm apart; the flow limit holds them to {:.0f} mm/s.\n",
               recipe->pitchMm(recipe->layerMm), recipe->flowMm3S / recipe->beadMm2(recipe->layerMm));
    return Ok;
}

int set(const RecipesVerb& o)
{
    const auto recipes = book();
    if (!recipes)
        return say(recipes.problem());
    auto recipe = recipes->find(o.like.empty() ? o.name : o.like);
    if (!recipe)
        return say(o.like.empty()
                       ? Problem{Reason::BadArgument, fmt::format("there is no recipe called \"{}\" to change", o.name),
                                 "", "", "Begin a new one from another with --like \"0.6 standard\"."}
                       : recipe.problem());
    recipe->name = o.name;
    recipe->source = o.source.empty() ? "set by hand" : o.source;
    for (const std::string& pair : o.values) {
        const std::size_t equals = pair.find('=');
        if (equals == std::string::npos)
            return say({Reason::BadArgument, fmt::format("\"{}\" is no KEY=VALUE", pair), "", "",
                        "As in layer_mm=0.3; quoin recipes show lists the keys."});
        if (const Status s = core::setRecipeField(*recipe, pair.substr(0, equals), pair.substr(equals + 1)); !s)
            return say(s.problem());
    }
    const auto more = recipes->withRecipe(*recipe);
    if (!more)
        return say(more.problem());
    if (const Status s = more->save(core::RecipeBook::defaultFile()); !s)
        return say(s.problem());
    fmt::print("{} kept in {}\n", recipe->name, core::RecipeBook::defaultFile().string());
    return Ok;
}

int remove(const RecipesVerb& o)
{
    const auto recipes = book();
    if (!recipes)
        return say(recipes.problem());
    const auto less = recipes->withoutRecipe(o.name);
    if (!less)
        return say(less.problem());
    if (const Status s = less->save(core::RecipeBook::defaultFile()); !s)
        return say(s.problem());
    fmt::print("{} forgotten{}\n", o.name, less->find(o.name).ok() ? "; the shipped one counts again" : "");
    return Ok;
}

} // namespace

void addRecipes(CLI::App& app, Work& run)
{
    auto o = std::make_shared<RecipesVerb>();
    CLI::App* verb = app.add_subcommand("recipes", "What weight and time are estimated by: shipped ones and your own");
    verb->require_subcommand(0, 1);
    verb->callback([o, &run, verb] {
        if (verb->get_subcommands().empty())
            run = [o](const Context&) { return list(*o); };
    });
    CLI::App* listing = verb->add_subcommand("list", "List them");
    listing->add_flag("--json", o->asJson, "All numbers, for programs");
    listing->callback([o, &run] { run = [o](const Context&) { return list(*o); }; });
    CLI::App* showing = verb->add_subcommand("show", "Every number of one");
    showing->add_option("name", o->name, "As listed")->required();
    showing->add_flag("--json", o->asJson, "For programs");
    showing->callback([o, &run] { run = [o](const Context&) { return show(*o); }; });
    CLI::App* setting = verb->add_subcommand("set", "Keep a recipe of your own, or change it");
    setting->add_option("name", o->name, "Its name; that of a shipped one goes before it")->required();
    setting->add_option("values", o->values, "KEY=VALUE, as in layer_mm=0.3 infill_percent=20");
    setting->add_option("--like", o->like, "Begin from this one");
    setting->add_option("--source", o->source, "Who says so");
    setting->callback([o, &run] { run = [o](const Context&) { return set(*o); }; });
    CLI::App* removing = verb->add_subcommand("remove", "Forget a recipe of your own");
    removing->add_option("name", o->name, "As listed")->required();
    removing->callback([o, &run] { run = [o](const Context&) { return remove(*o); }; });
}

} // namespace quoin::app
