// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/clearances.h"
#include "core/part_fits.h"

#include <catch2/catch.hpp>

using namespace quoin::core;

namespace {

FitRow row(const std::string& material, const std::string& machine, FitProcess process, double slidingMm)
{
    return {material, machine, process, slidingMm + 0.2, slidingMm, slidingMm - 0.05, slidingMm - 0.1, "tried", ""};
}

} // namespace

TEST_CASE("part fits: a part keeps the own rows that count for it, and no others")
{
    FitTable table;
    for (const FitRow& r : {row("PLA", "", FitProcess::Dowel, 0.31), row("PLA", "big one", FitProcess::Dowel, 0.42),
                            row("PETG", "", FitProcess::Dowel, 0.53), row("", "", FitProcess::Thread, 0.64)})
        table = table.withRow(r).value();
    PartDesign part;
    part.material = "PLA";
    part.fits = {row("ABS", "", FitProcess::Key, 0.9)}; // of before
    const PartDesign anywhere = withFits(part, table);
    REQUIRE(anywhere.fits.size() == 2);
    CHECK(anywhere.fits[0].slidingMm == 0.31);
    CHECK(anywhere.fits[1].slidingMm == 0.64);
    part.machine = "big one";
    const PartDesign there = withFits(part, table);
    CHECK(there.fits[0].slidingMm == 0.42);
    // What joints are made with is the same by the part's rows as by the whole table.
    const Clearances c = clearancesFor(there.fits, there.material, there.machine, Fit::Sliding);
    for (const FitProcess process : fitProcesses)
        CHECK(c.of(process) == clearanceFor(table, "PLA", "big one", process, Fit::Sliding));
    CHECK(withFits(part, FitTable{}).fits.empty());
}

TEST_CASE("part fits: all parts of a design, each by its own material")
{
    Design design;
    design.parts.resize(2);
    design.parts[1].material = "PETG";
    const FitTable table = FitTable{}.withRow(row("PETG", "", FitProcess::Key, 0.5)).value();
    const Design next = withFits(design, table);
    CHECK(next.parts[0].fits.empty());
    REQUIRE(next.parts[1].fits.size() == 1);
    CHECK(next.parts[1].fits[0].process == FitProcess::Key);
}
