// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/material_filament.h"
#include "core/recipe_book.h"
#include "tests/support/model_text.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>

using namespace quoin;
using namespace quoin::core;
using namespace quoin::test;

TEST_CASE("recipe book: own recipes over shipped ones, kept in a file and read back as they were")
{
    const ScratchFolder folder;
    RecipeBook book;
    Recipe mine = *book.find("0.8 STRONG");
    CHECK(mine.name == "0.8 strong");
    mine.name = "river 0.8";
    mine.infillShare = 0.07;
    mine.overhang = 0.9;
    mine.infill = InfillPattern::Gyroid;
    mine.support = false;
    mine.source = "tried on the left wing";
    book = *book.withRecipe(mine);
    Recipe hidden = *book.find("0.6 standard");
    hidden.walls = 7;
    book = *book.withRecipe(hidden);
    REQUIRE(book.save(folder / "recipes.json").ok());
    const auto back = RecipeBook::load(folder / "recipes.json");
    REQUIRE(back.ok());
    Recipe read = *back->find("River 0.8");
    CHECK(read.overhang == Approx(0.9).epsilon(1e-9)); // degrees in the file
    read.overhang = mine.overhang;
    CHECK(read == mine);
    CHECK(back->find("0.6 standard")->walls == 7);
    CHECK(back->all().size() == shippedRecipes().size() + 1);
    CHECK(back->isOwn("0.6 standard"));
    CHECK_FALSE(back->isOwn("0.8 strong"));
    const auto less = back->withoutRecipe("0.6 standard");
    CHECK(less->find("0.6 standard")->walls == 3);
    CHECK_FALSE(less->withoutRecipe("0.6 standard").ok());
    const auto unknown = back->find("0.5 standard");
    REQUIRE_FALSE(unknown.ok());
    CHECK(unknown.problem().remedy.find("1.0 strong") != std::string::npos);
}

TEST_CASE("recipe book: every number can be set by its key, and nonsense is refused by it")
{
    Recipe r = shippedRecipes().front();
    for (const RecipeField& f : recipeFields()) {
        INFO(f.key);
        const double before = f.value(r);
        REQUIRE(setRecipeField(r, f.key, f.whole() ? "4" : "12.5").ok());
        CHECK(f.value(r) == (f.whole() ? 4 : 12.5));
        f.set(r, before);
        CHECK(f.value(r) == before);
    }
    REQUIRE(setRecipeField(r, "infill_percent", "25").ok());
    CHECK(r.infillShare == 0.25);
    REQUIRE(setRecipeField(r, "overhang_deg", "45").ok());
    CHECK(r.overhang == Approx(0.7853981633974483));
    REQUIRE(setRecipeField(r, "start_up_min", "5").ok());
    CHECK(r.startUpS == 300);
    REQUIRE(setRecipeField(r, "infill_pattern", "honeycomb").ok());
    CHECK(r.infill == InfillPattern::Honeycomb);
    REQUIRE(setRecipeField(r, "support", "no").ok());
    CHECK_FALSE(r.support);
    for (const auto& [key, value] : {std::pair{"walls", "2.5"},
                                     {"walls", ""},
                                     {"layer_mm", "0.2mm"},
                                     {"layer_mm", "nan"},
                                     {"infill_pattern", "plaid"},
                                     {"support", "maybe"},
                                     {"colour", "red"}}) {
        INFO(key << " " << value);
        const Status s = setRecipeField(r, key, value);
        REQUIRE_FALSE(s.ok());
        CHECK_FALSE(s.problem().remedy.empty());
    }
}

TEST_CASE("recipe book: a damaged file names the place")
{
    const ScratchFolder folder;
    RecipeBook book = *RecipeBook().withRecipe(*RecipeBook().find("0.4 fine"));
    REQUIRE(book.save(folder / "recipes.json").ok());
    std::string text = contentOf(folder / "recipes.json");
    const auto changed = [&](const std::string& from, const std::string& to) {
        std::string other = text;
        REQUIRE(other.find(from) != std::string::npos);
        other.replace(other.find(from), from.size(), to);
        putContent(folder / "bad.json", other);
        const auto bad = RecipeBook::load(folder / "bad.json");
        REQUIRE_FALSE(bad.ok());
        CHECK(bad.problem().file == (folder / "bad.json").string());
        return bad.problem();
    };
    CHECK(changed("\"layer_mm\": 0.12", "\"layer_mm\": 0.9").place == "/recipes/0");
    CHECK(changed("\"layer_mm\": 0.12", "\"layer_mm\": 0.9").what.find("20 to 80 %") != std::string::npos);
    CHECK(changed("\"walls\": 3", "\"walls\": \"three\"").place == "/recipes/0/walls");
    CHECK(changed("\"infill_pattern\": \"grid\"", "\"infill_pattern\": \"plaid\"").place ==
          "/recipes/0/infill_pattern");
    CHECK(changed("\"version\": 1", "\"version\": 2").reason == Reason::VersionTooNew);
}

TEST_CASE("filaments: every material has one, with a source for each fact")
{
    REQUIRE(shippedFilaments().size() == shippedMaterials().size());
    for (const Filament& f : shippedFilaments()) {
        INFO(f.material);
        CHECK(checkFilament(f).ok());
        CHECK(f.densityGPerCm3 == findMaterial(f.material)->densityGPerCm3);
        CHECK(f.pricePerKg > 0);
        for (const std::string& source : {f.densitySource, f.priceSource, f.glassTransitionSource, f.shrinkageSource})
            CHECK_FALSE(source.empty());
        CHECK(findStrength(f.material) != nullptr);
    }
    // Published ranges: PLA Tg 55-65, PETG 75-85, ABS 100-110 degrees C; ABS shrinks 0.4-0.9 %.
    CHECK(shippedFilaments()[0].glassTransitionC == Span{55, 65});
    CHECK(shippedFilaments()[1].glassTransitionC == Span{75, 85});
    CHECK(shippedFilaments()[2].shrinkage == Span{0.004, 0.009});
}

TEST_CASE("filaments: the maker's price and density go before the shipped ones")
{
    const ScratchFolder folder;
    FilamentShelf shelf;
    Filament mine = *shelf.find("petg");
    mine.pricePerKg = 17.5;
    mine.spoolG = 2300;
    mine.densityGPerCm3 = 1.26;
    mine.diameterMm = 2.85;
    mine.priceSource = "ten spools from the wholesaler";
    mine.date = "2026-11-29";
    shelf = *shelf.withFilament(mine);
    REQUIRE(shelf.save(folder / "materials.json").ok());
    const auto back = FilamentShelf::load(folder / "materials.json");
    REQUIRE(back.ok());
    CHECK(*back->find("PETG") == mine);
    CHECK(back->find("PLA")->pricePerKg == shippedFilaments()[0].pricePerKg);
    CHECK(back->withoutFilament("PETG")->find("PETG")->spoolG == 1000);
    CHECK_FALSE(back->withoutFilament("PLA").ok());
    CHECK(back->find("brass").problem().remedy.find("PA12") != std::string::npos);
    for (const auto change : {+[](Filament& f) { f.densityGPerCm3 = 0; }, +[](Filament& f) { f.pricePerKg = -1; },
                              +[](Filament& f) { f.spoolG = 0; }, +[](Filament& f) { f.diameterMm = 3.2; },
                              +[](Filament& f) { f.material = "brass"; },
                              +[](Filament& f) {
                                  f.shrinkage = {0.1, 0.05};
                              }}) {
        Filament bad = mine;
        change(bad);
        CHECK_FALSE(shelf.withFilament(bad).ok());
    }
}
