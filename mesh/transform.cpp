// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/transform.h"

namespace quoin::mesh {

Transform Transform::translation(Vec3 t)
{
    Transform r;
    r.m[3] = t.x;
    r.m[7] = t.y;
    r.m[11] = t.z;
    return r;
}

Transform Transform::scaling(double factor)
{
    Transform r;
    r.m[0] = r.m[5] = r.m[10] = factor;
    return r;
}

Transform Transform::fromColumns(Vec3 x, Vec3 y, Vec3 z)
{
    Transform r;
    r.m = {x.x, y.x, z.x, 0, x.y, y.y, z.y, 0, x.z, y.z, z.z, 0, 0, 0, 0, 1};
    return r;
}

Transform Transform::rotation(Vec3 axis, double radians)
{
    // Rodrigues' formula, column by column.
    const Vec3 k = normalized(axis);
    const double c = std::cos(radians);
    const double s = std::sin(radians);
    const auto turned = [&](Vec3 v) { return c * v + s * cross(k, v) + (1 - c) * dot(k, v) * k; };
    return fromColumns(turned({1, 0, 0}), turned({0, 1, 0}), turned({0, 0, 1}));
}

Transform Transform::turning(Vec3 from, Vec3 to)
{
    const Vec3 a = normalized(from);
    const Vec3 b = normalized(to);
    const Vec3 axis = cross(a, b);
    const double sine = length(axis);
    if (sine > 1e-12)
        return rotation(axis, std::atan2(sine, dot(a, b)));
    if (dot(a, b) > 0)
        return {};
    const Vec3 helper = std::abs(a.x) < 0.9 ? Vec3{1, 0, 0} : Vec3{0, 1, 0};
    return rotation(cross(a, helper), std::acos(-1.0));
}

double Transform::determinant() const
{
    return m[0] * (m[5] * m[10] - m[6] * m[9]) - m[1] * (m[4] * m[10] - m[6] * m[8]) +
           m[2] * (m[4] * m[9] - m[5] * m[8]);
}

Transform Transform::rigidInverse() const
{
    Transform r = fromColumns({m[0], m[1], m[2]}, {m[4], m[5], m[6]}, {m[8], m[9], m[10]});
    const Vec3 t = r.direction({m[3], m[7], m[11]});
    r.m[3] = -t.x;
    r.m[7] = -t.y;
    r.m[11] = -t.z;
    return r;
}

Transform operator*(const Transform& a, const Transform& b)
{
    Transform r;
    for (std::size_t row = 0; row < 4; ++row)
        for (std::size_t col = 0; col < 4; ++col) {
            double sum = 0;
            for (std::size_t k = 0; k < 4; ++k)
                sum += a.m[4 * row + k] * b.m[4 * k + col];
            r.m[4 * row + col] = sum;
        }
    return r;
}

} // namespace quoin::mesh
