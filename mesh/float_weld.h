// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"

#include <bit>
#include <cstdint>
#include <cstdlib>
#include <memory>
#include <new>

namespace quoin::mesh {

/// Gives each distinct triple of 32-bit floats an index, in order of first use. Open addressing with the key in the
/// slot, so that a look-up costs one cache miss, and that one can be fetched ahead: hash() and prefetch() a batch,
/// then insert() it. Keys are float bits in which -0 was already made 0.
class FloatWeld {
public:
    struct Key {
        std::uint32_t x, y, z;
        friend bool operator==(const Key&, const Key&) = default;
    };

    /// @param expected  number of distinct points; grows by itself if there are more
    explicit FloatWeld(std::size_t expected) { allocate(std::bit_ceil(expected + expected / 2 + 16)); }

    static std::uint64_t hash(Key k)
    {
        // Two odd multipliers (fractional bits of the golden ratio and of sqrt 3) and a fold of the high half.
        std::uint64_t h = (k.x | std::uint64_t{k.y} << 32) * 0x9E3779B97F4A7C15ull;
        h = (h ^ (h >> 32) ^ k.z) * 0xBB67AE8584CAA73Bull;
        return h ^ (h >> 32);
    }
    void prefetch(std::uint64_t hash) const { __builtin_prefetch(&m_slots[hash & m_mask]); }

    Index insert(Key key, std::uint64_t hash, Buffer<Vec3>& points, double scale)
    {
        std::size_t at = hash & m_mask;
        while (m_slots[at].number != 0) {
            if (m_slots[at].key == key)
                return m_slots[at].number - 1;
            at = (at + 1) & m_mask;
        }
        const auto place = [scale](std::uint32_t bits) { return scale * double{std::bit_cast<float>(bits)}; };
        points.push_back({place(key.x), place(key.y), place(key.z)});
        const auto number = static_cast<Index>(points.size());
        m_slots[at] = {key, number};
        if (number > m_limit)
            grow();
        return number - 1;
    }

private:
    struct Slot {
        Key key;
        Index number; ///< index + 1; 0 is free
    };
    struct Free {
        void operator()(Slot* slots) const { std::free(slots); }
    };
    void allocate(std::size_t slots)
    {
        // calloc: the system hands out zero pages, only the touched ones cost.
        m_slots.reset(static_cast<Slot*>(std::calloc(slots, sizeof(Slot))));
        if (!m_slots)
            throw std::bad_alloc();
        m_mask = slots - 1;
        m_limit = slots / 4 * 3;
    }
    void grow()
    {
        const std::unique_ptr<Slot[], Free> old = std::move(m_slots);
        const std::size_t oldSlots = m_mask + 1;
        allocate(2 * oldSlots);
        for (std::size_t i = 0; i < oldSlots; ++i) {
            if (old[i].number == 0)
                continue;
            std::size_t at = hash(old[i].key) & m_mask;
            while (m_slots[at].number != 0)
                at = (at + 1) & m_mask;
            m_slots[at] = old[i];
        }
    }

    std::unique_ptr<Slot[], Free> m_slots;
    std::size_t m_mask = 0;
    std::size_t m_limit = 0;
};

} // namespace quoin::mesh
