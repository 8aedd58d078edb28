// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/triangle_contact.h"

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Segment_3.h>
#include <CGAL/Triangle_3.h>

#include <algorithm>

namespace quoin::mesh {

namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Point = Kernel::Point_3;

Point exact(Vec3 p)
{
    return {p.x, p.y, p.z};
}

/// Triangle turned so that its corners shared with another come first, in its own sense of turning.
struct Turned {
    std::array<Index, 3> corners;
    int shared = 0;
};

Turned sharedFirst(const Triangle& t, const Triangle& other)
{
    std::array<bool, 3> in{};
    Turned out{t, 0};
    for (int k = 0; k < 3; ++k) {
        in[k] = std::find(other.begin(), other.end(), t[k]) != other.end();
        out.shared += in[k];
    }
    for (int k = 0; k < 3; ++k)
        if ((out.shared == 1 && in[k]) || (out.shared == 2 && in[k] && in[(k + 1) % 3]))
            out.corners = {t[k], t[(k + 1) % 3], t[(k + 2) % 3]};
    return out;
}

bool foldedOnto(Vec3 p, Vec3 q, Vec3 r, Vec3 s)
{
    const Point a = exact(p), b = exact(q), c = exact(r), d = exact(s);
    return CGAL::orientation(a, b, c, d) == CGAL::COPLANAR && CGAL::coplanar_orientation(a, b, c, d) == CGAL::POSITIVE;
}

} // namespace

bool trianglesMeet(const Triangle& a, const Triangle& b, const Buffer<Vec3>& points)
{
    const Turned one = sharedFirst(a, b), two = sharedFirst(b, a);
    const auto at = [&](Index v) { return points[v]; };
    const auto triangle = [&](const Triangle& t) {
        return Kernel::Triangle_3(exact(at(t[0])), exact(at(t[1])), exact(at(t[2])));
    };
    if (one.shared == 3)
        return true;
    if (one.shared == 2)
        return foldedOnto(at(one.corners[0]), at(one.corners[1]), at(one.corners[2]), at(two.corners[2]));
    if (one.shared == 0)
        return CGAL::do_intersect(triangle(a), triangle(b));
    const auto far = [&](const Turned& t) {
        return Kernel::Segment_3(exact(at(t.corners[1])), exact(at(t.corners[2])));
    };
    return CGAL::do_intersect(far(one), triangle(b)) || CGAL::do_intersect(far(two), triangle(a));
}

} // namespace quoin::mesh
