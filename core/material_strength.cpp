// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/material_strength.h"

#include "core/material.h"

#include <algorithm>
#include <cctype>
#include <cmath>

namespace quoin::core {

namespace {

struct Range {
    double low, high;
};

MaterialStrength printed(const char* name, Range along, Range across, double modulusMpa, const char* source)
{
    MaterialStrength s;
    s.name = name;
    s.tensileAlongMpa = along.low;
    s.tensileAlongHighMpa = along.high;
    s.tensileAcrossMpa = across.low;
    s.tensileAcrossHighMpa = across.high;
    s.shearAlongMpa = shearOfTensile * along.low;
    s.shearAcrossMpa = shearOfTensile * across.low;
    s.bearingMpa = along.low;
    s.modulusMpa = modulusMpa;
    s.densityGPerCm3 = findMaterial(name)->densityGPerCm3;
    s.source = std::string(source) + "; low end; stiffness from memory";
    s.shearRule = "0.577 of tensile (von Mises); between layers of the strength across them";
    s.bearingRule = "as tensile in the layers (plastics bear pressure at least as well; common practice, no source)";
    return s;
}

/// Average of clear wood less 1.645 standard deviations: the value that 19 of 20 pieces reach.
double lowerTwentieth(double average, double variation)
{
    return average * (1 - 1.645 * variation);
}

MaterialStrength beech()
{
    // Averages of American beech at 12 % moisture and coefficients of variation: Wood Handbook (USDA Forest Products
    // Laboratory), averages as quoted by clchardwoods.com, variations from memory.
    MaterialStrength s;
    s.name = "beech";
    s.tensileAlongMpa = lowerTwentieth(103, 0.16); // modulus of rupture; pulled along the grain it bears more
    s.tensileAlongHighMpa = 103;
    s.tensileAcrossMpa = lowerTwentieth(7.0, 0.25);
    s.tensileAcrossHighMpa = 7.0;
    s.shearAcrossMpa = lowerTwentieth(13.9, 0.14);
    s.shearAlongMpa = s.shearAcrossMpa;
    s.bearingMpa = lowerTwentieth(7.0, 0.28);
    s.modulusMpa = lowerTwentieth(11900, 0.22);
    s.densityGPerCm3 = 0.72;
    s.printed = false;
    s.source = "Wood Handbook (USDA Forest Products Laboratory), American beech at 12 % moisture, clear wood, less "
               "1.645 standard deviations (these from memory)";
    s.shearRule = "along the grain, where wood shears first; a dowel sheared across its grain bears more";
    s.bearingRule = "pressed across the grain, at the proportional limit";
    return s;
}

MaterialStrength steel()
{
    MaterialStrength s;
    s.name = "steel";
    s.tensileAlongMpa = s.tensileAlongHighMpa = 235; // yield, not breaking: a bent pin has failed
    s.tensileAcrossMpa = s.tensileAcrossHighMpa = 235;
    s.shearAlongMpa = s.shearAcrossMpa = shearOfTensile * 235;
    s.bearingMpa = 235;
    s.modulusMpa = 210000;
    s.densityGPerCm3 = 7.85;
    s.printed = false;
    s.source = "mild steel S235, yield (EN 10025-2, from memory)";
    s.shearRule = "0.577 of yield (von Mises)";
    s.bearingRule = "as yield";
    return s;
}

bool sameName(std::string_view a, std::string_view b)
{
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](char x, char y) {
        return std::tolower(static_cast<unsigned char>(x)) == std::tolower(static_cast<unsigned char>(y));
    });
}

} // namespace

const std::vector<MaterialStrength>& shippedStrengths()
{
    static const std::vector<MaterialStrength> strengths{
        printed("PLA", {50, 65}, {35, 45}, 2000, "additive.tools"),
        printed("PETG", {44, 56}, {25, 38}, 1500, "additive.tools"),
        printed("ABS", {28, 40}, {15, 28}, 1700, "published ranges, from memory"),
        printed("ASA", {35, 50}, {20, 30}, 1700, "published ranges, from memory"),
        printed("PA12", {40, 50}, {25, 40}, 1200, "published ranges, from memory"),
        // Stiffness of PA6 as it is in moist air, not as it comes from the dryer.
        printed("PA6", {45, 80}, {20, 50}, 700, "published ranges, from memory"),
        beech(),
        steel(),
    };
    return strengths;
}

const MaterialStrength* findStrength(std::string_view name)
{
    for (const MaterialStrength& s : shippedStrengths())
        if (sameName(s.name, name))
            return &s;
    return nullptr;
}

BoltClass boltClass(std::string_view name, double diameterMm)
{
    const bool thick = diameterMm > 16;
    const std::string source = "ISO 898-1, as quoted by usefastener.com";
    if (name == "4.6")
        return {"4.6", 400, 240, 225, source};
    if (name == "5.8")
        return {"5.8", 520, 420, 380, source};
    if (name == "8.8")
        return {"8.8", thick ? 830.0 : 800.0, thick ? 660.0 : 640.0, thick ? 600.0 : 580.0, source};
    if (name == "10.9")
        return {"10.9", 1040, 940, 830, source};
    if (name == "12.9")
        return {"12.9", 1220, 1100, 970, source};
    if (name == "A2-70") // no proof stress of its own: the stress at 0.2 % lasting stretch stands for it
        return {"A2-70", 700, 450, 450, "ISO 3506-1, from memory"};
    return {};
}

double tensileAt(const MaterialStrength& strength, double angle)
{
    const double c = std::pow(std::cos(angle), 2), s = std::pow(std::sin(angle), 2);
    const double across = 1 / std::pow(strength.tensileAcrossMpa, 2), along = 1 / std::pow(strength.tensileAlongMpa, 2);
    // The shear between layers, but never more than what goes with the tensile strength across them.
    const double shear = 1 / std::pow(std::min(strength.shearAcrossMpa, strength.shearAlongMpa), 2);
    return 1 / std::sqrt(along * s * s + (shear - along) * s * c + across * c * c);
}

double tensileByHankinson(const MaterialStrength& strength, double angle)
{
    const double c = std::pow(std::cos(angle), 2), s = std::pow(std::sin(angle), 2);
    return strength.tensileAlongMpa * strength.tensileAcrossMpa /
           (strength.tensileAlongMpa * c + strength.tensileAcrossMpa * s);
}

} // namespace quoin::core
