// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/scaling_table.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace quoin::core {

namespace {

constexpr double gravity = 9.80665; // m/s2, standard (CGPM 1901)
constexpr double windPa = 390.625;  // 25 m/s: half of 1.25 kg/m3 times v^2 (EN 1991-1-4)

/// A row of a pure power.
ScalingRow powerRow(const char* id, const char* what, const char* unit, double small, double power, double scale,
                    const char* reason)
{
    return {id, what, unit, small, small * std::pow(scale, power), power, reason};
}

void addStrains(std::vector<ScalingRow>& rows, const ScalingInput& in, double grams)
{
    std::array<double, 3> m{in.extentsMm.x / 1000, in.extentsMm.y / 1000, in.extentsMm.z / 1000};
    std::sort(m.begin(), m.end());
    const auto [thinnest, middle, longest] = m;
    if (!(longest > 0 && thinnest > 0))
        return;
    const double kg = grams / 1000, density = in.densityGPerCm3 * 1000; // kg/m3
    rows.push_back(powerRow("hinge_moment", "moment at a hinge under its own weight", "N m", kg * gravity * longest / 2,
                            4, in.scale,
                            "Weight grows with the cube and its arm with the length: together with the fourth power. "
                            "Springs, motors and counterweights must grow as much."));
    rows.push_back(powerRow("inertia", "inertia about that hinge", "kg m2", kg * longest * longest / 3, 5, in.scale,
                            "Weight times the square of its distance: the fifth power. It starts and stops that much "
                            "more slowly, or with that much more force."));
    // Uniform bar held at one end: largest stress 3 rho g L^2 / h; sag 3 rho g L^4 / (2 E h^2), its ratio alone
    // matters.
    rows.push_back(
        powerRow("own_stress", "stress under its own weight, held at one end", "MPa",
                 3 * density * gravity * longest * longest / thinnest / 1e6, 1, in.scale,
                 "Load grows with the cube, the section that carries it with the square: stress with the "
                 "length, while the material stays what it is. This is why large things need thicker limbs."));
    rows.push_back(powerRow("sag", "sag under its own weight", "times", 1, 2, in.scale,
                            "As a share of its length it sags in proportion, and so in millimetres with the square."));
    rows.push_back(powerRow("wind", "wind of 25 m/s on its broad side", "N", windPa * longest * middle, 2, in.scale,
                            "Wind presses on area: with the square. It moves the small one easily and the large one "
                            "with that much more force."));
}

/// Weight, hours and money as estimated: no pure powers, since walls stay as thick as the recipe lays them.
void addPrints(std::vector<ScalingRow>& rows, const PrintFigures& small, const PrintFigures& large)
{
    rows.push_back({"printed_mass", "printed weight", "g", small.grams, large.grams, std::nullopt,
                    "Walls and skins stay as thick as the recipe lays them and grow with the square, infill with the "
                    "cube: between the two."});
    rows.push_back({"time", "printing time", "h", small.hours, large.hours, std::nullopt,
                    "The nozzle lays no more an hour for a large piece than it can melt, so that time follows the "
                    "plastic; a coarser recipe shortens it."});
    rows.push_back({"money", "cost of printing", "", small.money, large.money, std::nullopt,
                    "Plastic, hours and energy together."});
}

} // namespace

std::vector<ScalingRow> scalingTable(const ScalingInput& in)
{
    const double s = in.scale, grams = in.volumeMm3 / 1000 * in.densityGPerCm3;
    std::vector<ScalingRow> rows{
        powerRow("width", "width", "mm", in.extentsMm.x, 1, s, "Every length grows with the scale."),
        powerRow("depth", "depth", "mm", in.extentsMm.y, 1, s, "Every length grows with the scale."),
        powerRow("height", "height", "mm", in.extentsMm.z, 1, s, "Every length grows with the scale."),
        powerRow("gap", "a gap that gave easy play", "mm", in.playMm, 1, s,
                 "Gaps grow too: what moved with a little play now rattles. Bushes or bearings take it up."),
        powerRow(
            "wall", "a wall", "mm", in.thinnestMm, 1, s,
            "A wall that was as thin as the printer lays it becomes thicker than it need be, and may be hollowed."),
        powerRow("surface", "surface", "mm2", in.areaMm2, 2, s,
                 "Area grows with the square, and with it paint, sanding and what the sun and the wind find."),
        powerRow("mass", "solid weight", "g", grams, 3, s, "Volume grows with the cube, and weight with it."),
    };
    if (in.smallPrint && in.largePrint)
        addPrints(rows, *in.smallPrint, *in.largePrint);
    addStrains(rows, in, grams);
    return rows;
}

nlohmann::ordered_json toJson(const std::vector<ScalingRow>& rows, double scale)
{
    nlohmann::ordered_json list = nlohmann::ordered_json::array();
    for (const ScalingRow& r : rows)
        list.push_back({{"id", r.id},
                        {"what", r.what},
                        {"unit", r.unit},
                        {"small", r.small},
                        {"large", r.large},
                        {"times", r.times()},
                        {"power", r.power ? nlohmann::ordered_json(*r.power) : nlohmann::ordered_json(nullptr)},
                        {"reason", r.reason}});
    return {{"scale", scale}, {"source", "Galileo, Discorsi e dimostrazioni matematiche, 1638"}, {"rows", list}};
}

std::string scalingText(const std::vector<ScalingRow>& rows, bool reasons)
{
    std::string out =
        fmt::format("  {:<44} {:>12} {:>12} {:<6} {:>10}  {}\n", "", "small", "large", "", "times", "power");
    for (const ScalingRow& r : rows) {
        out += fmt::format("  {:<44} {:>12.4g} {:>12.6g} {:<6} {:>10.4g}  {}\n", r.what, r.small, r.large, r.unit,
                           r.times(), r.power ? fmt::format("{:g}", *r.power) : "-");
        if (reasons)
            out += "      " + r.reason + "\n";
    }
    return out;
}

} // namespace quoin::core
