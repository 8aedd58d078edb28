// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/scaling_table.h"

#include <catch2/catch.hpp>

#include <array>
#include <cmath>

using namespace quoin;
using namespace quoin::core;

namespace {

const ScalingRow& row(const std::vector<ScalingRow>& rows, const std::string& id)
{
    for (const ScalingRow& r : rows)
        if (r.id == id)
            return r;
    throw std::logic_error(id);
}

/// A bar of 100 x 10 x 10 mm of density 1.24, twelve times as large unless told.
ScalingInput bar(double scale = 12)
{
    ScalingInput in;
    in.scale = scale;
    in.extentsMm = {10, 10, 100};
    in.areaMm2 = 4200;
    in.volumeMm3 = 10000;
    return in;
}

} // namespace

TEST_CASE("scaling table: powers of the square and the cube (Galileo 1638)")
{
    // s = 2, 10, 12: length and own stress s, area, wind and sag s^2, weight s^3, hinge moment s^4, inertia s^5.
    const std::pair<const char*, std::array<double, 3>> wanted[]{
        {"height", {2, 10, 12}},        {"gap", {2, 10, 12}},       {"wall", {2, 10, 12}},
        {"own_stress", {2, 10, 12}},    {"surface", {4, 100, 144}}, {"wind", {4, 100, 144}},
        {"sag", {4, 100, 144}},         {"mass", {8, 1000, 1728}},  {"hinge_moment", {16, 1e4, 20736}},
        {"inertia", {32, 1e5, 248832}},
    };
    const double scales[]{2, 10, 12};
    for (std::size_t i = 0; i < 3; ++i) {
        const auto rows = scalingTable(bar(scales[i]));
        for (const auto& [id, times] : wanted) {
            INFO(id << " at " << scales[i]);
            CHECK(row(rows, id).times() == Approx(times[i]).epsilon(1e-12));
        }
    }
}

TEST_CASE("scaling table: figures of a bar by hand")
{
    const auto rows = scalingTable(bar(10));
    CHECK(row(rows, "mass").small == Approx(12.4));
    CHECK(row(rows, "mass").large == Approx(12400));
    // Cantilever under its own weight: 3 rho g L^2 / h; 0.1 m long, 0.01 m thick, 1240 kg/m3: 36481 Pa, ten times
    // 364807.
    CHECK(row(rows, "own_stress").small == Approx(0.036481).epsilon(2e-5));
    CHECK(row(rows, "own_stress").large == Approx(0.364807).epsilon(2e-5));
    CHECK(row(rows, "hinge_moment").small == Approx(0.0124 * 9.80665 * 0.05));
    // Rod about its end: m L^2 / 3.
    CHECK(row(rows, "inertia").small == Approx(0.0124 * 0.01 / 3));
    // 25 m/s: 390.625 N/m2 (EN 1991-1-4) on 0.1 x 0.01 m.
    CHECK(row(rows, "wind").small == Approx(0.390625));
    for (const ScalingRow& r : rows) {
        CHECK(r.reason.size() > 20);
        CHECK(r.reason.back() == '.');
    }
}

TEST_CASE("scaling table: 50 g twelve times as large are 86.4 kg")
{
    ScalingInput in = bar();
    in.volumeMm3 = 50 / 1.24 * 1000;
    CHECK(row(scalingTable(in), "mass").large == Approx(86400));
}

TEST_CASE("scaling table: prints as estimated, where both are known")
{
    ScalingInput in = bar();
    const std::size_t without = scalingTable(in).size();
    in.smallPrint = PrintFigures{8, 1, 0.3};
    CHECK(scalingTable(in).size() == without); // one alone says nothing
    in.largePrint = PrintFigures{6000, 140, 180};
    CHECK(scalingTable(in).size() == without + 3);
    const auto rows = scalingTable(in);
    CHECK(row(rows, "time").times() == Approx(140));
    CHECK_FALSE(row(rows, "printed_mass").power.has_value());
    const auto json = toJson(rows, in.scale);
    CHECK(json["rows"].size() == rows.size());
    CHECK(json["rows"][0]["power"] == 1.0);
    CHECK(scalingText(rows, true).find("fourth power") != std::string::npos);
}
