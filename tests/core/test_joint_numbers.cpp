// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_shape.h"

#include <catch2/catch.hpp>

#include <limits>

using namespace quoin;
using core::Joint;

TEST_CASE("joint numbers: what is no number, or out of all range, is refused in words for every kind")
{
    const mesh::Plane cut = mesh::planeAt({0, 0, 1}, 0);
    const double nan = std::numeric_limits<double>::quiet_NaN(), infinite = std::numeric_limits<double>::infinity();
    for (const core::JointForm::Kind kind : core::allJointKinds) {
        Joint good;
        good.kind = kind;
        good.thread.pitchMm = 3;
        good.lengthMm = good.gripMm = 20;
        good.headOutMm = good.nutOutMm = 40;
        const auto refused = [&](auto&& spoil) {
            Joint joint = good;
            spoil(joint);
            for (const bool above : {false, true}) {
                const auto side = core::sideShape(joint, cut, above);
                REQUIRE_FALSE(side.ok());
                CHECK(side.problem().reason == Reason::BadArgument);
                CHECK_FALSE(side.problem().what.empty());
            }
            CHECK_FALSE(core::printedParts(joint, cut).ok());
        };
        INFO(core::kindName(kind));
        for (const double bad : {nan, infinite, 0.0, -0.02, 1e-9, 1e7}) // the chord error once threw
            refused([&](Joint& j) { j.chordMm = bad; });
        for (const double bad : {nan, infinite, -infinite}) {
            refused([&](Joint& j) { j.at.x = bad; });
            refused([&](Joint& j) { j.angle = bad; });
            refused([&](Joint& j) { j.clearanceMm = bad; });
            refused([&](Joint& j) { j.depthMm = bad; });
        }
        for (const double bad : {nan, 0.0, -8.0, 1e7})
            refused([&](Joint& j) { j.diameterMm = bad; });
        refused([&](Joint& j) { j.endClearanceMm = -0.5; });
    }
}
