// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/plane.h"

#include <algorithm>
#include <limits>

namespace quoin::mesh {

PlaneFrame frameOf(const Plane& plane)
{
    const Vec3 n = plane.normal;
    // The coordinate axis least along the normal gives u; ties go to the first axis.
    const double ax = std::abs(n.x), ay = std::abs(n.y), az = std::abs(n.z);
    const Vec3 helper = ax <= ay && ax <= az ? Vec3{1, 0, 0} : ay <= az ? Vec3{0, 1, 0} : Vec3{0, 0, 1};
    const Vec3 u = normalized(cross(helper, n));
    return {plane.offset * n, u, cross(n, u), n};
}

double signedArea(const Loop& loop)
{
    double twice = 0;
    for (std::size_t i = 0, j = loop.size() - 1; i < loop.size(); j = i++)
        twice += cross(loop[j] - loop[0], loop[i] - loop[0]);
    return twice / 2;
}

double area(const Region& region)
{
    double sum = 0;
    for (const Loop& loop : region)
        sum += signedArea(loop);
    return sum;
}

bool contains(const Region& region, Vec2 p)
{
    bool inside = false;
    for (const Loop& loop : region)
        for (std::size_t i = 0, j = loop.size() - 1; i < loop.size(); j = i++) {
            const Vec2 a = loop[i], b = loop[j];
            if ((a.y > p.y) != (b.y > p.y) && p.x < (b.x - a.x) * (p.y - a.y) / (b.y - a.y) + a.x)
                inside = !inside;
        }
    return inside;
}

double distanceToOutline(const Region& region, Vec2 p)
{
    double best = std::numeric_limits<double>::infinity();
    for (const Loop& loop : region)
        for (std::size_t i = 0, j = loop.size() - 1; i < loop.size(); j = i++) {
            const Vec2 a = loop[j], e = loop[i] - a;
            const double l2 = dot(e, e);
            const double t = l2 > 0 ? std::clamp(dot(p - a, e) / l2, 0.0, 1.0) : 0.0;
            best = std::min(best, length(p - (a + t * e)));
        }
    return best;
}

} // namespace quoin::mesh
