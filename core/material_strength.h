// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <string_view>
#include <vector>

/// Strengths to plan with: cautious values, each with where it comes from. Megapascals throughout.
namespace quoin::core {

/// What a material bears. "Along" is in the layers of a print and along the grain of wood; "across" is the direction
/// normal to the layers, or across the grain. Metals have the same in both.
struct MaterialStrength {
    std::string name;
    double tensileAlongMpa = 0;                               ///< the low end of the published range
    double tensileAcrossMpa = 0;                              ///< the low end of the published range
    double tensileAlongHighMpa = 0, tensileAcrossHighMpa = 0; ///< the high ends: for words, never for a check
    double shearAlongMpa = 0;                                 ///< on surfaces that cut through the layers
    double shearAcrossMpa = 0; ///< between the layers (wood: along the grain, where it splits)
    double bearingMpa = 0;     ///< pressure on the wall of a hole
    double modulusMpa = 0;     ///< stiffness, low end
    double densityGPerCm3 = 0;
    bool printed = true;     ///< layers: the print pose says which way "across" runs
    std::string source;      ///< of the tensile values and the modulus
    std::string shearRule;   ///< how the shear values come about
    std::string bearingRule; ///< how the bearing value comes about
};

/// The printed materials of core/material.h, then beech (dowels of wood) and steel (mild rod).
const std::vector<MaterialStrength>& shippedStrengths();
/// By name, any case; nullptr when unknown.
const MaterialStrength* findStrength(std::string_view name);

/// A steel bolt's property class.
struct BoltClass {
    std::string name;      ///< "8.8"
    double tensileMpa = 0; ///< least
    double yieldMpa = 0;   ///< least
    double proofMpa = 0;   ///< stress under proof load: no lasting stretch
    std::string source;
};

/// "4.6", "5.8", "8.8", "10.9", "12.9" (ISO 898-1), "A2-70" (ISO 3506-1) for a bolt of a diameter in mm. The class has
/// no strength (proofMpa 0) and no name when it is unknown.
BoltClass boltClass(std::string_view name, double diameterMm);

/// Ratio of shear to tensile strength for a material that yields alike in every direction: 1/sqrt(3) (von Mises 1913).
inline constexpr double shearOfTensile = 0.5773502691896258;

/// Tensile strength in a direction. Tsai-Hill (Azzi and Tsai, Experimental Mechanics 5, 1965) for a pull in one
/// direction, which also counts the shear between layers of a slanted pull; for a material alike in every direction
/// it gives the same in every direction.
/// @param angle  radians between the pull and the normal of the layers (wood: the normal of the grain); 0 is across
double tensileAt(const MaterialStrength& strength, double angle);

/// The same by Hankinson (Air Service Information Circular 3, no. 259, 1921), which knows no shear: never less than
/// the checks use, shown for comparison.
double tensileByHankinson(const MaterialStrength& strength, double angle);

} // namespace quoin::core
