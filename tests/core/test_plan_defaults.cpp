// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/plan_defaults.h"

#include <catch2/catch.hpp>

#include <set>

using namespace quoin;
using core::Bed;

TEST_CASE("plan defaults: one machine for each bed that there is, each with a name of its own")
{
    const std::vector<Bed> beds{{"big", Bed::Shape::Rectangular, 400, 400, 450, 2},
                                {"", Bed::Shape::Round, 250, 250, 300, 1},
                                {"big 2", Bed::Shape::Rectangular, 300, 300, 300, 1}};
    const auto machines = core::usualMachines(beds, 7);
    REQUIRE(machines.size() == 4);
    std::set<std::string> names;
    for (const core::Machine& m : machines) {
        CHECK(core::checkMachine(m).ok());
        CHECK(m.marginMm == 7);
        CHECK(m.bed.machines == 1);
        CHECK(m.costPerHour > 0);
        names.insert(m.name);
    }
    CHECK(names.size() == 4);
    CHECK(machines[0].name == "big");
    CHECK(machines[1].name == "big 2");
    CHECK(machines[1].bed.widthMm == 400);
    CHECK(machines[2].name == "d250x300");
    CHECK(core::usualMachines({}, 5).empty());
}

TEST_CASE("plan defaults: printing begins at the next full hour at which somebody is there")
{
    const auto at = [](const char* text) { return core::momentFromText(text).value(); };
    const auto machines = core::usualMachines({{"b", Bed::Shape::Rectangular, 300, 300, 300, 1}}, 5); // mon-fri 8-18
    // 2026-12-01 is a Tuesday: the Gregorian calendar.
    CHECK(core::usualStart(machines, at("2026-12-01 09:20")) == at("2026-12-01 10:00"));
    CHECK(core::usualStart(machines, at("2026-12-01 10:00")) == at("2026-12-01 10:00"));
    CHECK(core::usualStart(machines, at("2026-12-01 18:30")) == at("2026-12-02 08:00"));
    CHECK(core::usualStart(machines, at("2026-12-05 11:00")) == at("2026-12-07 08:00")); // from Saturday to Monday
    CHECK(core::usualStart({}, at("2026-12-05 11:05")) == at("2026-12-05 12:00"));
}
