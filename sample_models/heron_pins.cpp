// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/primitives.h"
#include "sample_models/heron_part.h"

namespace quoin::samples {

namespace {

using namespace size;

/// Pins are made along z, head down, and lie along x in the sculpture, head to the back.
Transform alongX(Vec3 headBack)
{
    return Transform::translation(headBack) * quarterTurns({0, 1, 0}, 1);
}

struct PinPlace {
    double backX;     ///< underside of the head (or the end of a headless pin)
    double shoulderX; ///< where the journal ends and the collar sits
};

/// From the faces at the back and the front of what the pin goes through.
PinPlace pinPlace(double backFaceX, double frontFaceX)
{
    return {backFaceX - sideGap, frontFaceX + sideGap};
}

PinPlace wingPinPlace()
{
    const double reach = hubHalf + sideGap + knuckleLength;
    return pinPlace(hingeX - reach, hingeX + reach);
}

PinPlace rodPinPlace(double rodX)
{
    const double reach = rodThickness / 2 + sideGap + lugThickness;
    return pinPlace(rodX - reach, rodX + reach);
}

PinPlace crankPinPlace()
{
    return {wheelBackX + seatGap, rightRodX + rodThickness / 2 + sideGap};
}

PinSizes headed(double radius, double headRadius, PinPlace place)
{
    return {headRadius, headLength, radius, place.shoulderX - place.backX, spigotRadius, spigotLength, pinChamfer};
}

/// The wing's frame has its origin in the middle of the hub.
PinPlace inWing(PinPlace place)
{
    return {place.backX - hingeX, place.shoulderX - hingeX};
}

} // namespace

HeronPart heronCrankPin()
{
    const PinPlace place = crankPinPlace();
    const PinSizes sizes{0, 0, crankPinRadius, place.shoulderX - place.backX, spigotRadius, spigotLength, pinChamfer};
    return heronPart("crank-pin", shoulderPin(sizes), {},
                     {HeronSeat{Link::Crank, alongX({place.backX, 0, throwRadius})}},
                     {{"crank-pin", {0, 0, sizes.journalLength / 2}, {0, 0, 1}, crankPinRadius, false},
                      {"spigot", {0, 0, sizes.journalLength + spigotLength / 2}, {0, 0, 1}, spigotRadius, false}});
}

HeronPart heronWingPin()
{
    const PinPlace place = wingPinPlace();
    constexpr double headRadius = 3.2;
    const PinSizes sizes = headed(wingPinRadius, headRadius, place);
    const double headX = place.backX - headLength;
    return heronPart(
        "wing-pin", shoulderPin(sizes), {},
        {HeronSeat{Link::Body, alongX({headX, hingeY, hingeZ})},
         HeronSeat{Link::Body, alongX({headX, -hingeY, hingeZ})}},
        {{"wing-pin", {0, 0, headLength + sizes.journalLength / 2}, {0, 0, 1}, wingPinRadius, false},
         {"spigot", {0, 0, headLength + sizes.journalLength + spigotLength / 2}, {0, 0, 1}, spigotRadius, false}});
}

HeronPart heronRodPin()
{
    constexpr double headRadius = 2.8;
    const PinPlace left = inWing(rodPinPlace(leftRodX)), right = inWing(rodPinPlace(rightRodX));
    const PinSizes sizes = headed(rodPinRadius, headRadius, left);
    return heronPart(
        "rod-pin", shoulderPin(sizes), {},
        {HeronSeat{Link::LeftWing, alongX({left.backX - headLength, leverY, leverZ})},
         HeronSeat{Link::RightWing, alongX({right.backX - headLength, -leverY, leverZ})}},
        {{"rod-pin", {0, 0, headLength + sizes.journalLength / 2}, {0, 0, 1}, rodPinRadius, false},
         {"spigot", {0, 0, headLength + sizes.journalLength + spigotLength / 2}, {0, 0, 1}, spigotRadius, false}});
}

HeronPart heronCollar()
{
    constexpr double chamfer = 0.4;
    const double bore = spigotRadius + fixedFit;
    const Mesh ring = mesh::revolved({{bore, 0},
                                      {collarRadius - chamfer, 0},
                                      {collarRadius, chamfer},
                                      {collarRadius, collarThickness - chamfer},
                                      {collarRadius - chamfer, collarThickness},
                                      {bore, collarThickness}},
                                     roundSides);
    const auto onShoulder = [](double shoulderX, double y, double z) { return alongX({shoulderX + seatGap, y, z}); };
    const double wing = wingPinPlace().shoulderX;
    return heronPart(
        "collar", ring, {},
        {HeronSeat{Link::Crank, onShoulder(crankPinPlace().shoulderX, 0, throwRadius)},
         HeronSeat{Link::Body, onShoulder(wing, hingeY, hingeZ)},
         HeronSeat{Link::Body, onShoulder(wing, -hingeY, hingeZ)},
         HeronSeat{Link::LeftWing, onShoulder(inWing(rodPinPlace(leftRodX)).shoulderX, leverY, leverZ)},
         HeronSeat{Link::RightWing, onShoulder(inWing(rodPinPlace(rightRodX)).shoulderX, -leverY, leverZ)}},
        {{"spigot", {0, 0, collarThickness / 2}, {0, 0, 1}, spigotRadius + fixedFit, true}});
}

} // namespace quoin::samples
