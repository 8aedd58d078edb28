// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/segment_distance.h"

#include <algorithm>

namespace quoin::mesh {

Vec3 nearestOnTriangle(Vec3 a, Vec3 b, Vec3 c, Vec3 p)
{
    const Vec3 ab = b - a, ac = c - a, ap = p - a;
    const double d1 = dot(ab, ap), d2 = dot(ac, ap);
    if (d1 <= 0 && d2 <= 0)
        return a;
    const Vec3 bp = p - b;
    const double d3 = dot(ab, bp), d4 = dot(ac, bp);
    if (d3 >= 0 && d4 <= d3)
        return b;
    const double vc = d1 * d4 - d3 * d2;
    if (vc <= 0 && d1 >= 0 && d3 <= 0 && d1 - d3 > 0)
        return a + d1 / (d1 - d3) * ab;
    const Vec3 cp = p - c;
    const double d5 = dot(ab, cp), d6 = dot(ac, cp);
    if (d6 >= 0 && d5 <= d6)
        return c;
    const double vb = d5 * d2 - d1 * d6;
    if (vb <= 0 && d2 >= 0 && d6 <= 0 && d2 - d6 > 0)
        return a + d2 / (d2 - d6) * ac;
    const double va = d3 * d6 - d5 * d4;
    const double onBc = (d4 - d3) + (d5 - d6);
    if (va <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0 && onBc > 0)
        return b + (d4 - d3) / onBc * (c - b);
    const double sum = va + vb + vc;
    if (!(sum > 0))
        return a;
    return a + vb / sum * ab + vc / sum * ac;
}

SegmentGap segmentGap(Vec3 a, Vec3 b, Vec3 c, Vec3 d)
{
    const Vec3 u = b - a, v = d - c, w = a - c;
    const double uu = dot(u, u), vv = dot(v, v), uv = dot(u, v), uw = dot(u, w), vw = dot(v, w);
    const double det = uu * vv - uv * uv;
    double s = det > 1e-12 * uu * vv ? std::clamp((uv * vw - vv * uw) / det, 0.0, 1.0) : 0.0;
    double t = vv > 0 ? (uv * s + vw) / vv : 0.0;
    if (t < 0 || t > 1 || !(vv > 0)) {
        t = std::clamp(t, 0.0, 1.0);
        s = uu > 0 ? std::clamp((uv * t - uw) / uu, 0.0, 1.0) : 0.0;
    }
    return {length(w + s * u - t * v), s};
}

SegmentGap segmentTriangleGap(Vec3 p, Vec3 q, Vec3 a, Vec3 b, Vec3 c)
{
    SegmentGap best{length(nearestOnTriangle(a, b, c, p) - p), 0};
    const auto take = [&](SegmentGap other) {
        // Rounding must not move the place between equals.
        if (other.distanceMm < best.distanceMm * (1 - 1e-9))
            best = other;
    };
    take({length(nearestOnTriangle(a, b, c, q) - q), 1});
    take(segmentGap(p, q, a, b));
    take(segmentGap(p, q, b, c));
    take(segmentGap(p, q, c, a));
    // Where it passes through the triangle's plane: on the triangle that is a distance of zero.
    const Vec3 normal = cross(b - a, c - a);
    const double from = dot(normal, p - a), to = dot(normal, q - a);
    if ((from > 0) != (to > 0)) {
        const double along = from / (from - to);
        const Vec3 through = p + along * (q - p);
        take({length(nearestOnTriangle(a, b, c, through) - through), along});
    }
    return best;
}

} // namespace quoin::mesh
