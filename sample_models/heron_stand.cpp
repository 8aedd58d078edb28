// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/primitives.h"
#include "sample_models/heron_part.h"
#include "sample_models/sweep.h"

#include <numbers>

namespace quoin::samples {

using std::numbers::pi;

namespace {

/// Rings on water, dying away from the column: height over the mean level at a share of the radius.
double ripple(double share)
{
    constexpr double heightMm = 0.9, waves = 4.5;
    return heightMm * std::cos(2 * pi * waves * share) * (1 - 0.75 * share);
}

/// Half of the plinth's section for a round plinth of radius 1 across and the real heights: chamfered foot, upright
/// edge, round shoulder, rippled top with a level seat in the middle.
Loop plinthProfile()
{
    using namespace size;
    constexpr double seat = 0.26, shoulder = 0.93;
    const double top = plinthHeight - 1.5;
    Loop profile{{0, 0}};
    for (int i = 1; i <= 8; ++i)
        profile.push_back({0.12 * i, 0});
    profile.push_back({0.975, 0});
    profile.push_back({1, 1.2});
    for (int i = 1; i <= 3; ++i)
        profile.push_back({1, 1.2 + (top - 3.6 - 1.2) * i / 3});
    constexpr int arc = 16;
    for (int i = 1; i <= arc; ++i) {
        const double angle = pi / 2 * i / arc;
        const double meet = top + ripple(shoulder);
        profile.push_back(
            {shoulder + (1 - shoulder) * std::cos(angle), top - 3.6 + (meet - top + 3.6) * std::sin(angle)});
    }
    constexpr int rings = 64;
    for (int i = 1; i <= rings; ++i) {
        const double share = shoulder + (seat - shoulder) * i / rings;
        profile.push_back({share, top + ripple(share)});
    }
    profile.push_back({seat - 0.01, columnFootZ});
    for (int i = 1; i <= 4; ++i)
        profile.push_back({(seat - 0.01) * (1 - 0.2 * i), columnFootZ});
    profile.push_back({0, columnFootZ});
    return profile;
}

/// The column's radius by height, without its reeds.
double columnRadius(double z)
{
    static const Profile radius({{size::columnFootZ, 10.0},
                                 {size::columnFootZ + 2, 9.6},
                                 {size::columnFootZ + 10, 6.6},
                                 {45, 5.2},
                                 {85, 4.6},
                                 {92, 5.6},
                                 {size::crankZ, 8.4},
                                 {107, 5.8},
                                 {111, 5.2},
                                 {size::columnTopZ, 5.4}});
    return radius(z);
}

/// Depth of the flutes between the reeds, as a share of the radius: none at the foot and where the crank is.
double reedDepth(double z)
{
    static const Profile depth({{size::columnFootZ + 3, 0}, {26, 0.10}, {60, 0.13}, {80, 0.10}, {90, 0}});
    return depth(z);
}

Mesh columnShaft()
{
    constexpr int sides = 100, rings = 150;
    constexpr double reeds = 5, turnsPerMm = 1.0 / 240;
    std::vector<std::vector<Vec3>> shaft;
    for (int i = 0; i <= rings; ++i) {
        const double z =
            size::columnFootZ + size::seatGap + (size::columnTopZ - size::columnFootZ - size::seatGap) * i / rings;
        shaft.emplace_back();
        for (int k = 0; k < sides; ++k) {
            const double angle = 2 * pi * k / sides;
            const double wave = std::cos(reeds * (angle - 2 * pi * turnsPerMm * z));
            const double r = columnRadius(z) * (1 - reedDepth(z) * (1 - wave) / 2);
            shaft.back().push_back({r * std::cos(angle), r * std::sin(angle), z});
        }
    }
    return mesh::loft(shaft);
}

} // namespace

HeronPart heronPlinth()
{
    using namespace size;
    Mesh solid = mesh::revolved(plinthProfile(), 160);
    for (Vec3& p : solid.points)
        p = {p.x * plinthLength / 2, p.y * plinthWidth / 2, p.z};
    const Mesh socket = transformed(keyedSocket(footPegRadius, footPegFlat, footPegLength),
                                    Transform::translation({0, 0, columnFootZ}) * quarterTurns({1, 0, 0}, 2));
    return heronPart("plinth", without(solid, socket), {}, Link::Body,
                     {{"foot", {0, 0, columnFootZ - footPegLength / 2}, {0, 0, 1}, footPegRadius + fixedFit, true}});
}

HeronPart heronColumn()
{
    using namespace size;
    constexpr double into = 1; // pegs begin inside the shaft
    Mesh solid = columnShaft();
    // Level seats for the wheel and the hand crank.
    const double far = 20, tall = 14;
    solid = without(solid, together({mesh::box({columnFaceX, -far, crankZ - tall}, {far, far, crankZ + tall}),
                                     mesh::box({-far, -far, crankZ - tall}, {-columnFaceX, far, crankZ + tall})}));
    const Mesh foot =
        transformed(keyedPeg(footPegRadius, footPegFlat, footPegLength + into),
                    Transform::translation({0, 0, columnFootZ + seatGap + into}) * quarterTurns({1, 0, 0}, 2));
    const Mesh top = transformed(keyedPeg(topPegRadius, topPegFlat, topPegLength + into),
                                 Transform::translation({0, 0, columnTopZ - into}));
    solid = fused(solid, together({foot, top}));
    solid = without(solid, boreAlongX({0, crankZ}, axleRadius + runningFit, -far, far));
    return heronPart("column", solid, {}, Link::Body,
                     {{"foot", {0, 0, columnFootZ - footPegLength / 2}, {0, 0, 1}, footPegRadius, false},
                      {"top", {0, 0, columnTopZ + topPegLength / 2}, {0, 0, 1}, topPegRadius, false},
                      {"axle", {0, 0, crankZ}, {1, 0, 0}, axleRadius + runningFit, true}});
}

} // namespace quoin::samples
