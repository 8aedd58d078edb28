// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/primitives.h"
#include "sample_models/heron_part.h"
#include "sample_models/sweep.h"

#include <numbers>

namespace quoin::samples {

using std::numbers::pi;

namespace {

Vec3 neckDirection()
{
    const double rise = size::neckRise * pi / 180;
    return {std::cos(rise), 0, std::sin(rise)};
}

/// From the neck's own frame (z along the neck, x = 0 and y = 0 its axis) to the body's.
Transform neckSeat()
{
    return Transform::translation({size::neckX, 0, size::neckZ}) * Transform::turning({0, 0, 1}, neckDirection());
}

/// From the fan of the tail to the level end face for the neck.
Mesh torso()
{
    const Path spine(
        {{-53, 0, 127.5}, {-34, 0, 129.5}, {-10, 0, 131.2}, {8, 0, 132.5}, {20, 0, 137}, {size::neckX, 0, size::neckZ}},
        Vec3{1, 0, 0.06}, neckDirection());
    const auto along = [&](std::vector<double> values) {
        std::vector<Vec2> knots;
        for (std::size_t i = 0; i < values.size(); ++i)
            knots.push_back({spine.knot(i), values[i]});
        return Profile(knots);
    };
    const Profile side = along({9.5, 8.0, 11.2, 11.8, 9.6, size::neckRadius});
    const Profile up = along({1.5, 5.2, 10.2, 10.8, 8.4, size::neckRadius});
    const Profile down = along({1.5, 5.6, 11.6, 12.8, 10.4, size::neckRadius});
    constexpr int sides = 88;
    constexpr double roundFrom = 0.86; // of the way back to the tip of the tail
    std::vector<std::vector<Vec3>> rings;
    // From the neck backwards, so that the tip comes last.
    for (const double back : stationsToTip(110, 36, roundFrom)) {
        const double t = 1 - back;
        const double round = roundingAtEnd(back, roundFrom);
        // The tail is flat: its edge is rounder than its outline.
        const double edge = std::sqrt(round);
        rings.push_back(
            sectionRing(spine.at(t), spine.tangent(t), {side(t) * round, up(t) * edge, down(t) * edge}, sides));
    }
    rings.push_back({spine.at(0)});
    return mesh::loft(rings);
}

/// The eyes that hold the wings' hubs between them, two a side.
Mesh knuckles()
{
    using namespace size;
    constexpr double chamfer = 0.5;
    const double inner = hubHalf + sideGap, outer = inner + knuckleLength;
    // The roots of the two sides stay apart inside the body, so that all four are one tool.
    constexpr double rootY = 4.6, rootZ = 134, rootRadius = 4.5;
    std::vector<Mesh> eyes;
    for (const double sign : {1.0, -1.0}) {
        const Outline outline = linkOutline({sign * hingeY, hingeZ}, hubRadius, {sign * rootY, rootZ}, rootRadius);
        eyes.push_back(raisedAlongX(outline, hingeX + inner, hingeX + outer, 0, chamfer));
        eyes.push_back(raisedAlongX(outline, hingeX - outer, hingeX - inner, chamfer, 0));
    }
    return together(eyes);
}

/// Room for a wing's hub to turn in.
Mesh hubRoom(double sign)
{
    using namespace size;
    constexpr double room = 0.8;
    const double inner = hubHalf + sideGap + hingeRelief; // the knuckles stand out of its ends
    return raisedAlongX(circleOutline({sign * hingeY, hingeZ}, hubRadius + room, 0.25), hingeX - inner, hingeX + inner);
}

Mesh hingeBores()
{
    using namespace size;
    const double reach = hubHalf + sideGap + knuckleLength + 0.5;
    const auto bore = [&](double y) {
        return boreAlongX({y, hingeZ}, wingPinRadius + runningFit, hingeX - reach, hingeX + reach);
    };
    return together({bore(hingeY), bore(-hingeY)});
}

/// A round foot under the belly, level at the bottom; turned off the column socket's own corners.
Mesh columnSeat()
{
    constexpr double bottomRadius = 5.8, topRadius = 8.6, height = 10, turn = 0.02;
    return transformed(mesh::frustum(bottomRadius, topRadius, height, roundSides, 5),
                       Transform::translation({0, 0, size::columnTopZ + size::seatGap}) *
                           Transform::rotation({0, 0, 1}, turn));
}

} // namespace

HeronPart heronBody()
{
    using namespace size;
    // The seat on the column.
    const double seatZ = columnTopZ + seatGap;
    Mesh solid = fused(torso(), columnSeat());
    solid = without(solid, together({hubRoom(1), hubRoom(-1)}));
    solid = fused(solid, knuckles());
    const Mesh columnSocket =
        transformed(keyedSocket(topPegRadius, topPegFlat, topPegLength), Transform::translation({0, 0, seatZ}));
    const Mesh neckSocket =
        transformed(keyedSocket(neckPegRadius, neckPegFlat, neckPegLength), neckSeat() * quarterTurns({1, 0, 0}, 2));
    solid = without(solid, together({hingeBores(), columnSocket, neckSocket}));
    const Vec3 neckMiddle = Vec3{neckX, 0, neckZ} - neckPegLength / 2 * neckDirection();
    std::vector<HeronAxis> axes{{"top", {0, 0, seatZ + topPegLength / 2}, {0, 0, 1}, topPegRadius + fixedFit, true},
                                {"neck", neckMiddle, neckDirection(), neckPegRadius + fixedFit, true}};
    const double knuckle = hubHalf + sideGap + knuckleLength / 2;
    for (const double x : {hingeX - knuckle, hingeX + knuckle})
        for (const double y : {hingeY, -hingeY})
            axes.push_back({"wing-pin", {x, y, hingeZ}, {1, 0, 0}, wingPinRadius + runningFit, true});
    return heronPart("body", solid, {}, Link::Body, axes);
}

namespace {

/// The S of the neck, the head and the beak as one sweep.
Mesh neckAndHead()
{
    using namespace size;
    const Vec3 start = Vec3{neckX, 0, neckZ} + seatGap * neckDirection();
    const Path spine({start,
                      {34.5, 0, 158.5},
                      {34.5, 0, 169},
                      {30.5, 0, 178},
                      {32.5, 0, 186.5},
                      {40.5, 0, 190.5},
                      {48, 0, 189.5},
                      {57, 0, 187.2},
                      {86, 0, 179.5}},
                     neckDirection());
    const std::vector<Vec2> halfWidths{{spine.knot(0), neckRadius}, {spine.knot(1), 4.4}, {spine.knot(2), 3.5},
                                       {spine.knot(3), 3.2},        {spine.knot(4), 3.3}, {spine.knot(5), 4.3},
                                       {spine.knot(6), 4.0},        {spine.knot(7), 2.2}, {1, 0.9}};
    const Profile side(halfWidths);
    std::vector<Vec2> heights = halfWidths;
    heights[5].y = 4.4;
    heights[6].y = 3.9;
    heights[7].y = 2.3;
    const Profile height(heights);
    constexpr int sides = 64;
    constexpr double roundFrom = 0.985;
    std::vector<std::vector<Vec3>> rings;
    for (const double t : stationsToTip(190, 12, roundFrom)) {
        const double round = roundingAtEnd(t, roundFrom);
        rings.push_back(
            sectionRing(spine.at(t), spine.tangent(t), {side(t) * round, height(t) * round, height(t) * round}, sides));
    }
    rings.push_back({spine.at(1)});
    return mesh::loft(rings);
}

/// The crest: a plume that sweeps back from the head.
Mesh crest()
{
    const Path spine({{42, 0, 191.5}, {34, 0, 193}, {24, 0, 190}, {15, 0, 184.5}}, Vec3{-1, 0, 0.3});
    const Profile side({{0, 2.2}, {0.35, 1.7}, {0.75, 1.3}, {1, 1.0}});
    const Profile height({{0, 1.6}, {0.35, 1.3}, {0.75, 1.0}, {1, 0.8}});
    constexpr int sides = 31; // odd, to keep its corners off the neck's plane of symmetry
    constexpr double roundFrom = 0.96;
    std::vector<std::vector<Vec3>> rings;
    for (const double t : stationsToTip(50, 8, roundFrom)) {
        const double round = roundingAtEnd(t, roundFrom);
        rings.push_back(
            sectionRing(spine.at(t), spine.tangent(t), {side(t) * round, height(t) * round, height(t) * round}, sides));
    }
    rings.push_back({spine.at(1)});
    return mesh::loft(rings);
}

Mesh eyes()
{
    const auto eye = [](double y) {
        return transformed(mesh::icosphere(1.1, 3), Transform::translation({46.2, y, 191.2}));
    };
    return together({eye(3.7), eye(-3.7)});
}

} // namespace

HeronPart heronNeck()
{
    using namespace size;
    constexpr double into = 1;
    const Mesh peg =
        transformed(keyedPeg(neckPegRadius, neckPegFlat, neckPegLength + into),
                    neckSeat() * Transform::translation({0, 0, seatGap + into}) * quarterTurns({1, 0, 0}, 2));
    const Mesh solid = fused(neckAndHead(), together({crest(), eyes(), peg}));
    const Vec3 pegMiddle = Vec3{neckX, 0, neckZ} - (neckPegLength / 2) * neckDirection();
    // Printed lying on its side.
    return heronPart("neck", solid, quarterTurns({1, 0, 0}, 1), Link::Body,
                     {{"neck", pegMiddle, neckDirection(), neckPegRadius, false}});
}

} // namespace quoin::samples
