// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/material_filament.h"

#include "core/own_file.h"
#include "core/same_word.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace quoin::core {

namespace {

constexpr OwnFile fileKind{"quoin materials", 1, "list of filaments", "materials", 200};
constexpr std::size_t longestText = 300;
constexpr double anyNumber = 1e9;
constexpr double diameterSlackMm = 0.15;

constexpr const char* practice = "common practice, no source";

struct Facts {
    const char* material;
    double pricePerKg;
    Span glassTransitionC, shrinkage;
    const char *densitySource, *glassTransitionSource, *shrinkageSource;
};

// Prices: what a kilogram of a plain brand costs in euros, common practice, no source. The rest says where it is from.
constexpr Facts facts[]{
    {"PLA",
     22,
     {55, 65},
     {0.002, 0.004},
     "middle of 1.22-1.26 (additive.tools)",
     "additive.tools",
     "0.2 % common practice; upper end from memory"},
    {"PETG",
     24,
     {75, 85},
     {0.003, 0.005},
     "middle of 1.25-1.29 (additive.tools)",
     "additive.tools",
     "amorphous PET, plasticservice.com"},
    {"ABS",
     24,
     {100, 110},
     {0.004, 0.009},
     "1.05 of 1.03-1.07 (from memory)",
     "from memory",
     "mfgabc.com, ji-horng.com"},
    {"ASA",
     30,
     {98, 105},
     {0.004, 0.007},
     "1.07 of 1.05-1.08 (from memory)",
     "from memory",
     "mfgabc.com, ji-horng.com"},
    {"PA12",
     60,
     {40, 50},
     {0.008, 0.020},
     "1.01 of 1.00-1.03 (from memory)",
     "from memory",
     "mfgabc.com, plasticservice.com"},
    {"PA6",
     50,
     {40, 60},
     {0.005, 0.015},
     "1.13 of 1.12-1.15 (from memory)",
     "dry, from memory",
     "mfgabc.com, plasticservice.com"},
};

Problem refused(const std::string& what, const std::string& remedy)
{
    return {Reason::BadArgument, what, {}, {}, remedy};
}

Filament shippedFilament(const Material& m)
{
    Filament f;
    f.material = m.name;
    f.densityGPerCm3 = m.densityGPerCm3;
    f.priceSource = practice;
    for (const Facts& fact : facts)
        if (m.name == fact.material) {
            f.pricePerKg = fact.pricePerKg;
            f.glassTransitionC = fact.glassTransitionC;
            f.shrinkage = fact.shrinkage;
            f.densitySource = fact.densitySource;
            f.glassTransitionSource = fact.glassTransitionSource;
            f.shrinkageSource = fact.shrinkageSource;
        }
    return f;
}

auto findByName(const std::vector<Filament>& filaments, std::string_view name)
{
    return std::find_if(filaments.begin(), filaments.end(),
                        [&](const Filament& f) { return sameWord(f.material, name); });
}

Span spanFrom(const JsonPlace& place, const char* key)
{
    const JsonPlace span = place.at(key);
    return {span.at("low").number(-anyNumber, anyNumber), span.at("high").number(-anyNumber, anyNumber)};
}

Filament filamentFrom(const JsonPlace& place)
{
    Filament f;
    f.material = place.at("material").text(longestText);
    f.densityGPerCm3 = place.at("density_g_cm3").number(-anyNumber, anyNumber);
    f.pricePerKg = place.at("price_per_kg").number(-anyNumber, anyNumber);
    f.spoolG = place.at("spool_g").number(-anyNumber, anyNumber);
    f.diameterMm = place.at("diameter_mm").number(-anyNumber, anyNumber);
    f.glassTransitionC = spanFrom(place, "glass_transition_c");
    f.shrinkage = spanFrom(place, "shrinkage");
    f.densitySource = place.at("density_source").text(longestText);
    f.priceSource = place.at("price_source").text(longestText);
    f.glassTransitionSource = place.at("glass_transition_source").text(longestText);
    f.shrinkageSource = place.at("shrinkage_source").text(longestText);
    if (const auto date = place.maybe("date"))
        f.date = date->text(longestText);
    return f;
}

} // namespace

const std::vector<Filament>& shippedFilaments()
{
    static const std::vector<Filament> filaments = [] {
        std::vector<Filament> all;
        for (const Material& m : shippedMaterials())
            all.push_back(shippedFilament(m));
        return all;
    }();
    return filaments;
}

Status checkFilament(const Filament& f)
{
    if (findMaterial(f.material) == nullptr) {
        std::string names;
        for (const Material& m : shippedMaterials())
            names += (names.empty() ? "" : ", ") + m.name;
        return refused(fmt::format("there is no material \"{}\"", f.material), fmt::format("Known are {}.", names));
    }
    for (const std::string& text : {f.densitySource, f.priceSource, f.glassTransitionSource, f.shrinkageSource, f.date})
        if (!isPlainText(text, longestText))
            return refused("a source of a filament is too long or holds control characters",
                           fmt::format("Use at most {} plain characters.", longestText));
    const auto bounded = [](const char* what, double value, double low, double high, const char* unit) -> Status {
        if (value >= low && value <= high)
            return Done{};
        return refused(
            fmt::format("the {} of {:g} {} is not between {:g} and {:g} {}", what, value, unit, low, high, unit),
            fmt::format("Give {:g} to {:g} {}.", low, high, unit));
    };
    for (const Status& s :
         {bounded("density", f.densityGPerCm3, 0.1, 25, "g/cm3"), bounded("price", f.pricePerKg, 0, 100000, "a kg"),
          bounded("spool", f.spoolG, 1, 100000, "g"),
          bounded("glass transition", f.glassTransitionC.low, 0, f.glassTransitionC.high, "degrees C"),
          bounded("glass transition", f.glassTransitionC.high, 0, 500, "degrees C"),
          bounded("shrinkage", f.shrinkage.low, 0, f.shrinkage.high, "of a length"),
          bounded("shrinkage", f.shrinkage.high, 0, 0.2, "of a length")})
        if (!s)
            return s;
    if (!(std::fabs(f.diameterMm - 1.75) <= diameterSlackMm || std::fabs(f.diameterMm - 2.85) <= diameterSlackMm))
        return refused(fmt::format("filament of {:g} mm is neither 1.75 nor 2.85 mm thick", f.diameterMm),
                       "Measure it at several places, and give the mean.");
    return Done{};
}

std::filesystem::path FilamentShelf::defaultFile()
{
    return configFile("materials.json");
}

Result<FilamentShelf> FilamentShelf::load(const std::filesystem::path& file)
{
    FilamentShelf shelf;
    const Status read = readOwnFile(file, fileKind, [&](const JsonPlace& place) {
        Filament f = filamentFrom(place);
        if (const Status good = checkFilament(f); !good)
            place.fail(good.problem().what);
        if (shelf.isOwn(f.material))
            place.fail(fmt::format("there is an earlier row for {}", f.material));
        shelf.m_own.push_back(std::move(f));
    });
    if (!read)
        return read.problem();
    return shelf;
}

Status FilamentShelf::save(const std::filesystem::path& file) const
{
    nlohmann::ordered_json rows = nlohmann::ordered_json::array();
    for (const Filament& f : m_own)
        rows.push_back(filamentJson(f));
    return writeOwnFile(file, fileKind, std::move(rows));
}

std::vector<Filament> FilamentShelf::all() const
{
    std::vector<Filament> out;
    for (const Filament& shipped : shippedFilaments()) {
        const auto own = findByName(m_own, shipped.material);
        out.push_back(own != m_own.end() ? *own : shipped);
    }
    return out;
}

bool FilamentShelf::isOwn(std::string_view material) const
{
    return findByName(m_own, material) != m_own.end();
}

Result<Filament> FilamentShelf::find(std::string_view material) const
{
    for (const Filament& f : all())
        if (sameWord(f.material, material))
            return f;
    Filament unknown;
    unknown.material = material;
    return checkFilament(unknown).problem();
}

Result<FilamentShelf> FilamentShelf::withFilament(Filament filament) const
{
    if (const Status good = checkFilament(filament); !good)
        return good.problem();
    filament.material = findMaterial(filament.material)->name;
    FilamentShelf shelf = *this;
    std::erase_if(shelf.m_own, [&](const Filament& f) { return f.material == filament.material; });
    shelf.m_own.push_back(std::move(filament));
    return shelf;
}

Result<FilamentShelf> FilamentShelf::withoutFilament(std::string_view material) const
{
    FilamentShelf shelf = *this;
    if (std::erase_if(shelf.m_own, [&](const Filament& f) { return sameWord(f.material, material); }) == 0)
        return refused(fmt::format("there is no row of your own for {}", material),
                       "The list of materials shows your own rows; shipped ones stay.");
    return shelf;
}

nlohmann::ordered_json filamentJson(const Filament& f)
{
    const auto span = [](const Span& s) { return nlohmann::ordered_json{{"low", s.low}, {"high", s.high}}; };
    return {{"material", f.material},
            {"density_g_cm3", f.densityGPerCm3},
            {"density_source", orderedText(f.densitySource)},
            {"price_per_kg", f.pricePerKg},
            {"price_source", orderedText(f.priceSource)},
            {"spool_g", f.spoolG},
            {"diameter_mm", f.diameterMm},
            {"glass_transition_c", span(f.glassTransitionC)},
            {"glass_transition_source", orderedText(f.glassTransitionSource)},
            {"shrinkage", span(f.shrinkage)},
            {"shrinkage_source", orderedText(f.shrinkageSource)},
            {"date", orderedText(f.date)}};
}

} // namespace quoin::core
