// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"

#include <bit>
#include <cstdint>
#include <vector>

namespace quoin::mesh {

/// Finds points by their exact coordinates (-0 equals 0): open addressing over an array of indices, no nodes.
class PointIndex {
public:
    explicit PointIndex(std::size_t expected) { resize(std::bit_ceil(2 * expected + 16)); }

    /// The index in `points` of a point with these coordinates; appended to `points` if there was none.
    Index insert(Vec3 p, Buffer<Vec3>& points)
    {
        if (2 * (points.size() + 1) > m_slots.size())
            grow(points);
        std::size_t slot = hash(p) & m_mask;
        while (m_slots[slot] != 0) {
            if (points[m_slots[slot] - 1] == p)
                return m_slots[slot] - 1;
            slot = (slot + 1) & m_mask;
        }
        points.push_back(p);
        m_slots[slot] = static_cast<Index>(points.size());
        return static_cast<Index>(points.size() - 1);
    }

private:
    static std::size_t hash(Vec3 p)
    {
        // Adding 0.0 turns -0 into 0.
        const auto bits = [](double d) { return std::bit_cast<std::uint64_t>(d + 0.0); };
        std::uint64_t h = bits(p.x) * 0x9E3779B97F4A7C15ull;
        h = (h ^ (h >> 32) ^ bits(p.y)) * 0xC2B2AE3D27D4EB4Full;
        h = (h ^ (h >> 29) ^ bits(p.z)) * 0x165667B19E3779F9ull;
        return static_cast<std::size_t>(h ^ (h >> 32));
    }
    void resize(std::size_t slots)
    {
        m_slots.assign(slots, 0);
        m_mask = slots - 1;
    }
    void grow(const Buffer<Vec3>& points)
    {
        resize(2 * m_slots.size());
        for (std::size_t i = 0; i < points.size(); ++i) {
            std::size_t slot = hash(points[i]) & m_mask;
            while (m_slots[slot] != 0)
                slot = (slot + 1) & m_mask;
            m_slots[slot] = static_cast<Index>(i + 1);
        }
    }

    std::vector<Index> m_slots; ///< index + 1; 0 is free
    std::size_t m_mask = 0;
};

} // namespace quoin::mesh
