// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "sample_models/heron.h"

#include "mesh/print_ready.h"
#include "sample_models/heron_part.h"

#include <numbers>

namespace quoin::samples {

using std::numbers::pi;

HeronPart heronPart(std::string name, const Mesh& design, const Transform& printTurn,
                    const std::vector<HeronSeat>& seats, std::vector<HeronAxis> axes)
{
    const mesh::Box3 box = mesh::bounds(transformed(design, printTurn));
    const Vec3 middle = box.centre();
    const Transform printed = Transform::translation({-middle.x, -middle.y, -box.min.z}) * printTurn;
    HeronPart part;
    part.name = std::move(name);
    part.mesh = mesh::printReady(transformed(design, printed)).value().mesh;
    part.quantity = static_cast<int>(seats.size());
    for (const HeronSeat& seat : seats) {
        part.links.push_back(seat.link);
        part.inLink.push_back(seat.place * printed.rigidInverse());
    }
    part.axes = std::move(axes);
    for (HeronAxis& axis : part.axes) {
        axis.point = printed.point(axis.point);
        axis.direction = printed.direction(axis.direction);
    }
    part.poses = heronPoses(part, heronShowDegrees * pi / 180);
    return part;
}

HeronPart heronPart(std::string name, const Mesh& design, const Transform& printTurn, Link link,
                    std::vector<HeronAxis> axes)
{
    return heronPart(std::move(name), design, printTurn, {HeronSeat{link, {}}}, std::move(axes));
}

Transform quarterTurns(Vec3 axis, int quarters)
{
    return Transform::rotation(axis, pi / 2 * quarters);
}

Mesh keyedPeg(double radius, double flat, double length)
{
    constexpr double chamfer = 0.6;
    return raised(dOutline(radius, flat), 0, length, 0, chamfer);
}

Mesh keyedSocket(double radius, double flat, double length)
{
    constexpr double reach = 1;
    return raised(dOutline(radius + size::fixedFit, flat + size::fixedFit), -reach, length + size::socketSpare);
}

Mesh boreAlongX(Vec2 centreYz, double radius, double fromX, double toX)
{
    return raisedAlongX(circleOutline(centreYz, radius, 0.5), fromX, toX);
}

std::vector<mesh::Transform> heronPoses(const HeronPart& part, double crankRadians)
{
    const LinkagePose linkage = linkageAt(crankRadians);
    std::vector<mesh::Transform> poses;
    for (std::size_t i = 0; i < part.links.size(); ++i)
        poses.push_back(linkFrame(part.links[i], linkage) * part.inLink[i]);
    return poses;
}

std::vector<HeronPart> heronParts()
{
    std::vector<HeronPart> parts;
    parts.push_back(heronPlinth());
    parts.push_back(heronColumn());
    parts.push_back(heronBody());
    parts.push_back(heronNeck());
    parts.push_back(heronWing(true));
    parts.push_back(heronWing(false));
    parts.push_back(heronCrankWheel());
    parts.push_back(heronHandCrank());
    parts.push_back(heronRod(true));
    parts.push_back(heronRod(false));
    parts.push_back(heronCrankAxle());
    parts.push_back(heronCrankPin());
    parts.push_back(heronWingPin());
    parts.push_back(heronRodPin());
    parts.push_back(heronCollar());
    return parts;
}

} // namespace quoin::samples
