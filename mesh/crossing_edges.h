// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"

#include <bit>
#include <utility>
#include <vector>

namespace quoin::mesh {

/// A number for each edge seen, by its two ends: open addressing, made for the crossed edges of a cut.
class CrossingEdges {
public:
    void reserve(std::size_t edges) { rehash(std::bit_ceil(2 * edges + 16)); }

    /// The number of edge (a, b), and whether it is new: then it is given `number`.
    std::pair<Index, bool> insert(Index a, Index b, Index number)
    {
        if (2 * (m_size + 1) > m_slots.size())
            rehash(2 * m_slots.size() + 16);
        for (std::size_t i = hash(a, b);; ++i) {
            Slot& slot = m_slots[i & m_mask];
            if (slot.number == free) {
                slot = {a, b, number};
                ++m_size;
                return {number, true};
            }
            if (slot.a == a && slot.b == b)
                return {slot.number, false};
        }
    }

private:
    static constexpr Index free = ~Index{0};
    struct Slot {
        Index a = 0, b = 0, number = free;
    };
    static std::size_t hash(Index a, Index b)
    {
        const std::uint64_t h = ((static_cast<std::uint64_t>(a) << 32) | b) * 0x9E3779B97F4A7C15ull;
        return static_cast<std::size_t>(h ^ (h >> 31));
    }
    void rehash(std::size_t slots)
    {
        std::vector<Slot> old = std::exchange(m_slots, std::vector<Slot>(std::bit_ceil(slots)));
        m_mask = m_slots.size() - 1;
        m_size = 0;
        for (const Slot& s : old)
            if (s.number != free)
                insert(s.a, s.b, s.number);
    }

    std::vector<Slot> m_slots;
    std::size_t m_mask = 0;
    std::size_t m_size = 0;
};

} // namespace quoin::mesh
