// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dovetail_length.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace quoin;
using core::JointForm;

namespace {

/// 100 by 60 mm, a corner at the origin: what is left to a side is read off by hand.
const mesh::Region face{{{0, 0}, {100, 0}, {100, 60}, {0, 60}}};
constexpr double wallMm = 2.4;

JointForm dovetail(mesh::Vec2 at, double degrees, double lengthMm = 30)
{
    JointForm form;
    form.kind = JointForm::Kind::Dovetail;
    form.at = at;
    form.diameterMm = 10;
    form.angle = degrees * M_PI / 180;
    form.lengthMm = lengthMm;
    return form;
}

} // namespace

TEST_CASE("dovetail length: with room it keeps its own, else it ends its wall before the outline")
{
    CHECK(core::dovetailLengthOn(face, dovetail({50, 30}, 0), wallMm) == 30);
    // 50 mm to the edge, less the wall of 2.4, in steps of 0.5.
    CHECK(core::dovetailLengthOn(face, dovetail({50, 30}, 0, 80), wallMm) == 47.5);
    CHECK(core::dovetailLengthOn(face, dovetail({50, 30}, 180, 80), wallMm) == 47.5);
    CHECK(core::dovetailLengthOn(face, dovetail({50, 30}, 90), wallMm) == 27.5);
    CHECK(core::dovetailLengthOn(face, dovetail({88, 30}, 0), wallMm) == 9.5);
}

TEST_CASE("dovetail length: its width and wall count beside it, and never less than a millimetre is left")
{
    // Its half of 5 mm and the wall reach past the lower edge: no way on.
    CHECK(core::dovetailLengthOn(face, dovetail({50, 7}, 0), wallMm) == 1);
    CHECK(core::dovetailLengthOn(face, dovetail({50, 7.5}, 0), wallMm) == 30);
    CHECK(core::dovetailLengthOn(face, dovetail({99, 30}, 0), wallMm) == 1);
}

TEST_CASE("dovetail length: other kinds are kept as they are")
{
    JointForm dowel = core::dowelForm({99, 59}, 8, 12);
    CHECK(core::keptOn(face, dowel, wallMm) == dowel);
    CHECK(core::keptOn(face, dovetail({88, 30}, 0), wallMm).lengthMm == 9.5);
}
