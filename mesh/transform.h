// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/vec3.h"

#include <array>

namespace quoin::mesh {

/// An affine map as a 4x4 matrix, row-major, acting on column vectors: p' = M (p, 1). Last row is 0 0 0 1.
struct Transform {
    std::array<double, 16> m{1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1};

    static Transform translation(Vec3 t);
    static Transform scaling(double factor);
    /// Rotation about an axis through the origin, right-handed, angle in radians. `axis` need not be a unit vector.
    static Transform rotation(Vec3 axis, double radians);
    /// The map that sends the unit vectors x, y, z to the given columns (no translation).
    static Transform fromColumns(Vec3 x, Vec3 y, Vec3 z);
    /// The shortest turn that takes direction `from` to direction `to` (half a turn about any normal if opposite).
    static Transform turning(Vec3 from, Vec3 to);

    Vec3 point(Vec3 p) const
    {
        return {m[0] * p.x + m[1] * p.y + m[2] * p.z + m[3], m[4] * p.x + m[5] * p.y + m[6] * p.z + m[7],
                m[8] * p.x + m[9] * p.y + m[10] * p.z + m[11]};
    }
    Vec3 direction(Vec3 d) const
    {
        return {m[0] * d.x + m[1] * d.y + m[2] * d.z, m[4] * d.x + m[5] * d.y + m[6] * d.z,
                m[8] * d.x + m[9] * d.y + m[10] * d.z};
    }
    /// Determinant of the linear part: negative when the map mirrors.
    double determinant() const;
    /// The inverse of a rigid motion (rotation and translation only).
    Transform rigidInverse() const;

    /// First b, then a.
    friend Transform operator*(const Transform& a, const Transform& b);
};

} // namespace quoin::mesh
