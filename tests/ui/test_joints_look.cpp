// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
// What the view shows of joints: levels of safety, forces, steps of the assembly.
#include "ui/joints_look.h"
#include "ui/theme.h"

#include <QColor>

#include <catch2/catch.hpp>

#include <cmath>

using namespace quoin;
using namespace quoin::ui;
using mesh::Vec3;

namespace {

core::AssemblyStep step(core::Motion motion)
{
    return {{2, 3}, {1}, motion, {}, {}};
}

} // namespace

TEST_CASE("safety levels: by the limit and twice the limit, told apart by width and words too")
{
    CHECK(safetyLevel(2.9, true, 3) == SafetyLevel::Weak);
    CHECK(safetyLevel(3, false, 3) == SafetyLevel::Near);
    CHECK(safetyLevel(5.9, false, 3) == SafetyLevel::Near);
    CHECK(safetyLevel(6, false, 3) == SafetyLevel::Sure);
    CHECK(safetyLevel(INFINITY, false, 3) == SafetyLevel::Sure);
    CHECK(safetyWidthPx(SafetyLevel::Weak) > safetyWidthPx(SafetyLevel::Near));
    CHECK(safetyWidthPx(SafetyLevel::Near) > safetyWidthPx(SafetyLevel::Sure));
    CHECK(safetyWords(SafetyLevel::Weak, 2.5) == "below 2.5: weak");
    CHECK(safetyWords(SafetyLevel::Near, 2.5) == "2.5 to 5");
    CHECK(safetyWords(SafetyLevel::Sure, 2.5) == "above 5");
}

TEST_CASE("forces: an arrow each, its tip where it acts, the chosen one marked")
{
    core::LoadCase load;
    load.extra = {{{1, 2, 3}, {0, -50, 0}, 0}, {{4, 5, 6}, {30, 0, 40}, 2}};
    const auto arrows = forceArrows(load, mesh::Transform::translation({100, 0, 0}), 1);
    REQUIRE(arrows.size() == 2);
    CHECK(arrows[0].tip == Vec3{101, 2, 3});
    CHECK(arrows[0].way == Vec3{0, -1, 0});
    CHECK(arrows[0].text == "1: 50 N");
    CHECK_FALSE(arrows[0].chosen);
    CHECK(length(arrows[1].way - Vec3{0.6, 0, 0.8}) < 1e-12);
    CHECK(arrows[1].chosen);
}

TEST_CASE("order: a push begins far off against its way and ends in its place")
{
    core::Motion push;
    push.direction = {0, 0, -1};
    push.travelMm = 20;
    const auto at = [&](double apart) { return orderPlacement(step(push), apart, 80).point({1, 2, 3}); };
    CHECK(at(0) == Vec3{1, 2, 3});
    CHECK(length(at(1) - Vec3{1, 2, 83}) < 1e-9);
    CHECK(length(at(0.5) - Vec3{1, 2, 43}) < 1e-9);
    CHECK(length(orderPlacement(step(push), 1, 5).point({0, 0, 0}) - Vec3{0, 0, 20}) < 1e-9); // at least its travel
}

TEST_CASE("order: a turn goes along its thread to its end, and stands off straight before it")
{
    // A right-hand thread of 6 mm lead, 1.5 turns: 9 mm. What comes on along -z turns clockwise as seen along its way,
    // so what goes off along +z turns counter-clockwise seen from above (right-hand rule).
    core::Motion turn;
    turn.kind = core::Motion::Kind::Helix;
    turn.point = {10, 0, 0};
    turn.direction = {0, 0, -1};
    turn.leadMm = 6;
    turn.travelMm = 9;
    const auto at = [&](double apart) { return orderPlacement(step(turn), apart, 50).point({11, 0, 0}); };
    CHECK(length(at(0) - Vec3{11, 0, 0}) < 1e-9);
    CHECK(length(at(0.75) - Vec3{9, 0, 9}) < 1e-9);     // one and a half turns about (10, 0)
    CHECK(length(at(0.125) - Vec3{10, 1, 1.5}) < 1e-9); // a quarter turn: 1.5 mm
    CHECK(length(at(1) - Vec3{9, 0, 59}) < 1e-9);       // 9 mm of thread, 50 mm beyond, no more turning
}

TEST_CASE("order: what moves, what stands, and what isn't there yet")
{
    core::Motion push;
    push.travelMm = 10;
    const core::AssemblyStep s = step(push);
    const OrderLook look(s, 1, 30);
    CHECK(look.role(1) == OrderLook::Role::Stands);
    CHECK(look.role(3) == OrderLook::Role::Moves);
    CHECK(look.role(4) == OrderLook::Role::Absent);
    CHECK(look.placement(1).point({0, 0, 0}) == Vec3{0, 0, 0});
    CHECK(length(look.placement(2).point({0, 0, 0}) - Vec3{0, 0, -30}) < 1e-9);
    core::Project project;
    project.seams.resize(2);
    project.seams[0].pieceBelow = 1;
    project.seams[0].pieceAbove = 2;
    project.seams[1].pieceBelow = 2;
    project.seams[1].pieceAbove = 4;
    CHECK(look.shows(project, {0, 0, {}, false}));
    CHECK_FALSE(look.shows(project, {1, 0, {}, false}));
}
