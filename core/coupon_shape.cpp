// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/coupon_shape.h"

#include "core/joint_dowel.h"
#include "mesh/primitives.h"
#include "mesh/tolerance.h"
#include "mesh/triangulate.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace quoin::core {

namespace {

constexpr double dFlatShare = 0.5;     ///< where the D's flat stands, as a share of the radius from the axis
constexpr double brokenEdgeMm = 0.6;   ///< long edges of the square gauge
constexpr double endChamferMm = 0.8;   ///< lead-in at the ends of a gauge
constexpr double mouthChamferMm = 0.4; ///< lead-in of a pocket, as that of a bore

mesh::Loop square(double half, double broken)
{
    if (broken == 0)
        return {{half, half}, {-half, half}, {-half, -half}, {half, -half}};
    const double in = half - broken;
    return {{half, -in}, {half, in}, {in, half}, {-in, half}, {-half, in}, {-half, -in}, {-in, -half}, {in, -half}};
}

/// A circle less what lies beyond x = flat. Corners on the radius, or outside it so that the sides touch it.
mesh::Loop circleWithFlat(double radius, double flat, bool sidesTouch)
{
    const int sides = mesh::sidesForChord(radius, mesh::tolerance::chordMm);
    const double corner = sidesTouch ? radius / std::cos(M_PI / sides) : radius;
    const double first = std::acos(flat / corner), whole = 2 * (M_PI - first);
    const int steps = static_cast<int>(std::ceil(whole * sides / (2 * M_PI)));
    mesh::Loop loop;
    for (int i = 0; i <= steps; ++i) {
        const double angle = first + whole * i / steps;
        loop.push_back({corner * std::cos(angle), corner * std::sin(angle)});
    }
    return loop;
}

/// Outline of a gauge (clearance 0, as it is printed) or of its pocket's wall.
mesh::Loop section(CouponPair pair, double sizeMm, double clearanceMm, bool pocket)
{
    if (pair == CouponPair::Square)
        return square(sizeMm / 2 + clearanceMm, pocket ? 0 : brokenEdgeMm);
    return circleWithFlat(sizeMm / 2 + clearanceMm, dFlatShare * sizeMm / 2 + clearanceMm, pocket);
}

mesh::Loop scaled(mesh::Loop loop, double factor)
{
    for (mesh::Vec2& p : loop)
        p = factor * p;
    return loop;
}

/// A straight bar from z = 0 up, its ends drawn in.
mesh::Mesh bar(const mesh::Loop& full, double sizeMm, double lengthMm)
{
    const mesh::Loop end = scaled(full, 1 - 2 * endChamferMm / sizeMm);
    const std::array<std::pair<double, const mesh::Loop*>, 4> levels{
        {{0, &end}, {endChamferMm, &full}, {lengthMm - endChamferMm, &full}, {lengthMm, &end}}};
    mesh::Mesh m;
    const auto n = static_cast<mesh::Index>(full.size());
    for (const auto& [height, loop] : levels)
        for (const mesh::Vec2 p : *loop)
            m.points.push_back({p.x, p.y, height});
    for (mesh::Index level = 0; level + 1 < levels.size(); ++level)
        for (mesh::Index i = 0; i < n; ++i) {
            const mesh::Index a = level * n + i, b = level * n + (i + 1) % n;
            m.triangles.push_back({a, b, b + n});
            m.triangles.push_back({a, b + n, a + n});
        }
    const auto lid = mesh::triangulateRegion({end});
    for (const mesh::Triangle& t : lid.value()) {
        const mesh::Index top = 3 * n;
        m.triangles.push_back({t[0], t[2], t[1]});
        m.triangles.push_back({top + t[0], top + t[1], top + t[2]});
    }
    return m;
}

/// Lays a gauge on the flat whose outward normal is +x, `flat` from the axis: its axis comes along x.
mesh::Transform layOnFlat(double flat, double lengthMm)
{
    const mesh::Transform onFlat = mesh::Transform::fromColumns({0, 0, -1}, {0, 1, 0}, {1, 0, 0});
    return mesh::Transform::translation({-lengthMm / 2, 0, flat}) * onFlat;
}

Joint dowelJoint(double sizeMm, double depthMm, double clearanceMm, mesh::Vec2 at)
{
    Joint joint;
    joint.at = at;
    joint.diameterMm = sizeMm;
    joint.depthMm = depthMm;
    joint.clearanceMm = clearanceMm;
    return joint;
}

} // namespace

std::string pairName(CouponPair pair)
{
    switch (pair) {
    case CouponPair::Dowel:
        return "round";
    case CouponPair::Square:
        return "square";
    case CouponPair::DShape:
        return "D";
    case CouponPair::Thread:
        return "thread";
    }
    return {};
}

Gauge couponGauge(CouponPair pair, double sizeMm, double lengthMm)
{
    if (pair == CouponPair::Dowel) {
        // The dowel of the joints stands half on each side of its cut.
        const mesh::Plane cut{{0, 0, 1}, lengthMm / 2};
        const Joint joint = dowelJoint(sizeMm, lengthMm / 2, 0, {0, 0});
        return {dowelInPlace(joint, cut), dowelPrintPose(joint, cut)};
    }
    const mesh::Loop loop = section(pair, sizeMm, 0, false);
    const double flat = pair == CouponPair::Square ? sizeMm / 2 : dFlatShare * sizeMm / 2;
    return {bar(loop, sizeMm, lengthMm), layOnFlat(flat, lengthMm)};
}

mesh::Recess couponPocket(CouponPair pair, double sizeMm, double clearanceMm, double depthMm, mesh::Vec2 at,
                          const mesh::Plane& outward)
{
    if (pair == CouponPair::Dowel)
        return dowelBore(dowelJoint(sizeMm, depthMm, clearanceMm, at), outward, false);
    // The frame's own axes, turned so that the section lies as it does for the gauge.
    const mesh::PlaneFrame frame = mesh::frameOf(outward);
    mesh::Loop wall = section(pair, sizeMm, clearanceMm, true);
    for (mesh::Vec2& p : wall)
        p = frame.flat(frame.origin + mesh::Vec3{p.x, p.y, 0});
    const auto placed = [&](double factor) {
        mesh::Loop loop = scaled(wall, factor);
        for (mesh::Vec2& p : loop)
            p = at + p;
        return mesh::Region{loop};
    };
    mesh::Recess recess;
    recess.levels.push_back({0, placed(1 + 2 * mouthChamferMm / (sizeMm + 2 * clearanceMm))});
    recess.levels.push_back({mouthChamferMm, placed(1)});
    recess.levels.push_back({depthMm, placed(1)});
    return recess;
}

} // namespace quoin::core
