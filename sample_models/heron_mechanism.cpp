// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/primitives.h"
#include "sample_models/heron_part.h"

#include <numbers>

namespace quoin::samples {

using std::numbers::pi;

namespace {

/// Reaches past a face that a tool opens, mm.
constexpr double past = 1;

/// The D-shaped hole of the wheel and of the hand crank, and the axle's ends, along x; the flat faces +z when the crank
/// pin is on top.
Outline axleOutline(double spare)
{
    const Outline d = dOutline(size::axleRadius + spare, size::axleFlat + spare);
    return [d](double inset) {
        Loop loop = d(inset);
        for (Vec2& p : loop)
            p = {-p.y, p.x};
        return loop;
    };
}

/// The rim of the wheel: gentle lobes, to turn it by hand.
Outline lobedRim()
{
    return [](double inset) {
        constexpr int lobes = 12, corners = 144;
        constexpr double depth = 0.45;
        Loop loop;
        for (int k = 0; k < corners; ++k) {
            const double angle = 2 * pi * k / corners;
            const double r = size::wheelRadius - depth * (1 - std::cos(lobes * angle)) / 2 - inset;
            loop.push_back({r * std::cos(angle), r * std::sin(angle)});
        }
        return loop;
    };
}

} // namespace

HeronPart heronCrankWheel()
{
    using namespace size;
    constexpr double chamfer = 0.6, lightening = 2.1, lighteningRing = 9.9;
    constexpr int places = 8; // the one beside the crank pin stays full
    std::vector<Outline> holes{circleOutline({0, throwRadius}, crankPinRadius + fixedFit), axleOutline(fixedFit)};
    for (int k = 1; k < places; ++k) {
        const double angle = pi / 2 + 2 * pi * k / places;
        holes.push_back(circleOutline(lighteningRing * Vec2{std::cos(angle), std::sin(angle)}, lightening));
    }
    const Mesh solid = plateAlongX(lobedRim(), holes, wheelBackX, wheelFrontX, chamfer);
    return heronPart(
        "crank-wheel", solid, quarterTurns({0, 1, 0}, -1), Link::Crank,
        {{"axle-front", {(wheelBackX + wheelFrontX) / 2, 0, 0}, {1, 0, 0}, axleRadius + fixedFit, true},
         {"crank-pin", {(wheelBackX + wheelFrontX) / 2, 0, throwRadius}, {1, 0, 0}, crankPinRadius + fixedFit, true}});
}

HeronPart heronHandCrank()
{
    using namespace size;
    constexpr double chamfer = 0.6, hubEye = 5.4, knobEye = 3.4, knobLength = 15;
    const double front = -wheelBackX, back = -wheelFrontX;
    // The arm hangs opposite to the crank pin.
    Mesh solid = raisedAlongX(linkOutline({0, 0}, hubEye, {0, -handleThrow}, knobEye), back, front, chamfer, chamfer);
    Loop profile{{0, 0}};
    for (int i = 0; i <= 30; ++i) {
        const double u = i / 30.0;
        profile.push_back(
            {2.0 + 1.1 * std::sin(pi * u) * u + (u > 0.8 ? -1.6 * (u - 0.8) * (u - 0.8) / 0.04 : 0), knobLength * u});
    }
    profile.push_back({0, knobLength});
    const Mesh knob = transformed(mesh::revolved(profile, roundSides),
                                  Transform::translation({back + past, 0, -handleThrow}) * quarterTurns({0, 1, 0}, -1));
    solid = fused(solid, knob);
    solid = without(solid, raisedAlongX(axleOutline(fixedFit), back - past, front + past));
    return heronPart("hand-crank", solid, quarterTurns({0, 1, 0}, 1), Link::Crank,
                     {{"axle-back", {(back + front) / 2, 0, 0}, {1, 0, 0}, axleRadius + fixedFit, true}});
}

HeronPart heronCrankAxle()
{
    using namespace size;
    constexpr double set = 0.2; // its ends stay behind the faces of the wheel and the hand crank
    const double end = wheelFrontX - set;
    Mesh solid = raisedAlongX(circleOutline({0, 0}, axleRadius), -end, end, pinChamfer, pinChamfer);
    const auto flat = [&](double from, double to) { return mesh::box({from, -10, axleFlat}, {to, 10, 10}); };
    solid =
        without(solid, together({flat(columnFaceX + seatGap, end + past), flat(-end - past, -columnFaceX - seatGap)}));
    return heronPart("crank-axle", solid, quarterTurns({0, 1, 0}, 1), Link::Crank,
                     {{"axle", {0, 0, 0}, {1, 0, 0}, axleRadius, false},
                      {"axle-front", {(wheelBackX + wheelFrontX) / 2, 0, 0}, {1, 0, 0}, axleRadius, false},
                      {"axle-back", {-(wheelBackX + wheelFrontX) / 2, 0, 0}, {1, 0, 0}, axleRadius, false}});
}

namespace {

/// Outline of a rod in (y, z): two eyes and a waist that flows into them.
Outline rodOutline()
{
    return [](double inset) {
        using namespace size;
        constexpr double join = 40 * pi / 180; // where the waist leaves an eye, from the rod's line
        constexpr int arc = 44, flow = 12;
        const double r = rodEye - inset, w = rodWaist - inset;
        Loop quarter; // from the middle of the waist to the far side of the eye at rodLength
        const Vec2 leave = Vec2{rodLength, 0} + r * Vec2{-std::cos(join), std::sin(join)};
        const Vec2 heading{std::sin(join), std::cos(join)};
        const double reach = leave.x - rodLength / 2;
        const Vec2 a{rodLength / 2, w};
        for (int i = 0; i < flow; ++i) {
            const double u = static_cast<double>(i) / flow;
            const double h00 = 1 + u * u * (2 * u - 3), h01 = 1 - h00;
            const double h10 = u * (1 - u) * (1 - u), h11 = u * u * (u - 1);
            quarter.push_back(h00 * a + h01 * leave + h10 * Vec2{1.2 * reach, 0} + (0.2 * h11 * reach) * heading);
        }
        for (int i = 0; i <= arc / 2; ++i) {
            const double angle = pi - join - (pi - join) * i / (arc / 2);
            quarter.push_back(Vec2{rodLength, 0} + r * Vec2{std::cos(angle), std::sin(angle)});
        }
        Loop loop;
        const auto add = [&](bool backwards, double sx, double sy) {
            for (std::size_t i = 0; i < quarter.size(); ++i) {
                const Vec2 p = quarter[backwards ? quarter.size() - 1 - i : i];
                const Vec2 q{rodLength / 2 + sx * (p.x - rodLength / 2), sy * p.y};
                if (loop.empty() || length(q - loop.back()) > 1e-9)
                    loop.push_back(q);
            }
        };
        add(false, 1, -1);
        add(true, 1, 1);
        add(false, -1, 1);
        add(true, -1, -1);
        loop.pop_back(); // the first again
        return loop;
    };
}

} // namespace

HeronPart heronRod(bool left)
{
    using namespace size;
    constexpr double chamfer = 0.45, markRadius = 0.5, markDepth = 0.5;
    const double half = rodThickness / 2;
    const std::vector<Outline> holes{circleOutline({0, 0}, crankPinRadius + runningFit),
                                     circleOutline({rodLength, 0}, rodPinRadius + runningFit)};
    const Mesh solid = plateAlongX(rodOutline(), holes, -half, half, chamfer);
    // One dimple marks the crank's end of the left rod, two that of the right.
    std::vector<Mesh> marks{boreAlongX({6, 0}, markRadius, half - markDepth, half + past)};
    if (!left)
        marks.push_back(boreAlongX({8, 0}, markRadius, half - markDepth, half + past));
    const std::string side = left ? "left" : "right";
    const double x = left ? leftRodX : rightRodX;
    return heronPart("rod-" + side, without(solid, together(marks)), quarterTurns({0, 1, 0}, -1),
                     {HeronSeat{left ? Link::LeftRod : Link::RightRod, Transform::translation({x, 0, 0})}},
                     {{"crank-pin", {0, 0, 0}, {1, 0, 0}, crankPinRadius + runningFit, true},
                      {"rod-pin", {0, rodLength, 0}, {1, 0, 0}, rodPinRadius + runningFit, true}});
}

} // namespace quoin::samples
