// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/mass.h"

namespace quoin::mesh {

namespace {

/// Neumaier's compensated sum: a million small terms lose nothing that matters.
class Sum {
public:
    void add(double x)
    {
        const double t = m_sum + x;
        m_rest += std::abs(m_sum) >= std::abs(x) ? (m_sum - t) + x : (x - t) + m_sum;
        m_sum = t;
    }
    double value() const { return m_sum + m_rest; }

private:
    double m_sum = 0;
    double m_rest = 0;
};

} // namespace

double volume(const Mesh& mesh)
{
    const Vec3 middle = bounds(mesh).centre();
    Sum six;
    for (const Triangle& t : mesh.triangles) {
        const Vec3 a = mesh.points[t[0]] - middle, b = mesh.points[t[1]] - middle, c = mesh.points[t[2]] - middle;
        six.add(dot(a, cross(b, c)));
    }
    return six.value() / 6;
}

double triangleArea(const Mesh& mesh, std::size_t triangle)
{
    const Vec3 a = mesh.corner(triangle, 0);
    return 0.5 * length(cross(mesh.corner(triangle, 1) - a, mesh.corner(triangle, 2) - a));
}

double area(const Mesh& mesh)
{
    Sum sum;
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i)
        sum.add(triangleArea(mesh, i));
    return sum.value();
}

MassProperties massProperties(const Mesh& mesh)
{
    // Second moments of the tetrahedron (middle, a, b, c): integral of x_i x_j is 6V/120 times the sum over corner
    // pairs of p_i q_j, each corner counted twice with itself (Tonon 2005, eq. 9).
    const Vec3 middle = bounds(mesh).centre();
    Sum vol, mx, my, mz, sxx, syy, szz, sxy, sxz, syz;
    for (const Triangle& t : mesh.triangles) {
        const Vec3 a = mesh.points[t[0]] - middle, b = mesh.points[t[1]] - middle, c = mesh.points[t[2]] - middle;
        const double d = dot(a, cross(b, c));
        const Vec3 s = a + b + c;
        vol.add(d / 6);
        mx.add(d * s.x / 24);
        my.add(d * s.y / 24);
        mz.add(d * s.z / 24);
        const auto second = [&](auto get1, auto get2) {
            return d / 120 *
                   (get1(a) * get2(a) + get1(b) * get2(b) + get1(c) * get2(c) + get1(s) * get2(s));
        };
        const auto x = [](Vec3 p) { return p.x; };
        const auto y = [](Vec3 p) { return p.y; };
        const auto z = [](Vec3 p) { return p.z; };
        sxx.add(second(x, x));
        syy.add(second(y, y));
        szz.add(second(z, z));
        sxy.add(second(x, y));
        sxz.add(second(x, z));
        syz.add(second(y, z));
    }
    MassProperties r;
    r.volume = vol.value();
    if (r.volume == 0)
        return r;
    const Vec3 c = Vec3{mx.value(), my.value(), mz.value()} / r.volume;
    const double v = r.volume;
    const double xx = sxx.value() - v * c.x * c.x, yy = syy.value() - v * c.y * c.y, zz = szz.value() - v * c.z * c.z;
    r.centroid = middle + c;
    r.ixx = yy + zz;
    r.iyy = xx + zz;
    r.izz = xx + yy;
    r.ixy = -(sxy.value() - v * c.x * c.y);
    r.ixz = -(sxz.value() - v * c.x * c.z);
    r.iyz = -(syz.value() - v * c.y * c.z);
    return r;
}

} // namespace quoin::mesh
