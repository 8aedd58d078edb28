// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/thread.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace quoin::core {

namespace {

/// Two numbers of a table are the same size, mm: rounding of what was typed or computed.
constexpr double sameSizeMm = 1e-9;

bool same(double a, double b)
{
    return std::abs(a - b) < sameSizeMm;
}

/// Crest clearance ac by pitch, mm (ISO 2904); the largest pitch of each step.
struct CrestClearance {
    double pitchMm, acMm;
};
constexpr std::array crestClearances{CrestClearance{1.5, 0.15}, CrestClearance{5, 0.25}, CrestClearance{12, 0.5},
                                     CrestClearance{44, 1.0}};

constexpr std::array isoPitches{1.5, 2.,  3.,  4.,  5.,  6.,  7.,  8.,  9.,  10., 12.,
                                14., 16., 18., 20., 22., 24., 28., 32., 36., 40., 44.};

constexpr std::array printable{
    PrintableSize{8, 3},    PrintableSize{10, 3},   PrintableSize{12, 3},   PrintableSize{16, 3},
    PrintableSize{20, 3.5}, PrintableSize{24, 4},   PrintableSize{30, 5},   PrintableSize{36, 6},
    PrintableSize{40, 6},   PrintableSize{50, 8},   PrintableSize{60, 10},  PrintableSize{70, 11},
    PrintableSize{80, 12},  PrintableSize{90, 13},  PrintableSize{100, 14}, PrintableSize{120, 16},
    PrintableSize{140, 18}, PrintableSize{160, 20}, PrintableSize{180, 22}, PrintableSize{200, 24}};

struct MetricSize {
    double d, P;
};
constexpr std::array metric{MetricSize{3, 0.5},  MetricSize{4, 0.7},  MetricSize{5, 0.8},   MetricSize{6, 1},
                            MetricSize{8, 1.25}, MetricSize{10, 1.5}, MetricSize{12, 1.75}, MetricSize{14, 2},
                            MetricSize{16, 2},   MetricSize{18, 2.5}, MetricSize{20, 2.5},  MetricSize{22, 2.5},
                            MetricSize{24, 3},   MetricSize{27, 3},   MetricSize{30, 3.5},  MetricSize{33, 3.5},
                            MetricSize{36, 4}};

constexpr auto metricDiameters = [] {
    std::array<double, metric.size()> d{};
    for (std::size_t i = 0; i < metric.size(); ++i)
        d[i] = metric[i].d;
    return d;
}();

/// The last size of an ascending table that is not above d; the first for less.
template <class Table, class Diameter>
const auto& notAbove(const Table& table, double d, Diameter diameter)
{
    const auto after =
        std::find_if(table.begin(), table.end(), [&](const auto& row) { return diameter(row) > d + sameSizeMm; });
    return after == table.begin() ? *after : *std::prev(after);
}

} // namespace

std::optional<IsoTrapezoidal> isoTrapezoidal(double diameterMm, double pitchMm)
{
    if (std::none_of(isoPitches.begin(), isoPitches.end(), [&](double p) { return same(p, pitchMm); }))
        return std::nullopt;
    const auto step = std::find_if(crestClearances.begin(), crestClearances.end(),
                                   [&](const CrestClearance& c) { return pitchMm < c.pitchMm + sameSizeMm; });
    IsoTrapezoidal t{};
    t.d = diameterMm;
    t.P = pitchMm;
    t.ac = step->acMm;
    t.H1 = 0.5 * t.P;
    t.h3 = t.H1 + t.ac;
    t.d2 = t.D2 = t.d - t.H1;
    t.D4 = t.d + 2 * t.ac;
    t.d3 = t.d - 2 * t.h3;
    t.D1 = t.d - 2 * t.H1;
    t.R1max = 0.5 * t.ac;
    t.R2max = t.ac;
    if (!(t.d3 > 0))
        return std::nullopt;
    return t;
}

const std::vector<PitchPlanRow>& trapezoidalPlan()
{
    // ISO 2902, from memory (core/thread.h says what was compared).
    static const std::vector<PitchPlanRow> plan{
        {8, {1.5}, 1.5, true},          {9, {2, 1.5}, 2, false},        {10, {2, 1.5}, 2, true},
        {11, {3, 2}, 3, false},         {12, {3, 2}, 3, true},          {14, {3, 2}, 3, false},
        {16, {4, 2}, 4, true},          {18, {4, 2}, 4, false},         {20, {4, 2}, 4, true},
        {22, {8, 5, 3}, 5, false},      {24, {8, 5, 3}, 5, true},       {26, {8, 5, 3}, 5, false},
        {28, {8, 5, 3}, 5, true},       {30, {10, 6, 3}, 6, false},     {32, {10, 6, 3}, 6, true},
        {34, {10, 6, 3}, 6, false},     {36, {10, 6, 3}, 6, true},      {38, {10, 7, 3}, 7, false},
        {40, {10, 7, 3}, 7, true},      {42, {10, 7, 3}, 7, false},     {44, {12, 7, 3}, 7, true},
        {46, {12, 8, 3}, 8, false},     {48, {12, 8, 3}, 8, true},      {50, {12, 8, 3}, 8, false},
        {52, {12, 8, 3}, 8, true},      {55, {14, 9, 3}, 9, false},     {60, {14, 9, 3}, 9, true},
        {65, {16, 10, 4}, 10, false},   {70, {16, 10, 4}, 10, true},    {75, {16, 10, 4}, 10, false},
        {80, {16, 10, 4}, 10, true},    {85, {18, 12, 4}, 12, false},   {90, {18, 12, 4}, 12, true},
        {95, {18, 12, 4}, 12, false},   {100, {20, 12, 4}, 12, true},   {110, {20, 12, 4}, 12, false},
        {120, {22, 14, 6}, 14, true},   {130, {22, 14, 6}, 14, false},  {140, {24, 14, 6}, 14, true},
        {150, {24, 16, 6}, 16, false},  {160, {28, 16, 6}, 16, true},   {170, {28, 16, 6}, 16, false},
        {180, {28, 18, 8}, 18, true},   {190, {32, 18, 8}, 18, false},  {200, {32, 18, 8}, 18, true},
        {210, {36, 20, 8}, 20, false},  {220, {36, 20, 8}, 20, true},   {230, {36, 20, 8}, 20, false},
        {240, {36, 22, 8}, 22, true},   {250, {40, 22, 12}, 22, false}, {260, {40, 22, 12}, 22, true},
        {270, {40, 24, 12}, 24, false}, {280, {40, 24, 12}, 24, true},  {290, {44, 24, 12}, 24, false},
        {300, {44, 24, 12}, 24, true}};
    return plan;
}

bool inTrapezoidalPlan(double diameterMm, double pitchMm)
{
    const auto& plan = trapezoidalPlan();
    return std::any_of(plan.begin(), plan.end(), [&](const PitchPlanRow& row) {
        return same(row.diameterMm, diameterMm) &&
               std::any_of(row.pitchesMm.begin(), row.pitchesMm.end(), [&](double p) { return same(p, pitchMm); });
    });
}

Thread trapezoidalThread(double diameterMm)
{
    const PitchPlanRow* best = &trapezoidalPlan().front();
    for (const PitchPlanRow& row : trapezoidalPlan())
        if (row.preferred && row.diameterMm <= diameterMm + sameSizeMm)
            best = &row;
    return {Thread::Profile::Trapezoidal, best->diameterMm, best->normalMm, 1, false};
}

std::span<const PrintableSize> printableSizes()
{
    return printable;
}

Thread printableThread(double diameterMm)
{
    const PrintableSize& size = notAbove(printable, diameterMm, [](const PrintableSize& s) { return s.diameterMm; });
    return {Thread::Profile::Printable, diameterMm, size.pitchMm, 1, false};
}

std::optional<MetricThread> metricThread(double diameterMm)
{
    const auto size =
        std::find_if(metric.begin(), metric.end(), [&](const MetricSize& m) { return same(m.d, diameterMm); });
    if (size == metric.end())
        return std::nullopt;
    const double h = std::numbers::sqrt3 / 2 * size->P; // height of the sharp triangle, ISO 68-1
    MetricThread m{};
    m.d = size->d;
    m.P = size->P;
    m.d2 = m.d - 0.75 * h;
    m.D1 = m.d - 1.25 * h;
    m.d3 = m.D1 - h / 6;
    const double mean = (m.d2 + m.d3) / 2;
    m.stressAreaMm2 = std::numbers::pi / 4 * mean * mean;
    return m;
}

std::span<const double> metricDiametersMm()
{
    return metricDiameters;
}

} // namespace quoin::core
