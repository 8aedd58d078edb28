// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_dowel.h"

#include "mesh/primitives.h"
#include "mesh/tolerance.h"
#include "mesh/triangulate.h"

#include <cmath>

namespace quoin::core {

namespace {

/// Where the flat stands, as a share of the radius from the axis: wide enough to lie on, little strength lost.
constexpr double flatShare = 0.8;
/// Lead-in at the ends of a dowel and at the mouth of its bore, as a share of the diameter, and its limits in mm.
constexpr double chamferShare = 0.1;
constexpr double largestChamferMm = 1.5;
constexpr double mouthChamferMm = 0.4;

double chamferMm(const Joint& joint)
{
    return std::min(chamferShare * joint.diameterMm, largestChamferMm);
}

/// A regular polygon with corners on the radius, less what lies beyond a flat (distance from the middle; none if
/// infinite). Counter-clockwise, the flat's outward normal along `direction`.
mesh::Loop roundWithFlat(double radius, int sides, double flat, double direction)
{
    mesh::Loop loop;
    const double step = 2 * M_PI / sides;
    // A corner half a step past the direction of the flat, so that the flat is square to it.
    const auto corner = [&](int i) {
        return mesh::Vec2{radius * std::cos((i + 0.5) * step), radius * std::sin((i + 0.5) * step)};
    };
    const auto turned = [&](mesh::Vec2 p) {
        const double c = std::cos(direction), s = std::sin(direction);
        return mesh::Vec2{c * p.x - s * p.y, s * p.x + c * p.y};
    };
    for (int i = 0; i < sides; ++i) {
        const mesh::Vec2 a = corner(i), b = corner(i + 1);
        if (a.x <= flat)
            loop.push_back(turned(a));
        if ((a.x < flat && b.x > flat) || (a.x > flat && b.x < flat)) {
            const double t = (flat - a.x) / (b.x - a.x);
            loop.push_back(turned({flat, a.y + t * (b.y - a.y)}));
        }
    }
    return loop;
}

int sidesOf(const Joint& joint)
{
    return mesh::sidesForChord(joint.diameterMm / 2, mesh::tolerance::chordMm);
}

mesh::Loop shifted(mesh::Loop loop, mesh::Vec2 by)
{
    for (mesh::Vec2& p : loop)
        p = p + by;
    return loop;
}

mesh::Loop scaled(mesh::Loop loop, double factor)
{
    for (mesh::Vec2& p : loop)
        p = factor * p;
    return loop;
}

} // namespace

mesh::Plane outwardPlane(const mesh::Plane& cut, bool above)
{
    // The part above the plane has its material above, so out of it is down.
    return above ? mesh::Plane{-cut.normal, -cut.offset} : cut;
}

mesh::Recess dowelBore(const Joint& joint, const mesh::Plane& cut, bool above)
{
    const mesh::PlaneFrame frame = mesh::frameOf(cut);
    const mesh::PlaneFrame own = mesh::frameOf(outwardPlane(cut, above));
    const mesh::Vec2 middle = own.flat(frame.space(joint.at));
    // The flat's direction, seen in this side's own frame.
    const mesh::Vec3 flatNormal = std::cos(joint.angle) * frame.u + std::sin(joint.angle) * frame.v;
    const double direction = std::atan2(mesh::dot(flatNormal, own.v), mesh::dot(flatNormal, own.u));
    const int sides = sidesOf(joint);
    const double radius = joint.diameterMm / 2;
    const double flat =
        joint.keyed && joint.rod == JointForm::Rod::Printed ? flatShare * radius + joint.clearanceMm : 1e300;
    // Flats of the polygon, not its corners, keep the clearance: corners lie on radius / cos(pi / n).
    const double toCorner = 1 / std::cos(M_PI / sides);
    const mesh::Loop wall = roundWithFlat((radius + joint.clearanceMm) * toCorner, sides, flat, direction);
    const double mouth = 1 + mouthChamferMm / (radius + joint.clearanceMm);
    mesh::Recess recess;
    recess.levels.push_back({0, {shifted(scaled(wall, mouth), middle)}});
    recess.levels.push_back({mouthChamferMm, {shifted(wall, middle)}});
    recess.levels.push_back({joint.depthMm + joint.endClearanceMm, {shifted(wall, middle)}});
    return recess;
}

mesh::Mesh dowelInPlace(const Joint& joint, const mesh::Plane& cut)
{
    const mesh::PlaneFrame frame = mesh::frameOf(cut);
    const double radius = joint.diameterMm / 2;
    const mesh::Loop full = roundWithFlat(radius, sidesOf(joint), flatShare * radius, joint.angle);
    const double chamfer = chamferMm(joint);
    const mesh::Loop end = scaled(full, 1 - chamfer / radius);
    const std::array<std::pair<double, const mesh::Loop*>, 4> levels{{{-joint.depthMm, &end},
                                                                      {-joint.depthMm + chamfer, &full},
                                                                      {joint.depthMm - chamfer, &full},
                                                                      {joint.depthMm, &end}}};
    mesh::Mesh m;
    const auto n = static_cast<mesh::Index>(full.size());
    for (const auto& [height, loop] : levels)
        for (const mesh::Vec2 p : *loop)
            m.points.push_back(frame.space(joint.at + p, height));
    for (mesh::Index level = 0; level + 1 < levels.size(); ++level)
        for (mesh::Index i = 0; i < n; ++i) {
            const mesh::Index a = level * n + i, b = level * n + (i + 1) % n;
            m.triangles.push_back({a, b, b + n});
            m.triangles.push_back({a, b + n, a + n});
        }
    // Convex, so a fan would do; the triangulation makes rounder triangles.
    const auto lid = mesh::triangulateRegion({end});
    for (const mesh::Triangle& t : lid.value()) {
        m.triangles.push_back({t[0], t[2], t[1]});
        const mesh::Index top = 3 * n;
        m.triangles.push_back({top + t[0], top + t[1], top + t[2]});
    }
    return m;
}

mesh::Transform dowelPrintPose(const Joint& joint, const mesh::Plane& cut)
{
    const mesh::PlaneFrame frame = mesh::frameOf(cut);
    const mesh::Vec3 flatNormal = std::cos(joint.angle) * frame.u + std::sin(joint.angle) * frame.v;
    const mesh::Transform turn =
        mesh::Transform::fromColumns(frame.normal, mesh::cross(-flatNormal, frame.normal), -flatNormal).rigidInverse();
    const mesh::Vec3 lift{0, 0, flatShare * joint.diameterMm / 2};
    return mesh::Transform::translation(lift) * turn * mesh::Transform::translation(-frame.space(joint.at));
}

} // namespace quoin::core
