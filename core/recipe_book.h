// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/json_place.h"
#include "core/recipe.h"

#include <filesystem>
#include <span>
#include <variant>

namespace quoin::core {

/// One number of a recipe as people see and type it: in files, on the command line, in the window.
struct RecipeField {
    const char* key;   ///< with its unit: "line_width_mm", "infill_percent", "overhang_deg"
    const char* words; ///< "line width"
    const char* unit;  ///< "mm"
    std::variant<double Recipe::*, int Recipe::*> member;
    double perUnit = 1; ///< the member's value for one of the unit: 0.01 for per cent

    double value(const Recipe& recipe) const;
    void set(Recipe& recipe, double value) const;
    bool whole() const { return std::holds_alternative<int Recipe::*>(member); }
};
/// All numbers, in the order in which people read them.
std::span<const RecipeField> recipeFields();

/// Changes a field by its key: a number, or a pattern's name for "infill_pattern", "yes" or "no" for "support".
/// BadArgument names the key and what it takes; the recipe itself isn't checked.
Status setRecipeField(Recipe& recipe, std::string_view key, std::string_view value);

/// A recipe in files, and back; JsonPlace::Wrong names the place. Keys as in recipeFields, and name, infill_pattern,
/// support, source.
nlohmann::ordered_json recipeJson(const Recipe& recipe);
Recipe recipeFrom(const JsonPlace& place);

/// The recipes in force: the maker's own over the shipped ones. A plain value; changes make a new one.
class RecipeBook {
public:
    /// $XDG_CONFIG_HOME/quoin/recipes.json, else ~/.config/quoin/recipes.json.
    static std::filesystem::path defaultFile();
    /// As readOwnFile (core/own_file.h).
    static Result<RecipeBook> load(const std::filesystem::path& file);
    Status save(const std::filesystem::path& file) const;

    const std::vector<Recipe>& own() const { return m_own; }
    /// Own recipes first, then the shipped ones that none of them hides by its name.
    std::vector<Recipe> all() const;
    /// By name, any case. BadArgument lists the names that there are.
    Result<Recipe> find(std::string_view name) const;
    bool isOwn(std::string_view name) const;
    /// With a recipe more, or in place of the own one of its name. BadArgument as checkRecipe.
    Result<RecipeBook> withRecipe(Recipe recipe) const;
    /// BadArgument when there is no own recipe of this name.
    Result<RecipeBook> withoutRecipe(std::string_view name) const;

private:
    std::vector<Recipe> m_own;
};

/// What is taken when nobody has chosen: "0.6 standard".
inline constexpr const char* usualRecipe = "0.6 standard";

} // namespace quoin::core
