// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_rod.h"

#include "core/joint_dowel.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace quoin;
using namespace quoin::core;
using Rod = JointForm::Rod;

namespace {

Joint rodOf(Rod rod, double diameterMm, double depthMm)
{
    Joint j;
    j.rod = rod;
    j.diameterMm = diameterMm;
    j.depthMm = depthMm;
    j.clearanceMm = 0.2;
    return j;
}

} // namespace

TEST_CASE("rod: is bought by its size, cut to twice the depth")
{
    CHECK(rodParts(rodOf(Rod::Wood, 12, 24))->at(0).name == "wood dowel rod 12 x 48 mm");
    CHECK(rodParts(rodOf(Rod::Steel, 6, 20.5))->at(0).name == "drawn round steel bar 6 x 41 mm");
    CHECK(rodParts(rodOf(Rod::Printed, 11, 20))->empty());
}

TEST_CASE("rod: sizes that aren't sold, and keyed ones, are refused in words")
{
    const auto odd = rodParts(rodOf(Rod::Wood, 11, 24));
    REQUIRE_FALSE(odd.ok());
    CHECK(odd.problem().sentence().find("no wood dowel rod of 11 mm is sold") != std::string::npos);
    CHECK(odd.problem().remedy == "Take 10 or 12 mm.");
    CHECK(rodCheck(rodOf(Rod::Steel, 1, 5)).problem().remedy == "Take 2 mm.");
    CHECK(rodCheck(rodOf(Rod::Steel, 80, 50)).problem().remedy == "Take 50 mm.");
    Joint keyed = rodOf(Rod::Steel, 8, 20);
    keyed.keyed = true;
    CHECK(rodCheck(keyed).problem().what.find("can't be keyed") != std::string::npos);
    CHECK_FALSE(rodCheck(rodOf(Rod::Wood, 8, std::nan(""))).ok());
    CHECK(rodCheck(rodOf(Rod::Printed, 11, 20)).ok());
}

TEST_CASE("rod: its bore is round, and wide enough all round")
{
    Joint j = rodOf(Rod::Steel, 8, 20);
    j.keyed = true;
    for (const mesh::Recess::Level& level : dowelBore(j, mesh::planeAt({1, 2, 3}, 4), true).levels)
        CHECK(mesh::distanceToOutline(level.outline, {0, 0}) >= 4.2 - 1e-9);
}
