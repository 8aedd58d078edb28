// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/plane.h"

#include <array>
#include <cmath>
#include <limits>

namespace quoin::mesh {

/// Exact sums of a few doubles as expansions (Shewchuk, Discrete & Computational Geometry 18, 1997): a list of
/// components that don't overlap, smallest first, whose sum is exact. Needs round-to-nearest and no overflow.
class ExactSum {
public:
    void addProduct(double a, double b)
    {
        const double high = a * b;
        add(std::fma(a, b, -high));
        add(high);
    }
    void add(double x)
    {
        int kept = 0;
        for (int i = 0; i < m_size; ++i) {
            // Two-sum (Knuth): x + part = sum + rest exactly.
            const double part = m_part[static_cast<std::size_t>(i)];
            const double sum = x + part;
            const double virtualPart = sum - x;
            const double rest = (x - (sum - virtualPart)) + (part - virtualPart);
            if (rest != 0)
                m_part[static_cast<std::size_t>(kept++)] = rest;
            x = sum;
        }
        if (x != 0)
            m_part[static_cast<std::size_t>(kept++)] = x;
        m_size = kept;
    }
    /// Right in sign, and to within rounding in size.
    double estimate() const
    {
        double sum = 0;
        for (int i = 0; i < m_size; ++i)
            sum += m_part[static_cast<std::size_t>(i)];
        return sum;
    }
    int sign() const { return m_size == 0 ? 0 : m_part[static_cast<std::size_t>(m_size - 1)] > 0 ? 1 : -1; }

private:
    std::array<double, 8> m_part{};
    int m_size = 0;
};

/// Which side of a plane a point is on, exactly: a filtered sign of normal . p - offset.
class PlaneSide {
public:
    /// @param box  bounds of all points that will be asked about
    PlaneSide(const Plane& plane, const Box3& box) : m_plane(plane)
    {
        const auto largest = [](double a, double b) { return std::fmax(std::abs(a), std::abs(b)); };
        // Three products and three additions: less than 4 roundings on any term; twice that for safety.
        m_doubt = 8 * (std::numeric_limits<double>::epsilon() / 2) *
                  (std::abs(plane.normal.x) * largest(box.min.x, box.max.x) +
                   std::abs(plane.normal.y) * largest(box.min.y, box.max.y) +
                   std::abs(plane.normal.z) * largest(box.min.z, box.max.z) + std::abs(plane.offset));
    }

    /// A rounded height above the plane; its sign is right when larger than doubt().
    double roughHeight(Vec3 p) const { return m_plane.distance(p); }
    double doubt() const { return m_doubt; }
    int sign(Vec3 p) const
    {
        const double h = roughHeight(p);
        return h > m_doubt ? 1 : h < -m_doubt ? -1 : exact(p).sign();
    }
    /// Height above the plane with the right sign always.
    double height(Vec3 p) const
    {
        const double h = roughHeight(p);
        return std::abs(h) > m_doubt ? h : exact(p).estimate();
    }

private:
    ExactSum exact(Vec3 p) const
    {
        ExactSum sum;
        sum.addProduct(m_plane.normal.x, p.x);
        sum.addProduct(m_plane.normal.y, p.y);
        sum.addProduct(m_plane.normal.z, p.z);
        sum.add(-m_plane.offset);
        return sum;
    }

    Plane m_plane;
    double m_doubt;
};

} // namespace quoin::mesh
