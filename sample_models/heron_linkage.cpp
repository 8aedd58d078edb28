// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "sample_models/heron_linkage.h"

#include "sample_models/heron_sizes.h"

#include <algorithm>
#include <numbers>
#include <stdexcept>

namespace quoin::samples {

using mesh::Transform;
using mesh::Vec2;
using mesh::Vec3;

namespace {

constexpr Vec2 crankAxis{0, size::crankZ};
constexpr Vec2 leftHinge{size::hingeY, size::hingeZ};
constexpr Vec2 lever{size::leverY, size::leverZ};

double heading(Vec2 v)
{
    return std::atan2(v.y, v.x);
}

Vec2 mirrored(Vec2 p)
{
    return {-p.x, p.y};
}

/// The rod pin of the left wing: at the rod's length from the crank pin and at the lever's from the hinge; of the two
/// such places the one further out.
Vec2 rodPin(Vec2 crankPin)
{
    const Vec2 toCrank = crankPin - leftHinge;
    const double d = length(toCrank);
    const double l = length(lever);
    const double along = (l * l - size::rodLength * size::rodLength + d * d) / (2 * d);
    const double square = l * l - along * along;
    if (square <= 0)
        throw std::logic_error("the heron's linkage doesn't close");
    const Vec2 u = (1 / d) * toCrank;
    // A quarter turn from the direction to the crank, towards the wing tip.
    return leftHinge + along * u + std::sqrt(square) * Vec2{-u.y, u.x};
}

Transform acrossAt(Vec2 place, double turn)
{
    return Transform::translation({0, place.x, place.y}) * Transform::rotation({1, 0, 0}, turn);
}

} // namespace

bool FourBar::crankTurnsRound() const
{
    const double longest = std::max({rod, lever, ground});
    const double shortestOthers = std::min({rod, lever, ground});
    return crank < shortestOthers && crank + longest < rod + lever + ground - longest;
}

FourBar heronFourBar()
{
    return {size::throwRadius, size::rodLength, length(lever), length(leftHinge - crankAxis)};
}

LinkagePose linkageAt(double crankRadians)
{
    LinkagePose pose{};
    pose.crankPin = crankAxis + size::throwRadius * Vec2{std::cos(crankRadians), std::sin(crankRadians)};
    pose.leftRodPin = rodPin(pose.crankPin);
    pose.rightRodPin = mirrored(rodPin(mirrored(pose.crankPin)));
    pose.leftWing = heading(pose.leftRodPin - leftHinge) - heading(lever);
    pose.rightWing = heading(mirrored(pose.rightRodPin) - leftHinge) - heading(lever);
    pose.leftRod = heading(pose.leftRodPin - pose.crankPin);
    pose.rightRod = heading(pose.rightRodPin - pose.crankPin);
    return pose;
}

Transform linkFrame(Link link, const LinkagePose& pose)
{
    const Vec3 hingeMiddle{size::hingeX, 0, 0};
    switch (link) {
    case Link::Body:
        return {};
    case Link::Crank:
        return acrossAt(crankAxis, heading(pose.crankPin - crankAxis) - std::numbers::pi / 2);
    case Link::LeftRod:
        return acrossAt(pose.crankPin, pose.leftRod);
    case Link::RightRod:
        return acrossAt(pose.crankPin, pose.rightRod);
    case Link::LeftWing:
        return Transform::translation(hingeMiddle) * acrossAt(leftHinge, pose.leftWing);
    case Link::RightWing:
        return Transform::translation(hingeMiddle) * acrossAt(mirrored(leftHinge), -pose.rightWing);
    }
    throw std::logic_error("no such link");
}

} // namespace quoin::samples
