// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/recipe_book.h"

#include "core/own_file.h"
#include "core/same_word.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <numbers>

namespace quoin::core {

namespace {

constexpr OwnFile fileKind{"quoin recipes", 1, "list of recipes", "recipes", 1000};
constexpr std::size_t longestText = 1000;
constexpr double anyNumber = 1e9; ///< checkRecipe says what is wrong with a number

constexpr double degree = std::numbers::pi / 180, percent = 0.01, minute = 60;

constexpr RecipeField fields[]{
    {"nozzle_mm", "nozzle", "mm", &Recipe::nozzleMm},
    {"line_width_mm", "line width", "mm", &Recipe::lineWidthMm},
    {"layer_mm", "layer height", "mm", &Recipe::layerMm},
    {"first_layer_mm", "height of the first layer", "mm", &Recipe::firstLayerMm},
    {"walls", "walls", "", &Recipe::walls},
    {"top_layers", "top layers", "", &Recipe::topLayers},
    {"bottom_layers", "bottom layers", "", &Recipe::bottomLayers},
    {"infill_percent", "infill", "%", &Recipe::infillShare, percent},
    {"outer_wall_mm_s", "speed of the outer wall", "mm/s", &Recipe::outerWallMmS},
    {"inner_wall_mm_s", "speed of inner walls", "mm/s", &Recipe::innerWallMmS},
    {"skin_mm_s", "speed of the skin", "mm/s", &Recipe::skinMmS},
    {"infill_mm_s", "speed of the infill", "mm/s", &Recipe::infillMmS},
    {"support_mm_s", "speed of the support", "mm/s", &Recipe::supportMmS},
    {"first_layer_mm_s", "speed of the first layer", "mm/s", &Recipe::firstLayerMmS},
    {"travel_mm_s", "speed of travel", "mm/s", &Recipe::travelMmS},
    {"acceleration_mm_s2", "acceleration", "mm/s2", &Recipe::accelerationMmS2},
    {"corner_mm_s", "speed step at corners", "mm/s", &Recipe::cornerMmS},
    {"flow_mm3_s", "flow limit", "mm3/s", &Recipe::flowMm3S},
    {"least_layer_s", "least time of a layer", "s", &Recipe::leastLayerS},
    {"layer_change_s", "time of a layer change", "s", &Recipe::layerChangeS},
    {"path_start_s", "time at the start of a path", "s", &Recipe::pathStartS},
    {"travel_factor", "factor on travel", "", &Recipe::travelFactor},
    {"start_up_min", "starting up", "min", &Recipe::startUpS, minute},
    {"power_w", "mean power", "W", &Recipe::powerW},
    {"overhang_deg", "overhang that carries itself, from the vertical", "degrees", &Recipe::overhang, degree},
    {"support_percent", "density of the support", "%", &Recipe::supportShare, percent},
    {"support_gap_mm", "gap beside the support", "mm", &Recipe::supportGapMm},
    {"brim_mm", "brim", "mm", &Recipe::brimMm},
    {"purge_mm3", "purge", "mm3", &Recipe::purgeMm3},
};

Problem refused(const std::string& what, const std::string& remedy)
{
    return {Reason::BadArgument, what, {}, {}, remedy};
}

/// A number in any locale, with nothing after it.
bool readNumber(std::string_view text, double& value)
{
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    return error == std::errc() && end == text.data() + text.size() && std::isfinite(value);
}

auto findByName(const std::vector<Recipe>& recipes, std::string_view name)
{
    return std::find_if(recipes.begin(), recipes.end(), [&](const Recipe& r) { return sameWord(r.name, name); });
}

Status setByWord(Recipe& recipe, std::string_view key, std::string_view value)
{
    if (key == "infill_pattern") {
        const auto pattern = patternFromText(value);
        if (!pattern)
            return pattern.problem();
        recipe.infill = *pattern;
        return Done{};
    }
    if (!sameWord(value, "yes") && !sameWord(value, "no"))
        return refused(fmt::format("support is yes or no, not \"{}\"", value), "Give support=yes or support=no.");
    recipe.support = sameWord(value, "yes");
    return Done{};
}

} // namespace

double RecipeField::value(const Recipe& recipe) const
{
    const double held = whole() ? recipe.*std::get<int Recipe::*>(member) : recipe.*std::get<double Recipe::*>(member);
    // As it was typed: 15 %, not 15.000000000000002.
    return std::round(held / perUnit * 1e9) / 1e9;
}

void RecipeField::set(Recipe& recipe, double value) const
{
    if (whole())
        recipe.*std::get<int Recipe::*>(member) = static_cast<int>(std::clamp(std::round(value), -1e6, 1e6));
    else
        recipe.*std::get<double Recipe::*>(member) = value * perUnit;
}

std::span<const RecipeField> recipeFields()
{
    return fields;
}

Status setRecipeField(Recipe& recipe, std::string_view key, std::string_view value)
{
    if (key == "infill_pattern" || key == "support")
        return setByWord(recipe, key, value);
    for (const RecipeField& f : fields) {
        if (f.key != key)
            continue;
        double number = 0;
        if (!readNumber(value, number) || (f.whole() && number != std::round(number)))
            return refused(fmt::format("\"{}\" is no {} for {}", value, f.whole() ? "whole number" : "number", key),
                           fmt::format("Give the {} {}{} without the unit.", f.words,
                                       f.unit[0] != 0 ? "in " : "as a number", f.unit));
        f.set(recipe, number);
        return Done{};
    }
    std::string keys;
    for (const RecipeField& f : fields)
        keys += (keys.empty() ? "" : ", ") + std::string(f.key);
    return refused(fmt::format("a recipe has no \"{}\"", key),
                   fmt::format("Known are infill_pattern, support, {}.", keys));
}

nlohmann::ordered_json recipeJson(const Recipe& recipe)
{
    nlohmann::ordered_json out{{"name", orderedText(recipe.name)}};
    for (const RecipeField& f : fields) {
        if (f.whole())
            out[f.key] = static_cast<int>(f.value(recipe));
        else
            out[f.key] = f.value(recipe);
        if (std::string_view(f.key) == "infill_percent")
            out["infill_pattern"] = patternName(recipe.infill);
        if (std::string_view(f.key) == "power_w")
            out["support"] = recipe.support;
    }
    out["source"] = orderedText(recipe.source);
    return out;
}

Recipe recipeFrom(const JsonPlace& place)
{
    Recipe recipe;
    recipe.name = place.at("name").text(longestText);
    for (const RecipeField& f : fields)
        f.set(recipe, f.whole() ? static_cast<double>(place.at(f.key).whole(-1000000, 1000000))
                                : place.at(f.key).number(-anyNumber, anyNumber));
    const auto pattern = patternFromText(place.at("infill_pattern").text(longestText));
    if (!pattern)
        place.at("infill_pattern").fail(pattern.problem().what);
    recipe.infill = *pattern;
    recipe.support = place.at("support").truth();
    if (const auto source = place.maybe("source"))
        recipe.source = source->text(longestText);
    if (const Status good = checkRecipe(recipe); !good)
        place.fail(good.problem().what);
    return recipe;
}

std::filesystem::path RecipeBook::defaultFile()
{
    return configFile("recipes.json");
}

Result<RecipeBook> RecipeBook::load(const std::filesystem::path& file)
{
    RecipeBook book;
    const Status read = readOwnFile(file, fileKind, [&](const JsonPlace& place) {
        Recipe recipe = recipeFrom(place);
        if (book.isOwn(recipe.name))
            place.fail(fmt::format("two recipes are called \"{}\"", recipe.name));
        book.m_own.push_back(std::move(recipe));
    });
    if (!read)
        return read.problem();
    return book;
}

Status RecipeBook::save(const std::filesystem::path& file) const
{
    nlohmann::ordered_json rows = nlohmann::ordered_json::array();
    for (const Recipe& r : m_own)
        rows.push_back(recipeJson(r));
    return writeOwnFile(file, fileKind, std::move(rows));
}

std::vector<Recipe> RecipeBook::all() const
{
    std::vector<Recipe> recipes = m_own;
    for (const Recipe& r : shippedRecipes())
        if (!isOwn(r.name))
            recipes.push_back(r);
    return recipes;
}

Result<Recipe> RecipeBook::find(std::string_view name) const
{
    std::string names;
    for (const Recipe& r : all()) {
        if (sameWord(r.name, name))
            return r;
        names += (names.empty() ? "" : ", ") + r.name;
    }
    return refused(fmt::format("there is no recipe called \"{}\"", name), fmt::format("Known are {}.", names));
}

bool RecipeBook::isOwn(std::string_view name) const
{
    return findByName(m_own, name) != m_own.end();
}

Result<RecipeBook> RecipeBook::withRecipe(Recipe recipe) const
{
    if (const Status good = checkRecipe(recipe); !good)
        return good.problem();
    RecipeBook book = *this;
    const auto same = findByName(book.m_own, recipe.name);
    if (same != book.m_own.end())
        book.m_own[static_cast<std::size_t>(same - book.m_own.begin())] = std::move(recipe);
    else
        book.m_own.push_back(std::move(recipe));
    return book;
}

Result<RecipeBook> RecipeBook::withoutRecipe(std::string_view name) const
{
    RecipeBook book = *this;
    if (std::erase_if(book.m_own, [&](const Recipe& r) { return sameWord(r.name, name); }) == 0)
        return refused(fmt::format("there is no recipe of your own called \"{}\"", name),
                       "The list of recipes shows your own; shipped ones stay.");
    return book;
}

} // namespace quoin::core
